package shot

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/plan/internal/angle"
)

func TestParseHeading(t *testing.T) {
	for text, want := range map[string]writtenHeading{
		"285": {Deg: 285}, "285.5": {Deg: 285.5}, "0": {}, "360": {}, "-90": {Deg: 270}, " 15 ": {Deg: 15}, "+7": {Deg: 7},
		"N": {}, "NNE": {Deg: 22.5}, "e": {Deg: 90}, "NW": {Deg: 315}, "nnw": {Deg: 337.5}, "SSW": {Deg: 202.5},
		"sun": {Sun: true}, "sun+90": {Deg: 90, Sun: true}, "SUN-45.5": {Deg: -45.5, Sun: true}, "sun+0": {Sun: true},
	} {
		if got, err := parseHeading(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "NNNW", "x", "361", "-361", "1e2", "0x10", "inf", "NaN", "1_0", "sun90", "sun+", "sun+-9", "sun+361", "sun*2", "moon+9", "1 2", "--1"} {
		if got, err := parseHeading(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
	if d, err := parseBearing("sun+90"); err == nil {
		t.Errorf("a bearing counts from the sun: %v", d)
	}
}

func TestHeadingReadsWhatItWrites(t *testing.T) {
	for _, h := range []writtenHeading{{}, {Deg: 12.125}, {Deg: 359.999}, {Sun: true}, {Deg: 90, Sun: true}, {Deg: -0.5, Sun: true}} {
		if got, err := parseHeading(h.String()); err != nil || got != h {
			t.Errorf("%v writes %q, read as %v, %v", h, h.String(), got, err)
		}
	}
}

func TestNudgeHeadingKeepsTheForm(t *testing.T) {
	for _, c := range []struct {
		text string
		by   float64
		want string
	}{
		{"285", 5, "290"}, {"358", 5, "3"}, {"2", -5, "357"}, {"NW", 5, "320"}, {"sun+90", 5, "sun+95"}, {"sun-90", 5, "sun-85"}, {"sun+2", -5, "sun-3"}, {"sun+5", -5, "sun"}, {"sun-5", 5, "sun"}, {"sun", 5, "sun+5"}, {"0.1", 0.2, "0.3"},
	} {
		if got, err := nudgeHeading(c.text, c.by); err != nil || got != c.want {
			t.Errorf("%s by %v: %q, %v; want %q", c.text, c.by, got, err, c.want)
		}
	}
	if _, err := nudgeHeading("up", 5); err == nil {
		t.Error("a word without a direction is turned")
	}
}

func TestCompass(t *testing.T) {
	for deg, want := range map[float64]string{0: "N", 11: "N", 12: "NNE", 225: "SW", 350: "N", 337.5: "NNW", -90: "W", 720: "N"} {
		if got := Compass(deg); got != want {
			t.Errorf("%v°: %s, want %s", deg, got, want)
		}
	}
}

func TestSweep(t *testing.T) {
	pair := func(way string, turns float64) turnRule { return turnRule{way, turns, true} }
	for _, c := range []struct {
		from, to float64
		rule     turnRule
		want     float64
		found    string // what is wrong, in part
	}{
		{285, 15, pair("", 0), 90, ""}, {15, 285, pair("", 0), -90, ""}, {285, 15, pair("cw", 0), 90, ""}, {285, 15, pair("ccw", 0), -270, ""},
		{350, 10, pair("", 0), 20, ""}, {10, 350, pair("cw", 0), 340, ""}, {90, 90, pair("", 0), 0, ""}, {90, 90, pair("cw", 0), 360, ""}, {90, 90, pair("ccw", 0), -360, ""},
		{0, 180, pair("cw", 0), 180, ""}, {0, 180, pair("ccw", 0), -180, ""}, {180, 0, pair("cw", 0), 180, ""}, {180, 0, pair("ccw", 0), -180, ""},
		{0, 179, pair("", 0), 179, ""}, {0, 181, pair("", 0), -179, ""},
		{0, 180, pair("", 0), -180, "exactly half a turn"}, {100, 280, pair("", 0), -180, "exactly half a turn"},
		{285, 15, pair("cw", 1.25), 450, ""}, {285, 15, pair("", 1.25), 450, ""}, {285, 15, pair("", 0.75), -270, ""}, {285, 15, pair("ccw", 0.75), -270, ""},
		{0, 0, pair("ccw", 2), -720, ""}, {0, 1, pair("cw", 1), 360, ""},
		{285, 15, pair("cw", 1.5), 540, "90° away"}, {285, 15, pair("ccw", 1.25), -450, "ends 180° away"},
		{40, 40, turnRule{"", 1.5, false}, 540, ""}, {40, 40, turnRule{"ccw", 0.5, false}, -180, ""}, {40, 40, turnRule{}, 0, ""},
	} {
		got, found, allowed := sweepBy(c.from, c.to, c.rule)
		if math.Abs(got-c.want) > 1e-9 || (c.found == "") != (found == "") || !strings.Contains(found, c.found) || (found == "") != (allowed == "") {
			t.Errorf("%v to %v, %+v: %v, %q; want %v, %q", c.from, c.to, c.rule, got, found, c.want, c.found)
		}
	}
}

// A turn always ends at the second heading.
func TestSweepEndsThere(t *testing.T) {
	for from := 0.0; from < 360; from += 7 {
		for to := 0.0; to < 360; to += 11 {
			for _, way := range []string{"", "cw", "ccw"} {
				by, found, _ := sweepBy(from, to, turnRule{way: way, pair: true})
				if math.Abs(angle.Wrap180(from+by-to)) > 1e-9 || math.Abs(by) > 360 || way == "cw" && by < 0 || way == "ccw" && by > 0 || way == "" && math.Abs(by) > 180 {
					t.Errorf("%v to %v %s turns by %v (%s)", from, to, way, by, found)
				}
			}
		}
	}
}

func FuzzHeading(f *testing.F) {
	for _, s := range []string{"285", "NW", "sun+90", "sun-45", "-0", "sun", ".5", "1."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		h, err := parseHeading(text)
		if err != nil {
			return
		}
		if math.IsNaN(h.Deg) || math.Abs(h.Deg) > 360 {
			t.Fatalf("%q is %v", text, h)
		}
		if _, err := parseHeading(h.String()); err != nil {
			t.Fatalf("%q writes %q: %v", text, h.String(), err)
		}
	})
}
