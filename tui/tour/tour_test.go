package tour

import (
	"fmt"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"github.com/charmbracelet/x/ansi"
)

func TestEveryStepFits(t *testing.T) {
	if len(Steps) != 7 {
		t.Fatalf("%d steps: the help says seven", len(Steps))
	}
	for cols := panel.MinCols; cols <= 240; cols++ {
		for i, step := range Steps {
			tour := Tour{On: true, At: i}
			lines := tour.set(cols - 2)
			text := strings.Join(lines, " ")
			if len(lines) > 2 || cols >= 120 && len(lines) > 1 {
				t.Errorf("%d columns, step %d: %d lines", cols, i+1, len(lines))
			}
			if !strings.Contains(text, step.Text) || !strings.Contains(text, "Space goes on") || i == 0 && !strings.Contains(text, "other keys leave") {
				t.Errorf("%d columns, step %d: %q", cols, i+1, text)
			}
			for _, l := range lines {
				if cells.Width(l) > cols-2 {
					t.Errorf("%d columns, step %d: %q is wider", cols, i+1, l)
				}
			}
		}
		for _, demo := range []bool{false, true} {
			if g := Greeting(cols-2, demo); cells.Width(g) > cols-2 || !strings.Contains(g, "T ") || !strings.Contains(g, "? ") {
				t.Errorf("%d columns: %q", cols, g)
			}
		}
	}
}

func TestTheTourEnds(t *testing.T) {
	tour := Tour{On: true}
	for range Steps {
		if !tour.On {
			t.Fatal("it ends before its last step")
		}
		tour.Next()
	}
	if tour.On {
		t.Error("it goes on after its last step")
	}
}

// A step stands in as many lines as it says that it takes, on a ground of its own from edge to edge.
func TestAStepIsDrawn(t *testing.T) {
	for _, cols := range []int{60, 80, 120, 200} {
		for i := range Steps {
			tour := Tour{On: true, At: i}
			rows := tour.Rows(cols)
			c, pen := new(cells.Canvas), &cells.Pen{Profile: cells.NoColour}
			c.Reset(cols, rows+1)
			w := panel.NewWindow(c, pen, nil)
			tour.Draw(w.Sub(0, 0, cols, rows))
			lines := strings.Split(ansi.Strip(strings.Join(pen.Lines(c, nil), "\n")), "\n")
			text := strings.Join(strings.Fields(strings.Join(lines[:rows], " ")), " ")
			if !strings.HasPrefix(text, fmt.Sprintf("%d of 7 · %s · Space goes on", i+1, Steps[i].Text)) {
				t.Errorf("%d columns, step %d: %q", cols, i+1, text)
			}
			if strings.TrimSpace(lines[rows]) != "" || strings.TrimSpace(lines[rows-1]) == "" {
				t.Errorf("%d columns, step %d takes other than %d lines: %q", cols, i+1, rows, lines)
			}
		}
	}
	if g := Greeting(10, true); !strings.Contains(g, "T a tour") {
		t.Errorf("where there is no room: %q", g)
	}
}
