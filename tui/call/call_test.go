package call

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"github.com/charmbracelet/x/ansi"
)

// solved returns the answer to a card of the demo with some fields changed, as pairs of path and text.
func solved(t *testing.T, at int, changes ...string) *State {
	t.Helper()
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	name := examples.Cards()[at]
	card, faults := shot.ReadCard(name, examples.Card(name))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for i := 0; i+1 < len(changes); i += 2 {
		next, faults := card.Set(changes[i], changes[i+1])
		if next == nil {
			t.Fatal(faults)
		}
		card = next
	}
	s, faults := card.Shot(bag, time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	r := plan.Solve(s, bag, plan.Options{SkipSureness: true})
	return &State{Report: r, Sure: Sureness{Known: true, Word: "close", Why: "toss-up with variable light at 3 stops; and more"}}
}

func drawn(cols, rows int, ascii bool, draw func(w panel.Window)) []string {
	c, pen := new(cells.Canvas), &cells.Pen{Profile: cells.NoColour, ASCII: ascii}
	c.Reset(cols, rows)
	draw(panel.NewWindow(c, pen, nil))
	return strings.Split(ansi.Strip(strings.Join(pen.Lines(c, nil), "\n")), "\n")
}

func band(s *State, cols int) string {
	return drawn(cols, 1, false, func(w panel.Window) { Band(w, s) })[0]
}

// "9:30" alone reads as a time, and so does "20:33": the mark and the light keep their names in every window.
func TestMarkAndLightKeepTheirNames(t *testing.T) {
	t.Parallel()
	for at := range examples.Cards() {
		for _, change := range [][]string{nil, {"filter", "ND16/PL"}, {"filter", "variable light"}} {
			s := solved(t, at, change...)
			for _, word := range []string{"close", "holds", "depends"} {
				s.Sure.Word = word
				for cols := 60; cols <= 200; cols += 4 {
					line := band(s, cols)
					text := strings.TrimRight(line, " ")
					if s.Report.Call.HasRing && !strings.Contains(text, "mark ") || !strings.Contains(text, "light ") || strings.HasSuffix(text, "light") {
						t.Errorf("card %d %v, %d columns: %q", at+1, change, cols, text)
					}
					if cells.Width(text) >= cols {
						t.Errorf("card %d %v: no room at the end of %d columns: %q", at+1, change, cols, text)
					}
					if !strings.Contains(text, words.SureWord(word)) {
						t.Errorf("card %d %v, %d columns: how sure is not said: %q", at+1, change, cols, text)
					}
				}
			}
		}
	}
}

// The ring stands in the call where there is one to set, and only there, and goes up with the words.
func TestTheRingStandsInTheCall(t *testing.T) {
	t.Parallel()
	s := solved(t, 1)
	s.Report.Call.RingDeg = 105
	pane := func(top int) []string {
		return drawn(42, 18, false, func(w panel.Window) { Draw(w, s, top) })
	}
	lines := pane(0)
	for i, want := range []string{"▄▄▄▄▄", "", "███", "▀█▀  9:30 █▀█"} {
		if !strings.Contains(lines[i], want) {
			t.Errorf("line %d is %q, want %q:\n%s", i, lines[i], want, strings.Join(lines, "\n"))
		}
	}
	text := strings.Join(lines[:7], "\n")
	for _, want := range []string{"CPL", "mark 9:30", "or 3:30", "facing the lens"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not beside the ring:\n%s", want, text)
		}
	}
	if down := pane(2); !strings.Contains(down[1], "9:30 █▀█") {
		t.Errorf("two lines down:\n%s", strings.Join(down, "\n"))
	}
	if text := strings.Join(drawn(42, 18, true, func(w panel.Window) { Draw(w, s, 0) }), "\n"); !strings.Contains(text, "@@@") || !strings.Contains(text, "ooo") {
		t.Errorf("ASCII:\n%s", text)
	}
	bare := solved(t, 0, "filter", "none")
	if text := strings.Join(drawn(42, 18, false, func(w panel.Window) { Draw(w, bare, 0) }), "\n"); strings.ContainsAny(text, "█▀▄") || !strings.Contains(text, "nothing to turn") {
		t.Errorf("bare:\n%s", text)
	}
}

// A variable has two things to set: the mark of its rear sheet, and the setting of its front sheet.
func TestAVariableHasItsSettingBesideTheRing(t *testing.T) {
	t.Parallel()
	s := solved(t, 1, "filter", "variable light")
	if !s.Report.Call.HasRing {
		t.Fatal("there is no ring to set")
	}
	text := strings.Join(drawn(42, 18, false, func(w panel.Window) { Draw(w, s, 0) }), "\n")
	if !strings.Contains(text, "rear sheet") || !strings.Contains(text, "then front ○ 2  ● 3  ○ 4") {
		t.Errorf("%s", text)
	}
}

// In spare rows stand the ring, or that there is none, and the two reasons that weigh most.
func TestTheCallInShort(t *testing.T) {
	t.Parallel()
	s := solved(t, 1)
	short := func(rows int) string {
		return strings.Join(drawn(58, rows, false, func(w panel.Window) { DrawShort(w, s) }), "\n")
	}
	text := short(ShortRows)
	for _, want := range []string{"CPL, mark 1:30 or 7:30", "facing the lens", "+ a still wants no blur", "+ darkens the sky", "███", "█▄█"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
	if text := strings.TrimSpace(short(ShortRows - 1)); text != "" {
		t.Errorf("too few rows:\n%s", text)
	}
	s.Faults = field.Faults{{Field: "camera"}}
	if text := strings.TrimSpace(short(ShortRows)); text != "" {
		t.Errorf("of a card with a fault:\n%s", text)
	}
}

func TestFaultsInPlaceOfACall(t *testing.T) {
	t.Parallel()
	s := &State{Faults: field.Faults{{Field: "camera", Found: "x", Allowed: "a camera of the bag", Line: 7}}}
	pane := func() string {
		return strings.Join(drawn(50, 8, false, func(w panel.Window) { Draw(w, s, 3) }), "\n")
	}
	if text := pane(); !strings.Contains(text, "No answer") || strings.Contains(text, "line 7") || !strings.Contains(band(s, 80), "camera: found x") {
		t.Errorf("%s\n%s", text, band(s, 80))
	}
	s.Unread = true
	if text := pane(); !strings.Contains(text, "line 7, camera") || !strings.Contains(band(s, 80), "cannot be read as a card") {
		t.Errorf("%s\n%s", text, band(s, 80))
	}
}
