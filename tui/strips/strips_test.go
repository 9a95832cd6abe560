package strips

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// A scale holds what it is for, is never more than about twice as large, and is said with its unit.
func TestScale(t *testing.T) {
	sky, head, cut := &all[0], &all[2], &all[3]
	for _, c := range []struct {
		st     *strip
		lo, hi float64
		want   string
	}{
		{sky, 0, 0, "0 to −½ stop"},
		{sky, -.4, 0, "0 to −½ stop"},
		{sky, -1.2, -.1, "0 to −2 stops"},
		{sky, -.9, .3, "+½ to −1 stop"},
		{head, 1.8, 5.1, "0 to 6 stops"},
		{head, -.6, 1, "−1 to 1 stop"},
		{head, .1, .54, "0 to ½ stop"}, // written as 0.5
		{head, -2.4, -1.2, "−3 to ½ stop"},
		{cut, 0, 4, "0 to 5 %"},
		{cut, 20, 51, "0 to 100 %"},
		{&all[6], 3, 30, "0 to 50 arcmin a frame"},
	} {
		foot, top := c.st.scale(c.lo, c.hi)
		if got := c.st.scaleWords(foot, top, true); got != c.want {
			t.Errorf("%s, %g to %g: %q, want %q", c.st.name, c.lo, c.hi, got, c.want)
		}
	}
	for v := .0; v < 20; v += .07 {
		_, top := head.scale(0, v)
		if v > top+.05 || top > .5 && top > 2.01*math.Max(v, .25)+.1 {
			t.Errorf("%g on a scale to %g", v, top)
		}
	}
	if _, top := all[6].scale(0, 1e6); top != 2000 {
		t.Errorf("more than there is: %g", top)
	}
}

// pane is a view with the strips alone.
type pane struct {
	more       bool
	cols, rows int
}

func (p *pane) Name() string                   { return "" }
func (p *pane) Keys() []panel.Key              { return nil }
func (p *pane) Hide()                          {}
func (p *pane) Kick(panel.Bench) tea.Cmd       { return nil }
func (p *pane) Take(panel.Bench, tea.Msg) bool { return false }
func (p *pane) Draw(w panel.Window, k panel.Known) {
	Draw(w.Sub(0, 0, p.cols, p.rows), k, p.more, func(float64) {})
}

// What changes over the flight gets the room; every scale is said, tall or on one line.
func TestStripsUseTheirRoom(t *testing.T) {
	p := &pane{cols: 60, rows: 20}
	b := paneltest.Open(t, p, 120, 60, nil)
	text := b.Text()
	for _, want := range []string{"sky effect  0.0 stops · scale 0 to −½ stop", "headroom  1.8 to 5.1 stops · scale 0 to 6 stops", "glare cut  0 % · scale 0 to 5 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	name := map[string]int{}
	for y, line := range strings.Split(b.Text(), "\n") {
		for _, s := range all[:4] {
			if strings.HasPrefix(line, s.name) {
				name[s.name] = y
			}
		}
	}
	if quiet, lively := name["headroom"]-name["unevenness"], name["glare cut"]-name["headroom"]; quiet != 2 || lively != 1+mostBars {
		t.Errorf("a steady strip takes %d lines, a changing one %d", quiet, lively)
	}
	if got := Rows(b.R, false, 99); got != 1+3*2+1+mostBars {
		t.Errorf("%d lines wanted", got)
	}
	p.rows = 5
	text = b.Text()
	for _, want := range []string{"0 to −½ stop", "0 to 6 stops", "0 to 5 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("on one line no %q in\n%s", want, text)
		}
	}
	p.more, p.rows = true, 20
	if text = b.Text(); !strings.Contains(text, "motion") || strings.Contains(text, "headroom") {
		t.Errorf("the other strips:\n%s", text)
	}
}
