package walk

import (
	"strings"
	"testing"

	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
)

// All legs on one screen, at every size that the workbench has: what to set on each stands there.
func TestEveryLegIsOnTheScreen(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}} {
		v := New()
		b := paneltest.Open(t, v, size[0], size[1], nil)
		text := b.Text()
		for _, f := range walk.Of(b.R) {
			for _, l := range f.Legs {
				head, _, _ := strings.Cut(l.Move, ",")
				if !strings.Contains(text, l.Start.Format("15:04")) || !strings.Contains(text, head) {
					t.Errorf("%v: leg %d is not on the screen:\n%s", size, l.Leg+1, text)
				}
			}
		}
		if v.top != 0 {
			t.Error("nothing needs scrolling")
		}
		b.Press("down", "down") // and where all fits nothing scrolls
		b.Text()
		if v.top != 0 {
			t.Errorf("%v: scrolled by %d", size, v.top)
		}
	}
}

// Where not even one line a leg has room, the list scrolls and says so.
func TestAListThatIsTooLongScrolls(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 60, 6, nil)
	if text := b.Text(); !strings.Contains(text, "▼") || strings.Contains(text, "▲") {
		t.Errorf("at the top:\n%s", text)
	}
	b.Press("end")
	if text := b.Text(); strings.Contains(text, "▼") || !strings.Contains(text, "▲") || v.top == 0 {
		t.Errorf("at the bottom:\n%s", text)
	}
}

// Big type is for a terminal that has half blocks; elsewhere the numbers are text.
func TestNumbersAreAlwaysThere(t *testing.T) {
	b := paneltest.Open(t, New(), 120, 36, nil)
	if text := b.Text(); !strings.Contains(text, "▀▀▀") || !strings.Contains(text, "LOOK OUT") {
		t.Errorf("no big type:\n%s", text)
	}
	b.Pen().ASCII = true
	text := b.Text()
	if strings.ContainsAny(text, "▀▄█") || !strings.Contains(text, "1/50") {
		t.Errorf("ASCII:\n%s", text)
	}
}

// Where the words do not fit, what to look out for is the last to go.
func TestWhatToLookOutForIsTheLastToGo(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 20, nil)
	text := b.Text()
	flat := strings.Join(strings.Fields(text), " ") // as if it had not been wrapped
	for _, f := range walk.Of(b.R) {
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

func TestTheListFollowsTheCard(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 120, 36, nil)
	before := v.of
	b.Load(1)
	if v.of == before || v.of != b.R {
		t.Error("the list is that of an earlier card")
	}
	b.Resize(60, 20)
	for i, l := range strings.Split(b.Text(), "\n") {
		if cells.Width(l) != 58 {
			t.Errorf("line %d has %d cells", i, cells.Width(l))
		}
	}
}
