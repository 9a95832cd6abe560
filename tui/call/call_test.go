package call

import (
	"example.org/skywedge/plan/advice"
	"slices"
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

// Where a landing parts the flight, the band names both filters, and the pane says for which legs, with what between.
func TestALandingBetween(t *testing.T) {
	t.Parallel()
	s := solved(t, 1)
	second := s.Report.Call
	second.Filter, second.HasRing, second.Aperture = "ND16", false, 4
	s.Report.Shot.Camera.Aperture = [2]float64{2.8, 11}
	s.Report.Call.Aperture = 5.6
	s.Report.Flights = []plan.Flight{{Legs: []int{0}, Set: s.Report.Call}, {Legs: []int{1, 2}, Set: second, Change: "ND16 for CPL"}, {}}
	s.Report.Flights[0].HasRing, s.Report.Flights[0].RingDeg = true, 45
	s.Report.Flights = s.Report.Flights[:2]
	if text := band(s, 200); !strings.Contains(text, "filter CPL, then ND16 ") {
		t.Errorf("%q", text)
	}
	text := strings.Join(drawn(70, 60, false, func(w panel.Window) { Draw(w, s, 0) }), "\n")
	for _, want := range []string{"f/5.6", "Flights", "leg 1: CPL, mark at 1:30 or 7:30; f/5.6", "land, ND16 for CPL; legs 2 to 3: ND16; f/4"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
}

// The countdown stands in the band where mark and light are as long with it as without, short before it goes; in no band
// that has no answer.
func TestTheCountdownInTheBand(t *testing.T) {
	t.Parallel()
	s := solved(t, 1)
	without := band(s, 200)
	s.Count = advice.Countdown{Long: "take off in 14 min, at the latest in 41", Short: "off in 14 min, latest in 41"}
	if text := band(s, 200); !strings.Contains(text, s.Count.Long) || !Counts(s, 200) {
		t.Errorf("200 columns: %q", text)
	}
	short := 0
	for cols := 60; cols <= 200; cols++ {
		text := band(s, cols)
		long := strings.Contains(text, s.Count.Long)
		if !long && strings.Contains(text, s.Count.Short) {
			short++
		}
		if got := long || strings.Contains(text, s.Count.Short); got != Counts(s, cols) {
			t.Errorf("%d columns: %q, counts %v", cols, text, !got)
		} else if got && !strings.Contains(text, "mark 1:30 or 7:30") {
			t.Errorf("%d columns: the mark is cut for it: %q", cols, text)
		}
	}
	if short == 0 || Counts(s, 60) {
		t.Errorf("short in %d widths, in 60 columns %v", short, Counts(s, 60))
	}
	s.Count = advice.Countdown{}
	if text := band(s, 200); text != without || Counts(s, 200) {
		t.Errorf("nothing to count to: %q", text)
	}
	if Counts(&State{Count: advice.Countdown{Long: "x", Short: "x"}}, 200) {
		t.Error("there is no answer")
	}
}

// An answer that is not of the card as it stands is told as that, and how sure it is waits for its own.
func TestAnAnswerOfBefore(t *testing.T) {
	t.Parallel()
	s := solved(t, 1)
	s.Stale = true
	if text := band(s, 120); !strings.HasSuffix(strings.TrimRight(text, " "), "last good answer") {
		t.Errorf("%q", text)
	}
	if text := strings.TrimSpace(strings.Join(drawn(58, ShortRows, false, func(w panel.Window) { DrawShort(w, s) }), "")); text != "" {
		t.Errorf("in short: %q", text)
	}
	s.Stale, s.Sure = false, Sureness{}
	if text := band(s, 120); !strings.Contains(text, "sure …") {
		t.Errorf("%q", text)
	}
	s.Report.Sure = &plan.Sureness{Words: []string{"less haze: CPL all the same"}}
	pane := func() string {
		return strings.Join(drawn(60, 80, false, func(w panel.Window) { Draw(w, s, 0) }), "\n")
	}
	if text := pane(); strings.Contains(text, "less haze") || strings.Contains(text, "How sure") {
		t.Errorf("of the card before:\n%s", text)
	}
	s.Sure = Sureness{Known: true, Word: "depends", Why: "on the haze"}
	if text := pane(); !strings.Contains(text, "With any one thing a little off") || !strings.Contains(text, "less haze") || !strings.Contains(text, "How sure: depends") {
		t.Errorf("known:\n%s", text)
	}
}

// A computation that broke down says so in the band where there is no answer, in the pane before the last one; a card with
// several faults counts them; nothing at all says nothing.
func TestNoAnswer(t *testing.T) {
	t.Parallel()
	if text := strings.TrimSpace(band(&State{}, 80)); text != "" {
		t.Errorf("%q", text)
	}
	failed := &State{Failed: "the calculation broke down: index out of range"}
	if text := band(failed, 80); !strings.Contains(text, failed.Failed) {
		t.Errorf("%q", text)
	}
	s := solved(t, 1)
	s.Failed = failed.Failed
	text := strings.Join(drawn(60, 18, false, func(w panel.Window) { Draw(w, s, 0) }), "\n")
	if !strings.Contains(text, "! the calculation broke down") || !strings.Contains(text, "facing the lens") || strings.Contains(text, "███") {
		t.Errorf("%s", text)
	}
	two := &State{Faults: field.Faults{{Field: "camera", Found: "x", Allowed: "y"}, {Field: "legs", Found: "x", Allowed: "y"}},
		Ask: func(f field.Fault) string { return "which " + f.Field + "?" }}
	if text := band(two, 80); !strings.Contains(text, "no answer, 2 faults: which camera?") {
		t.Errorf("%q", text)
	}
}

// What the hand does is said in spare rows of every sort of filter: nothing to turn, anywhere, the front sheet's setting.
func TestTheCallInShortOfOtherFilters(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		change func(c *plan.Call)
		want   string
	}{
		{func(c *plan.Call) { c.Filter, c.HasRing = "ND16", false }, "ND16, nothing to turn"},
		{func(c *plan.Call) { c.HasRing, c.AsDensity = false, true }, "CPL, its ring anywhere"},
		{func(c *plan.Call) { c.Filter, c.SettingStops = "variable light", 3 }, "variable light at 3 stops, mark 1:30"},
		{func(c *plan.Call) { c.Filter, c.SettingStops = "variable light", 3 }, "then front ○ 2 ● 3 ○ 4"},
		{func(c *plan.Call) {
			c.ReasonsSigned = []plan.Reason{{Sign: -1, Text: "it takes two stops of light", Stops: 2}}
		}, "− it takes two stops of light"},
		{func(c *plan.Call) {
			c.ReasonsSigned = []plan.Reason{{Sign: 1, Text: strings.Repeat("one of the longest reasons ", 12), Stops: 2}}
		}, "…"},
	} {
		s := solved(t, 1)
		c.change(&s.Report.Call)
		lines := drawn(58, ShortRows, false, func(w panel.Window) { DrawShort(w, s) })
		if text := strings.Join(lines, "\n"); !strings.Contains(text, c.want) {
			t.Errorf("%q is missing:\n%s", c.want, text)
		}
		pane := strings.Join(drawn(42, 30, false, func(w panel.Window) { Draw(w, s, 0) }), "\n")
		if strings.Contains(lines[0], " o…") {
			t.Errorf("a mark is cut: %q", lines[0])
		}
		if s.Report.Call.AsDensity && !strings.Contains(pane, "used as a plain density") {
			t.Errorf("%s", pane)
		}
	}
}

// What speaks for the call stands before what it costs.
func TestWhyHasGainsAndCosts(t *testing.T) {
	r := new(plan.Report)
	r.Call.ReasonsSigned = []plan.Reason{{Sign: -1, Text: "bands the sky"}, {Sign: 1, Text: "holds the shutter"}, {Text: "as the card asks"}}
	pros, costs := why(r)
	if !slices.Equal(pros, []string{"holds the shutter", "as the card asks"}) || !slices.Equal(costs, []string{"bands the sky"}) {
		t.Errorf("for it %q, against it %q", pros, costs)
	}
}
