//go:build unix

package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// All legs on one screen, at every size that the workbench has: what to set on each stands there.
func TestWalkShowsEveryLeg(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}} {
		m := testModel(t, size[0], size[1], nil)
		press(m, "5")
		text := screenText(m)
		for _, f := range walk.Of(m.calc.report) {
			for _, l := range f.Legs {
				head, _, _ := strings.Cut(l.Move, ",")
				if !strings.Contains(text, l.Start.Format("15:04")) || !strings.Contains(text, head) {
					t.Errorf("%v: leg %d is not on the screen:\n%s", size, l.Leg+1, text)
				}
			}
		}
		if m.walk.top != 0 {
			t.Error("nothing needs scrolling")
		}
		press(m, "down", "down") // and where all fits nothing scrolls
		screenText(m)
		if m.walk.top != 0 {
			t.Errorf("%v: scrolled by %d", size, m.walk.top)
		}
	}
}

// Big type is for a terminal that has half blocks; elsewhere the numbers are text.
func TestWalkNumbersAreAlwaysThere(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "5")
	if text := screenText(m); !strings.Contains(text, "▀▀▀") || !strings.Contains(text, "LOOK OUT") {
		t.Errorf("no big type:\n%s", text)
	}
	m.screen.pen.ASCII = true
	text := screenText(m)
	if strings.ContainsAny(text, "▀▄█") || !strings.Contains(text, "1/50") {
		t.Errorf("ASCII:\n%s", text)
	}
}

// Where the words do not fit, what to look out for is the last to go.
func TestWalkKeepsWhatToLookOutFor(t *testing.T) {
	m := testModel(t, 60, 20, nil)
	press(m, "5")
	text := screenText(m)
	flat := strings.Join(strings.Fields(text), " ") // as if it had not been wrapped
	for _, f := range walk.Of(m.calc.report) {
		for _, l := range f.Legs {
			for _, o := range l.LookOut {
				if !strings.Contains(flat, o) {
					t.Errorf("leg %d: %q is not on the screen:\n%s", l.Leg+1, o, text)
				}
			}
		}
	}
	if strings.Count(text, "LOOK OUT") != 2 || !strings.Contains(text, "If the meter disagrees") || strings.Contains(text, "side light") {
		t.Errorf("the short form:\n%s", text)
	}
}

func TestWalkFollowsTheCard(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "5")
	before := m.walk.of
	press(m, "1")
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+", "5")
	if m.walk.of == before || m.walk.of != m.calc.report {
		t.Error("the list is that of an earlier card")
	}
	drive(m, tea.WindowSizeMsg{Width: 60, Height: 20})
	for i, l := range strings.Split(screenText(m), "\n") {
		if cells.Width(l) != 60 {
			t.Errorf("line %d has %d cells", i, cells.Width(l))
		}
	}
}

func TestWalkScreen(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("5")
	s.Until("white balance")
	golden(t, "walk-120x36", s, func() []string { return crop(s.Lines(), 0, 3, 120, 22) })
}
