package fields

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

func right(string) bool { return false }

func card(t *testing.T) *shot.Card {
	t.Helper()
	c, faults := shot.ReadCard("card.yaml", examples.Card("1-breakwater"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if !c.Doc.At("legs[0].target").Exists() {
		return c
	}
	return with(t, c, "legs[0].target", "")
}

func with(t *testing.T, c *shot.Card, path, text string) *shot.Card {
	t.Helper()
	next, faults := c.Set(path, text)
	if len(faults) > 0 {
		t.Fatal(path, faults)
	}
	return next
}

var moves = []string{"push", "pull", "slide", "follow", "orbit", "rise", "pan", "tilt", "hold"}

// No form has a name twice, for any move, and all are short enough for their column; what the exposure is made for, the
// white balance, the kind of haze and the light wanted are among them.
func TestNamesOfTheForms(t *testing.T) {
	const column = 15 // what a form leaves for names at its narrowest
	c := card(t)
	seen := map[string]bool{}
	look := func(what string, rows []panel.Row) {
		t.Helper()
		at := map[string]string{}
		for _, r := range rows {
			if other, twice := at[r.Label]; twice {
				t.Errorf("%s: %s and %s are both called %q", what, other, r.Path, r.Label)
			}
			at[r.Label] = r.Path
			if cells.Width(r.Label) > column {
				t.Errorf("%s: %q is longer than %d cells", r.Path, r.Label, column)
			}
			seen[r.Path] = true
		}
	}
	for _, more := range []bool{false, true} {
		look("card", OfCard(c, 0, more, right))
		for _, move := range moves {
			m := with(t, c, "legs[0].move", move)
			look(move, OfLeg(m, 0, more, right))
			if move == "hold" || move == "rise" {
				look(move+" that drifts", OfLeg(with(t, m, "legs[0].course_deg", "90"), 0, more, right))
			}
		}
	}
	for _, path := range []string{"expose", "white_balance", "light.air", "want.sun_height_deg", "want.sun_side", "legs[0].expose",
		"legs[0].white_balance", "legs[0].target.distance_m", "legs[0].turns", "legs[0].course_deg"} {
		if !seen[path] {
			t.Errorf("%s is on no form", path)
		}
	}
}

// A folded form of a leg has what its move needs, and nothing that would be refused stands in an unfolded one.
func TestAFormFollowsTheMove(t *testing.T) {
	has := map[string]string{
		"orbit": "turn, subject away, subject speed", "follow": "subject away, subject speed, subject goes", "slide": "slides to",
		"push": "speed", "rise": "height, speed", "pan": "heading", "tilt": "pitch",
	}
	not := map[string]string{"push": "slides to, subject away", "orbit": "slides to, course", "hold": "speed, turn, subject away", "pan": "speed, slides to"}
	for _, move := range moves {
		c := with(t, card(t), "legs[0].move", move)
		names := func(more bool) (all []string) {
			for _, r := range OfLeg(c, 0, more, right) {
				all = append(all, r.Label)
			}
			return all
		}
		for name := range strings.SplitSeq(has[move], ", ") {
			if name != "" && !slices.Contains(names(false), name) {
				t.Errorf("%s has no %q: %v", move, name, names(false))
			}
		}
		for name := range strings.SplitSeq(not[move], ", ") {
			if name != "" && slices.Contains(names(false), name) {
				t.Errorf("%s has %q", move, name)
			}
		}
		for _, r := range OfLeg(c, 0, true, right) {
			if r.Fixed || r.Spec.Words == nil || c.Doc.At(r.Path).Exists() {
				continue
			}
			if next, faults := c.Set(r.Path, r.Spec.Words[0]); next == nil {
				t.Errorf("%s: %s is offered and refused: %v", move, r.Path, faults)
			}
		}
	}
	if rows := OfLeg(with(t, card(t), "legs[0].move", "orbit"), 0, false, right); !slices.ContainsFunc(rows, func(r panel.Row) bool { return r.Fixed && r.Label == "speed" }) {
		t.Error("the speed of an orbit is not one that follows")
	}
	wrong := func(path string) bool { return path == "light.wind_ms" }
	if rows := OfCard(card(t), 0, false, wrong); !slices.ContainsFunc(rows, func(r panel.Row) bool { return r.Path == "light.wind_ms" }) {
		t.Error("a folded field that something is wrong with is not shown")
	}
}

// Why nothing can be typed into a field is said for the move that the leg has.
func TestFixed(t *testing.T) {
	for move, want := range map[string]string{"orbit": "an orbit's speed follows from", "follow": "the speed and the course of its subject",
		"rise": "from its heights and seconds", "pan": "a pan goes nowhere, unless it gets a course (m shows it)", "hold": "a hold goes nowhere"} {
		c, _ := shot.ReadCard("card.yaml", []byte("legs: [{move: "+move+"}]\n"))
		if got := Fixed(c, 0, "speed_ms"); !strings.Contains(got, want) {
			t.Errorf("%s: %q", move, got)
		}
	}
	c, _ := shot.ReadCard("card.yaml", []byte("legs: [{move: hold}]\n"))
	if got := Fixed(c, 0, "course_deg"); got != "other fields say this one" {
		t.Errorf("%q", got)
	}
}

// A field that is folded away is shown when something is wrong with it: else nobody finds what to mend.
func TestAWrongFieldUnfolds(t *testing.T) {
	c := card(t)
	shows := func(rows []panel.Row, path string) bool {
		return slices.ContainsFunc(rows, func(r panel.Row) bool { return r.Path == path })
	}
	folded := 0
	for _, form := range []func(bool, func(string) bool) []panel.Row{
		func(more bool, wrong func(string) bool) []panel.Row { return OfLeg(c, 0, more, wrong) },
		func(more bool, wrong func(string) bool) []panel.Row { return OfCard(c, 0, more, wrong) },
	} {
		few := form(false, right)
		for _, r := range form(true, right) {
			if r.Heading || shows(few, r.Path) {
				continue
			}
			folded++
			if !shows(form(false, func(path string) bool { return path == r.Path }), r.Path) {
				t.Errorf("%s is wrong and stays folded away", r.Path)
			}
		}
	}
	if folded < 10 {
		t.Errorf("only %d fields are folded away", folded)
	}
}
