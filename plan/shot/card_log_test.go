package shot

import (
	"reflect"
	"strings"
	"testing"
	"time"
)

var fortyFive = 45.

func num(x float64) *float64 { return &x }

// fullLine says all that a line of the log can say.
func fullLine(zone *time.Location) Flown {
	return Flown{
		When: time.Date(2026, 9, 18, 19, 44, 10, 0, zone), Leg: 1, Take: 2, Filter: "ND16/PL", RingDeg: num(60), ShutterS: 1. / 50, ISO: 200,
		Aperture: 2.8, PlannedEV100: num(11.72), OffsetStops: 0.5, PlannedMeter: num(0.67), MeterStops: num(0), OffStops: num(-0.33), Auto: true,
		Worked: WorkedPartly, Confidence: "close", Sky: LessThan, Glare: AsPlanned, Picture: "0012: a, \"b\".jpg", Saw: "banded; - pale, at #3 the edge: \"so\"",
	}
}

func read(t *testing.T, c *Card) []Flown {
	t.Helper()
	s, faults := c.Shot(testBag(), time.Time{})
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, c.Bytes())
	}
	return s.Flown
}

func logged(t *testing.T, c *Card, f Flown) *Card {
	t.Helper()
	next, at, faults := c.AddFlown(f)
	if next == nil || at != c.Doc.At("flown").Len() {
		t.Fatalf("line %d: %v", at, faults)
	}
	return next
}

// What is written into a log is read back, whatever the log looks like, and every comment stays.
func TestALineOfTheLogComesBack(t *testing.T) {
	body := "legs:\n  - {move: hold, heading_deg: 1, seconds: 9}   # still\n  - {move: hold, heading_deg: 2, seconds: 9}\n"
	for name, text := range map[string]string{
		"no log":       head + body,
		"an empty one": head + body + "flown: []   # nothing yet\n",
		"in one line":  head + body + "flown: [{leg: 1, saw: \"a, b\"}]   # kept\n",
		"in a block":   head + body + "flown:\n  # the first\n  - leg: 1\n    saw: pale   # kept\n  # the end\n",
	} {
		c := cardOf(t, text)
		before := read(t, c)
		zone := c.zone()
		full, bare := fullLine(zone), Flown{Leg: -1, Saw: "nothing else"}
		c = logged(t, logged(t, c, full), bare)
		got := read(t, c)
		if len(got) != len(before)+2 || !reflect.DeepEqual(got[len(before)], full) || !reflect.DeepEqual(got[len(before)+1], bare) {
			t.Errorf("%s: read back as\n%+v\n%s", name, got, c.Bytes())
		}
		if len(before) > 0 && !reflect.DeepEqual(got[:len(before)], before) {
			t.Errorf("%s: an earlier line is now %+v", name, got[0])
		}
		for _, comment := range []string{"# still", "# nothing yet", "# kept", "# the first", "# the end"} {
			if strings.Contains(text, comment) && !strings.Contains(string(c.Bytes()), comment) {
				t.Errorf("%s: %s is gone:\n%s", name, comment, c.Bytes())
			}
		}
		// A line that is written anew says what it is given and nothing else; taken out, the log is as it was.
		at := len(before)
		changed := Flown{Leg: 0, Worked: WorkedNo, Saw: "flare"}
		c, faults := c.SetFlown(at, changed)
		if c == nil {
			t.Fatal(faults)
		}
		if got = read(t, c); !reflect.DeepEqual(got[at], changed) || !reflect.DeepEqual(got[at+1], bare) {
			t.Errorf("%s: set to %+v\n%s", name, got[at], c.Bytes())
		}
		for range 2 {
			if c, faults = c.RemoveFlown(at); c == nil {
				t.Fatal(faults)
			}
		}
		if got = read(t, c); len(got) != len(before) || len(before) > 0 && !reflect.DeepEqual(got, before) {
			t.Errorf("%s: without its lines\n%s", name, c.Bytes())
		}
	}
}

// A line that says nothing at all is still one; a leg that is not there, a line that is not there and a word that is none are
// refused, and nothing is changed.
func TestALogRefuses(t *testing.T) {
	c := cardOf(t, head+"legs: [{move: hold, heading_deg: 1, seconds: 9}]\n")
	if got := read(t, logged(t, c, Flown{Leg: 0})); len(got) != 1 || got[0].Leg != 0 || got[0].Worked != "" {
		t.Errorf("%+v", got)
	}
	if next, _, faults := c.AddFlown(Flown{Leg: 1}); next != nil || !strings.Contains(faults.Error(), "1 to 1") {
		t.Errorf("leg 2: %v", faults)
	}
	if next, _, faults := c.AddFlown(Flown{Leg: 0, Worked: "maybe"}); next != nil || !strings.Contains(faults.Error(), "yes, partly or no") {
		t.Errorf("maybe: %v", faults)
	}
	if next, faults := c.SetFlown(0, Flown{Leg: -1}); next != nil || len(faults) == 0 {
		t.Errorf("line 1 of none: %v", faults)
	}
}
