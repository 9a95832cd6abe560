package tui

import (
	"testing"

	"example.org/skywedge/tui/panel"
)

// In every window the panes lie in the body of the screen and apart from each other, and the one that the keys go to has
// room for its heading and some lines.
func TestPanesLieApart(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {70, 21}, {77, 40}, {78, 22}, {80, 24}, {99, 30}, {100, 20}, {100, 30}, {120, 36}, {200, 60}} {
		m := testModel(t, size[0], size[1], nil)
		for _, more := range []string{"", "m"} {
			for range paneCount {
				if more != "" && (m.focus == paneShot || m.focus == paneLegs) {
					press(m, more)
				}
				s := &m.screen
				s.arrange(m)
				var shown []panel.Rect
				for p, r := range s.panes {
					if r.Empty() {
						continue
					}
					if r.X < s.body.X || r.Y < s.body.Y || r.X+r.W > s.body.X+s.body.W || r.Y+r.H > s.body.Y+s.body.H {
						t.Errorf("%v, at %s: %s has %+v of %+v", size, paneTitle[m.focus], paneTitle[p], r, s.body)
					}
					shown = append(shown, r)
				}
				for i, a := range shown {
					for _, b := range shown[:i] {
						if a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H {
							t.Errorf("%v, at %s: %+v lies over %+v", size, paneTitle[m.focus], a, b)
						}
					}
				}
				if r := s.panes[m.focus]; r.H < 4 || r.W < 20 {
					t.Errorf("%v: %s has the keys and %d by %d cells", size, paneTitle[m.focus], r.W, r.H)
				}
				press(m, "tab")
			}
		}
	}
}
