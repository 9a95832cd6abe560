package shot

import (
	"strings"
	"testing"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

func cardOf(t testing.TB, text string) *Card {
	t.Helper()
	c, faults := ReadCard("test.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatalf("the card is refused:\n%v", faults)
	}
	return c
}

// fullLegs are legs of every move with all that each can carry; each makes a shot.
var fullLegs = []string{
	"move: push, heading_deg: 285, seconds: 25, speed_ms: 4, height_m: 35, target: {distance_m: 180}",
	"move: push, heading_deg: [285, 300], turn: cw, seconds: 25, speed_ms: 4, course_deg: 290, height_m: [35, 50], pitch_deg: [-5, -20], ground_m: [0, 10]",
	"move: pull, heading_deg: sun+90, seconds: 25, speed_ms: 4, height_m: [35, 50]",
	"move: slide, to: left, heading_deg: 285, seconds: 25, speed_ms: 4, pitch_deg: -10",
	"move: follow, heading_deg: [10, 30], seconds: 9, speed_ms: 6, course_deg: 45, target: {distance_m: 20, speed_ms: 6, toward_deg: NE}",
	"move: orbit, heading_deg: [285, 15], turn: cw, seconds: 40, speed_ms: 3.53, height_m: [35, 50], target: {distance_m: 90}",
	"move: orbit, heading_deg: 285, turn: ccw, turns: 1.5, seconds: 100, target: {distance_m: 20, speed_ms: 1}",
	"move: rise, heading_deg: 10, seconds: 10, height_m: [20, 50], speed_ms: 3",
	"move: rise, heading_deg: [10, 20], seconds: 10, height_m: [20, 50], speed_ms: 5, course_deg: 99",
	"move: pan, heading_deg: [290, 350], seconds: 40, height_m: 70, pitch_deg: [-4, -9], speed_ms: 5, course_deg: 99",
	"move: pan, heading_deg: NW, turns: 1, turn: ccw, seconds: 40",
	"move: tilt, heading_deg: 285, seconds: 12, height_m: [70, 80], pitch_deg: [-4, -30]",
	"move: hold, heading_deg: 15, seconds: 10, height_m: 40, pitch_deg: -5, purpose: still, stills_too: true",
	"move: hold, heading_deg: 15, seconds: 10, speed_ms: 2, course_deg: 200",
}

// Any move can be made of any other in one step, and can be flown then: what it needs is filled in.
func TestEveryMoveBecomesEveryOther(t *testing.T) {
	for _, leg := range fullLegs {
		text := strings.Replace(withLeg(leg), "}\n", "}   # kept\n", 1)
		c := cardOf(t, text)
		if _, faults := c.Shot(testBag(), testNow); len(faults) > 0 {
			t.Fatalf("%s: %v", leg, faults)
		}
		for _, word := range moveWords {
			to := Move(word)
			next, faults := c.Set("legs[0].move", word)
			if len(faults) > 0 {
				t.Errorf("%s to %s: %v", leg, to, faults)
				continue
			}
			again := cardOf(t, string(next.Bytes()))
			_, faults = again.Shot(testBag(), testNow)
			for _, f := range faults {
				t.Errorf("%s to %s: %v", leg, to, f)
			}
			if word == c.Doc.At("legs[0].move").Text() && next != c {
				t.Errorf("%s to itself changes something", leg)
			}
			if !strings.Contains(string(next.Bytes()), "# kept") {
				t.Errorf("%s to %s loses the comment", leg, to)
			}
			for _, key := range []string{"seconds", "target.distance_m", "purpose", "stills_too", "ground_m"} { // of any move
				path := LegPath(0, key)
				if got, was := next.Doc.At(path).YAML(), c.Doc.At(path).YAML(); was != "" && got != was {
					t.Errorf("%s to %s: %s is %s", leg, to, key, got)
				}
			}
		}
		if string(c.Bytes()) != text {
			t.Error("the first card was changed")
		}
	}
}

// What a move needs and the leg does not have is written; what it has stays.
func TestMoveBringsWhatItNeeds(t *testing.T) {
	const hold = "move: hold, heading_deg: 300, seconds: 20"
	for _, c := range []struct{ leg, move, want string }{
		{hold, "push", "{move: push, heading_deg: 300, seconds: 20, speed_ms: 4}"},
		{hold, "slide", "{move: slide, heading_deg: 300, seconds: 20, speed_ms: 4, to: right}"},
		{hold, "orbit", "{move: orbit, heading_deg: [300, 15], seconds: 20, target: {distance_m: 60}}"}, // 4 m/s for 20 s round 60 m: 76°
		{hold, "follow", "{move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 60, speed_ms: 4, toward_deg: 300}}"},
		{hold, "rise", "{move: rise, heading_deg: 300, seconds: 20, height_m: [40, 60]}"},
		{hold + ", height_m: 110", "rise", "{move: rise, heading_deg: 300, seconds: 20, height_m: [90, 110]}"},
		{hold + ", height_m: 110, ground_m: 95", "rise", "{move: rise, heading_deg: 300, seconds: 20, height_m: [110, 130], ground_m: 95}"},
		{hold, "pan", "{move: pan, heading_deg: [300, 345], seconds: 20}"},
		{hold, "tilt", "{move: tilt, heading_deg: 300, seconds: 20, pitch_deg: [0, -30]}"},
		{hold + ", pitch_deg: -80", "tilt", "{move: tilt, heading_deg: 300, seconds: 20, pitch_deg: [-50, -80]}"},
		{"move: hold, heading_deg: sun+90, seconds: 10", "pan", "{move: pan, heading_deg: [sun+90, sun+135], seconds: 10}"},
		{hold + ", target: {distance_m: 0}", "orbit", "{move: orbit, heading_deg: [300, 15], seconds: 20, target: {distance_m: 60}}"},
		{"move: push, heading_deg: [10, 100], speed_ms: 9, seconds: 10, target: {distance_m: 500}", "orbit",
			"{move: orbit, heading_deg: [10, 100], seconds: 53, target: {distance_m: 500}}"}, // in 10 s it would be 79 m/s
		{"move: slide, to: left, heading_deg: 300, seconds: 20, speed_ms: 7", "follow",
			"{move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 60, speed_ms: 4, toward_deg: 300}}"},
	} {
		next, faults := cardOf(t, withLeg(c.leg)).Set(LegPath(0, "move"), c.move)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		want := cardOf(t, withLeg(strings.TrimSuffix(c.want[1:], "}")))
		if !next.Doc.Equal(want.Doc) {
			t.Errorf("%s, %s\n  gives %s\n  want  %s", c.leg, c.move, next.Doc.At("legs[0]").YAML(), c.want)
		}
		if _, faults := next.Shot(testBag(), testNow); len(faults) > 0 {
			t.Errorf("%s, %s: %v", c.leg, c.move, faults)
		}
	}
}

// Who looks through all moves comes back to the leg that was there, but for the speed of the last that flies.
func TestLookingThroughTheMovesLeavesNothingBehind(t *testing.T) {
	for _, leg := range []string{"move: hold, heading_deg: 300, seconds: 20", "move: hold, heading_deg: sun-90, seconds: 40, height_m: 30, pitch_deg: -10",
		"move: hold, heading_deg: NW, seconds: 9, target: {distance_m: 180, height_m: 9}"} {
		for _, by := range []int{1, -1} {
			c := cardOf(t, withLeg(leg))
			was := c
			for range moveWords {
				next, faults := c.Nudge(LegPath(0, "move"), by, testBag())
				if len(faults) > 0 {
					t.Fatal(faults)
				}
				if _, faults := next.Shot(testBag(), testNow); len(faults) > 0 {
					t.Fatalf("%s: %v", next.Doc.At("legs[0]").YAML(), faults)
				}
				c = next
			}
			path := LegPath(0, "target.distance_m")
			if c.Doc.At(path).Text() != was.Doc.At(path).Text() {
				t.Errorf("%s is %s", leg, c.Doc.At("legs[0]").YAML())
			}
			for _, key := range []string{"heading_deg", "pitch_deg", "seconds", "speed_ms", "to"} {
				if got, was := c.Doc.At(LegPath(0, key)).Text(), was.Doc.At(LegPath(0, key)).Text(); got != was {
					t.Errorf("%s, %s: %q", leg, key, got)
				}
			}
			if b := was.laid().shot.Legs[0].Height; c.laid().shot.Legs[0].Height != b {
				t.Errorf("%s, height: %s", leg, c.Doc.At("legs[0]").YAML())
			}
		}
	}
}

// What goes with a change, and what stays.
func TestSetDropsWhatMeansNothingAnyMore(t *testing.T) {
	for _, c := range []struct{ leg, key, text, want string }{
		{fullLegs[0], "move", "hold", "{move: hold, heading_deg: 285, seconds: 25, height_m: 35, target: {distance_m: 180}}"},
		{fullLegs[0], "move", "pull", "{move: pull, heading_deg: 285, seconds: 25, speed_ms: 4, height_m: 35, target: {distance_m: 180}}"},
		{fullLegs[1], "move", "hold", "{move: hold, heading_deg: 285, seconds: 25, height_m: 35, pitch_deg: -5, ground_m: [0, 10]}"},
		{fullLegs[1], "move", "rise", "{move: rise, heading_deg: [285, 300], turn: cw, seconds: 25, height_m: [35, 50], pitch_deg: [-5, -20], ground_m: [0, 10]}"},
		{fullLegs[9], "move", "hold", "{move: hold, heading_deg: 290, seconds: 40, height_m: 70, pitch_deg: -4, speed_ms: 5, course_deg: 99}"},
		{fullLegs[3], "move", "push", "{move: push, heading_deg: 285, seconds: 25, speed_ms: 4, pitch_deg: -10}"},
		{fullLegs[13], "course_deg", "", "{move: hold, heading_deg: 15, seconds: 10}"},
		{fullLegs[1], "course_deg", "", "{move: push, heading_deg: [285, 300], turn: cw, seconds: 25, speed_ms: 4, height_m: [35, 50], pitch_deg: [-5, -20], ground_m: [0, 10]}"},
		{fullLegs[5], "heading_deg", "285", "{move: orbit, heading_deg: 285, seconds: 40, speed_ms: 3.53, height_m: [35, 50], target: {distance_m: 90}}"},
		{fullLegs[6], "turns", "", "{move: orbit, heading_deg: 285, seconds: 100, target: {distance_m: 20, speed_ms: 1}}"},
		{fullLegs[6], "turns", "2", "{move: orbit, heading_deg: 285, turn: ccw, turns: 2, seconds: 100, target: {distance_m: 20, speed_ms: 1}}"},
		{"move: hold, heading_deg: 9, seconds: 9, shutter_angle_deg: 180", "purpose", "still", "{move: hold, heading_deg: 9, seconds: 9, purpose: still}"},
		{"move: hold, heading_deg: 9, seconds: 9, shutter_s: 1/50", "purpose", "still", "{move: hold, heading_deg: 9, seconds: 9, shutter_s: 1/50, purpose: still}"},
		{"move: hold, heading_deg: 9, seconds: 9, purpose: long, exposure_s: 2", "purpose", "", "{move: hold, heading_deg: 9, seconds: 9}"},
	} {
		next, faults := cardOf(t, withLeg(c.leg)).Set(LegPath(0, c.key), c.text)
		if len(faults) > 0 {
			t.Errorf("%s, %s: %s: %v", c.leg, c.key, c.text, faults)
			continue
		}
		want := cardOf(t, withLeg(strings.Trim(c.want, "{}")+strings.Repeat("}", strings.Count(c.want, "{")-1)))
		if !next.Doc.Equal(want.Doc) {
			t.Errorf("%s, %s: %s\n  gives %s\n  want  %s", c.leg, c.key, c.text, next.Doc.At("legs[0]").YAML(), c.want)
		}
	}
}

// A shutter on the card goes with the purpose that it served, and only then.
func TestPurposeTakesTheShutterAlong(t *testing.T) {
	text := strings.Replace(withLeg("move: hold, heading_deg: 9, seconds: 9"), "legs:", "purpose: video   # moving\nshutter_angle_deg: 180   # the usual\nlegs:", 1) +
		"  - {move: hold, heading_deg: 9, seconds: 9, purpose: video}\n"
	c := cardOf(t, text)
	edited := func(c *Card, faults field.Faults) *Card {
		t.Helper()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return c
	}
	still := edited(c.Set("purpose", "still"))
	if !still.Doc.At("shutter_angle_deg").Exists() {
		t.Error("the second leg still needs the angle")
	}
	for what, next := range map[string]*Card{"set": edited(still.Set("legs[1].purpose", "still")), "removed": edited(still.RemoveLeg(1))} {
		if next.Doc.At("shutter_angle_deg").Exists() || !strings.Contains(string(next.Bytes()), "# the usual") {
			t.Errorf("%s: %s", what, next.Bytes())
		}
		if _, faults := next.Shot(testBag(), testNow); len(faults) > 0 {
			t.Errorf("%s: %v", what, faults)
		}
	}
	// A key that fitted nothing before is the author's to mend.
	odd := edited(c.Set("exposure_s", "2"))
	if odd = edited(odd.RemoveLeg(1)); !odd.Doc.At("exposure_s").Exists() {
		t.Error("an edit somewhere else took away what was typed")
	}
}

func TestSetRefuses(t *testing.T) {
	c := cardOf(t, withLeg(fullLegs[0]))
	for _, f := range []struct{ path, text string }{
		{"skywedge", "2"}, {"moon", "1"}, {"legs[0].move", "fly"}, {"legs[0].seconds", ""}, {"legs[7].seconds", "9"}, {"place.lat", "91"},
	} {
		if next, faults := c.Set(f.path, f.text); next != nil || len(faults) == 0 {
			t.Errorf("%s: %s gives %v, %v", f.path, f.text, next, faults)
		}
	}
	if same, faults := c.Set("legs[0].seconds", "25"); same != c || faults != nil {
		t.Error("what says the same is the same card")
	}
}

// threeLegs has comments at each leg and a log that names them.
const threeLegs = head + `legs:
  # the flight
  - {move: push, heading_deg: 285, seconds: 25, speed_ms: 4}
  # round
  - {move: orbit, heading_deg: [285, 15], turn: cw, seconds: 40, target: {distance_m: 90}}   # slowly
  # still
  - {move: hold, heading_deg: NW, seconds: 10}
flown:
  - {leg: 1, worked: yes}
  - {leg: 2, saw: too bright}
  - {leg: 3}
  - {saw: all of it}
`

func TestLegsAreInsertedCopiedMovedAndRemoved(t *testing.T) {
	c := cardOf(t, threeLegs)
	legs := func(c *Card) string {
		var out []string
		for i := range c.legCount() {
			out = append(out, c.Doc.At(LegPath(i, "move")).Text()+" "+c.Doc.At(LegPath(i, "heading_deg")).Text())
		}
		return strings.Join(out, ", ")
	}
	log := func(c *Card) string {
		var out []string
		for i := range c.Doc.At("flown").Len() {
			v := c.Doc.At("flown").Index(i)
			out = append(out, v.Get("leg").Text()+":"+v.Get("saw").Text())
		}
		return strings.Join(out, ", ")
	}
	for _, e := range []struct {
		name  string
		edit  func() (*Card, field.Faults)
		legs  string
		log   string
		below []string // comments in this order
	}{
		{"insert at the start", func() (*Card, field.Faults) { return c.InsertLeg(0) },
			"hold 285, push 285, orbit 285 15, hold NW", "2:, 3:too bright, 4:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
		{"insert after the orbit", func() (*Card, field.Faults) { return c.InsertLeg(2) },
			"push 285, orbit 285 15, hold 15, hold NW", "1:, 2:too bright, 4:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
		{"insert at the end", func() (*Card, field.Faults) { return c.InsertLeg(3) },
			"push 285, orbit 285 15, hold NW, hold 315", "1:, 2:too bright, 3:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
		{"copy", func() (*Card, field.Faults) { return c.DuplicateLeg(0) },
			"push 285, push 285, orbit 285 15, hold NW", "1:, 3:too bright, 4:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
		{"remove", func() (*Card, field.Faults) { return c.RemoveLeg(1) },
			"push 285, hold NW", "1:, :of a leg taken out since; too bright, 2:, :all of it", []string{"# the flight", "# still"}},
		{"remove, with nothing said of it", func() (*Card, field.Faults) { return c.RemoveLeg(2) },
			"push 285, orbit 285 15", "1:, 2:too bright, :of a leg taken out since, :all of it", []string{"# the flight", "# round", "# slowly"}},
		{"down", func() (*Card, field.Faults) { return c.MoveLeg(0, 2) },
			"orbit 285 15, hold NW, push 285", "3:, 1:too bright, 2:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
		{"up", func() (*Card, field.Faults) { return c.MoveLeg(2, 0) },
			"hold NW, push 285, orbit 285 15", "2:, 3:too bright, 1:, :all of it", []string{"# the flight", "# still", "# round", "# slowly"}},
		{"nowhere", func() (*Card, field.Faults) { return c.MoveLeg(1, 1) },
			"push 285, orbit 285 15, hold NW", "1:, 2:too bright, 3:, :all of it", []string{"# the flight", "# round", "# slowly", "# still"}},
	} {
		next, faults := e.edit()
		if len(faults) > 0 {
			t.Errorf("%s: %v", e.name, faults)
			continue
		}
		if got := legs(next); got != e.legs {
			t.Errorf("%s: %s, want %s", e.name, got, e.legs)
		}
		if got := log(next); got != e.log {
			t.Errorf("%s: the log is %s, want %s", e.name, got, e.log)
		}
		rest := string(next.Bytes())
		for _, comment := range e.below {
			_, after, found := strings.Cut(rest, comment)
			if rest = after; !found {
				t.Errorf("%s: %q is lost or elsewhere:\n%s", e.name, comment, next.Bytes())
				break
			}
		}
		if _, faults := cardOf(t, string(next.Bytes())).Shot(testBag(), testNow); len(faults) > 0 {
			t.Errorf("%s: %v", e.name, faults)
		}
	}
	if string(c.Bytes()) != threeLegs {
		t.Error("the first card was changed")
	}
}

func TestLegEditsRefuse(t *testing.T) {
	one, three := cardOf(t, withLeg(fullLegs[0])), cardOf(t, threeLegs)
	for name, edit := range map[string]func() (*Card, field.Faults){
		"remove the only leg": func() (*Card, field.Faults) { return one.RemoveLeg(0) },
		"remove none":         func() (*Card, field.Faults) { return three.RemoveLeg(3) },
		"remove before":       func() (*Card, field.Faults) { return three.RemoveLeg(-1) },
		"copy none":           func() (*Card, field.Faults) { return three.DuplicateLeg(3) },
		"insert far":          func() (*Card, field.Faults) { return three.InsertLeg(4) },
		"insert before":       func() (*Card, field.Faults) { return three.InsertLeg(-1) },
		"move far":            func() (*Card, field.Faults) { return three.MoveLeg(0, 3) },
		"split none":          func() (*Card, field.Faults) { return three.Split(3, 5) },
		"split at the start":  func() (*Card, field.Faults) { return three.Split(0, 0.9) },
		"split at the end":    func() (*Card, field.Faults) { return three.Split(0, 24.5) },
	} {
		if next, faults := edit(); next != nil || len(faults) == 0 {
			t.Errorf("%s: %v", name, faults)
		}
	}
	many := three
	for many.legCount() < maxLegs {
		next, faults := many.DuplicateLeg(2)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		many = next
	}
	if next, faults := many.InsertLeg(0); next != nil || len(faults) == 0 {
		t.Error("a leg more than a card may have")
	}
}

// A new leg looks where the one before ended, by number: also after turns, and after a heading by the sun.
func TestInsertedLegLooksOn(t *testing.T) {
	for leg, want := range map[string]string{
		fullLegs[6]: "105", // 285 − 540
		"move: pan, heading_deg: [350, 20], seconds: 9": "20",
		"move: hold, heading_deg: NW, seconds: 9":       "315",
	} {
		next, faults := cardOf(t, withLeg(leg)).InsertLeg(1)
		if len(faults) > 0 || next.Doc.At("legs[1].heading_deg").Text() != want {
			t.Errorf("%s: %v, %v", leg, next.Doc.At("legs[1]").YAML(), faults)
		}
	}
	c := cardOf(t, withLeg(fullLegs[2]))
	next, faults := c.InsertLeg(1)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	l := shotOf(t, string(next.Bytes())).Legs
	if off := angle.Wrap180(l[0].Heading.From + l[0].Heading.By - l[1].Heading.From); off > 0.5 || off < -0.5 {
		t.Errorf("%v° off", off)
	}
	// Where the take-off cannot be read, the sun stays.
	odd, _ := ReadCard("x.yaml", []byte(strings.Replace(withLeg(fullLegs[2]), "2026-09-18T19:40", "soon", 1)))
	if next, faults := odd.InsertLeg(1); len(faults) > 0 || next.Doc.At("legs[1].heading_deg").Text() != "sun+90" {
		t.Errorf("%v", faults)
	}
}
