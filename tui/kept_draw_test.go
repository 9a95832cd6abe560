package tui

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/cells"
)

// The list says what can be done at every size, and its lines fit.
func TestTheListOfKeptWorkFits(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}, {200, 60}} {
		m := testModel(t, size[0], size[1], nil)
		now := m.opt.Now()
		m.takeKept(keptListMsg{rows: keptRows([]store.Recovery{
			{File: "a", Path: "/a/" + strings.Repeat("very long ", 30) + "/pier.yaml", Saved: now, Changes: 1, Kind: "card", Name: strings.Repeat("a name ", 40)},
			{File: "b", Path: demoPath("bag.yaml"), Saved: now.Add(-time.Hour), Changes: 12, Kind: "bag", Name: "bag.yaml"},
			{File: "c", Path: "/old.yaml", Saved: now.AddDate(-1, 0, 0)},
		})}, false)
		text := screenText(m)
		for _, want := range []string{"Nothing is lost until you say so", "Enter restore", "d difference", "x discard", "Esc decide later",
			"1 change ", "12 changes", "today 12:00", "today 11:00", "18 Sep 2025", "bag.yaml", "old.yaml"} {
			if !strings.Contains(text, want) {
				t.Errorf("%v: %q is missing in\n%s", size, want, text)
			}
		}
		for _, l := range strings.Split(text, "\n") {
			if cells.Width(l) != size[0] {
				t.Errorf("%v: a line of %d columns: %q", size, cells.Width(l), l)
			}
		}
	}
}

func TestCutMiddle(t *testing.T) {
	for _, c := range []struct {
		text string
		cols int
		want string
	}{{"/a/b.yaml", 20, "/a/b.yaml"}, {"/home/somebody/cards/pier.yaml", 15, "/hom…pier.yaml"}, {"/home", 3, "/h…"}} {
		if got := cells.CutMiddle(c.text, c.cols); cells.Width(got) > c.cols || c.cols != 15 && got != c.want ||
			c.cols == 15 && !(strings.HasPrefix(got, "/hom") && strings.HasSuffix(got, "pier.yaml")) {
			t.Errorf("%q in %d columns: %q", c.text, c.cols, got)
		}
	}
}
