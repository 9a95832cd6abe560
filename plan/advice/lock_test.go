package advice

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

func TestLockWords(t *testing.T) {
	one := func(x float64) plan.Range { return plan.Range{Min: x, Max: x, OK: true} }
	for _, c := range []struct {
		leg                 plan.LegReport
		lock, metered, tone string
	}{
		{plan.LegReport{}, "", "", ""},
		{plan.LegReport{Shutter: one(1. / 50), ISO: one(125), WBK: 5150, MeterStops: 2.3}, "1/50, ISO 125, 5150 K", "meter at +2⅓", ""},
		{plan.LegReport{Shutter: one(2), ISO: one(100), WBK: 5500, MeterStops: -.36, Clipped: .05, Buried: .1, DriftStops: .16}, "2 s, ISO 100, 5500 K", "meter at −⅓", ""},
		{plan.LegReport{Shutter: one(2), ISO: one(100), WBK: 5500, MeterStops: -.1, Clipped: .12, Buried: .304, DriftStops: .34},
			"2 s, ISO 100, 5500 K", "meter at 0, 12 % white, 30 % black, light drifts by ⅓ stop", "12 % white, 30 % black"},
	} {
		if a, b, d := Lock(&c.leg), Metered(&c.leg), Tones(&c.leg); a != c.lock || b != c.metered || d != c.tone {
			t.Errorf("%q, %q, %q; want %q, %q, %q", a, b, d, c.lock, c.metered, c.tone)
		}
	}
	for stops, want := range map[float64]string{0: "0", .1: "0", .34: "+⅓", 1: "+1", 1.7: "+1⅔", -.3: "−⅓", -2: "−2"} {
		if got := words.Signed(stops); got != want {
			t.Errorf("%g: %s, want %s", stops, got, want)
		}
	}
	if words.SureWord("close") != "toss-up" || words.SureWord("holds") != "holds" || words.SureWord("depends") != "depends" {
		t.Error("how sure a call is")
	}
	if got := words.SureShort("close", "toss-up with ND64; and more"); got != "toss-up with ND64" || words.SureShort("depends", "on the haze") != "depends" {
		t.Errorf("a toss-up is %q", got)
	}
}

// How long the clean ISO holds is said by the clock; past it there is light still, and it is never called gone.
func TestCleanLight(t *testing.T) {
	r := &plan.Report{Shot: &shot.Shot{TakeOff: time.Date(2026, 9, 18, 19, 40, 0, 0, time.UTC), Zone: time.UTC}}
	for minutes, want := range map[float64][2]string{
		61:          {"clean-ISO light until 20:41", "until 20:41"},
		0:           {"no clean-ISO light", "past clean"},
		math.Inf(1): {"clean-ISO light without end", "no end"},
		3000:        {"clean-ISO light without end", "no end"},
	} {
		r.LightLeftMin = minutes
		if a, b := CleanLight(r), CleanUntil(r); a != want[0] || b != want[1] {
			t.Errorf("%g minutes: %q, %q; want %q", minutes, a, b, want)
		}
	}
}

// Where a cloud alone makes a leg too dark, it says so, and what is set while the sun shines stands beside it.
func TestShortOfOther(t *testing.T) {
	pair := func(x float64) plan.Range { return plan.Range{Min: x, Max: x, OK: true} }
	for _, c := range []struct {
		name                 string
		own, other, short    float64
		otherFeasible, alone bool
	}{
		{"no cloud makes it darker than it is at night", -6, -6, 9, false, false},
		{"a cloud takes two stops of which one is short", 5, 3, 1, false, true},
		{"one more is short already", 5, 3, 3, false, false},
		{"only the sun is short", 5, 3, 1, true, false},
		{"the sun comes out", 10, 13, -2, false, true},
		{"too bright in both", 10, 13, -5, false, false},
	} {
		l := plan.LegReport{FrameEV: pair(c.own), ShortStops: c.short, Shutter: pair(.02), ISO: pair(100), SunShines: c.own > c.other,
			Other: &plan.OtherState{FrameEV: pair(c.other), ShortStops: c.short, Feasible: c.otherFeasible, ShutterS: .01}}
		if c.otherFeasible {
			l.Other.ShortStops = 0
		}
		if got := ShortOfOther(&l); got != c.alone {
			t.Errorf("%s: %v", c.name, got)
		}
		r := &plan.Report{Shot: plantest.SeaShot(shot.Grass, 350, 0), Legs: []plan.LegReport{l}}
		got := Locks(r)[0]
		if !got.Short || (got.Set == "") == c.alone || strings.Contains(got.Notes, " when ") != c.alone {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// A leg that cannot be exposed says by how much, and names only what the camera has.
func TestShort(t *testing.T) {
	s, bag := plantest.SeaShot(shot.Grass, 350, 0), kit.Generic()
	for name, c := range map[string]struct {
		hour, want string
		change     func(*shot.Leg)
	}{
		"film at night":      {"22:30", "short at ISO 6400 and 1/", func(*shot.Leg) {}},
		"still at night":     {"22:30", "short at ISO 6400 and 8 s", func(l *shot.Leg) { l.Purpose = shot.Still }},
		"a long one at noon": {"13:00", "too much light at ISO 100 and 2 s", func(l *shot.Leg) { l.Purpose, l.ShutterS = shot.Long, 2 }},
	} {
		z := *s
		at, err := time.Parse("15:04", c.hour)
		if err != nil {
			t.Fatal(err)
		}
		day := s.TakeOff
		z.TakeOff = time.Date(day.Year(), day.Month(), day.Day(), at.Hour(), at.Minute(), 0, 0, day.Location())
		z.Legs = append([]shot.Leg(nil), s.Legs...)
		c.change(&z.Legs[0])
		r := plan.Solve(&z, bag, plan.Options{SkipSureness: true})
		l := &r.Legs[0]
		if got := Short(r, 0); l.Feasible || !strings.HasPrefix(got, "cannot be exposed: ") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, feasible %v, %+.2f short; want %q", name, got, l.Feasible, l.ShortStops, c.want)
		}
		if l.ISO.Max > 6400 || l.ISO.Min < 100 || l.Shutter.Max > 8 || l.Shutter.Min < z.Camera.FastestS {
			t.Errorf("%s: ISO %v, shutter %v", name, l.ISO, l.Shutter)
		}
	}
	day := plan.Solve(s, bag, plan.Options{SkipSureness: true})
	if got := Short(day, 0); got != "" || !day.Legs[0].Feasible {
		t.Errorf("by day: %q", got)
	}
}
