package strips

import (
	"strings"
	"testing"

	"example.org/skywedge/plan/strip"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

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
		for _, s := range strip.All[:strip.Usual] {
			if strings.HasPrefix(line, s.Name) {
				name[s.Name] = y
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

// Over the strips a line stands where each leg begins, with its number behind it.
func TestTheRulerMarksWhereLegsBegin(t *testing.T) {
	p := &pane{cols: 60, rows: 20}
	b := paneltest.Open(t, p, 120, 60, nil)
	b.PlayTo(b.R.Path[len(b.R.Path)-1].FlightS) // the playhead's own sign away from them
	ruler := []rune(strings.SplitN(b.Text(), "\n", 2)[0])
	if len(b.R.Legs) < 2 {
		t.Fatal("one leg has no line of its own")
	}
	for i, l := range b.R.Legs {
		x := column(l.FromS, b.R.Path[len(b.R.Path)-1].FlightS, 60)
		if ruler[x] != '│' || ruler[x+1] != rune('1'+i) {
			t.Errorf("leg %d begins at column %d: %s", i+1, x, string(ruler))
		}
	}
}
