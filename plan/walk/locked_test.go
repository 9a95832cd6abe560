package walk

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// A meter is told from two thirds of a stop on.
func TestTheMeterIsToldWhereItIsOff(t *testing.T) {
	for stops, want := range map[float64]string{
		0: "", .49: "", -.49: "", .51: "meter at +⅔", 2.0 / 3: "meter at +⅔", 1: "meter at +1", 2.33: "meter at +2⅓", -1.7: "meter at −1⅔",
	} {
		if got := meterWords(stops); got != want {
			t.Errorf("%g: %q, want %q", stops, got, want)
		}
	}
}

// legOf is a leg of so many stops at its moments, under the report of one flight.
func legOf(drift, change float64, ev ...float64) *plan.Report {
	r := &plan.Report{LightChangeStops: change, Legs: []plan.LegReport{{DriftStops: drift}}}
	for _, x := range ev {
		r.Path, r.Measures = append(r.Path, shot.Moment{}), append(r.Measures, plan.Measure{FrameEV: x})
	}
	return r
}

func TestDriftSaysWhichWay(t *testing.T) {
	for _, c := range []struct {
		r           *plan.Report
		want, split string
	}{
		{legOf(.4, -.4, 10, 9.8, 9.6), "", ""},
		{legOf(.7, -.7, 10, 9.6, 9.3), "⅔ stop darker by the end", ""},
		{legOf(1, .4, 9, 9.5, 10), "1 stop brighter by the end", ""},
		{legOf(1, .1, 9, 10, 9.1), "the light moves by 1 stop on the way", ""},
		{legOf(1, -1, 9, 9, 8.9), "1 stop darker by the last take", ""},
		{legOf(1.3, 1.2, 9, 9, 9.1), "1⅓ stops brighter by the last take", ""},
		{legOf(2, -2, 10, 8), "2 stops darker by the end", ""},
		{legOf(2.4, -2, 10, 7.7), "2⅓ stops darker by the end", "over 2 stops in one take: split the leg or ride the exposure"},
		{legOf(2.4, -2.2, 8, 7.9), "2⅓ stops darker by the last take", "over 2 stops between takes: set the exposure again for each"},
		{legOf(3, 0), "", ""}, // not flown
	} {
		if got, split := driftWords(c.r, 0), splitWords(c.r, 0); got != c.want || split != c.split {
			t.Errorf("%+v: %q and %q, want %q and %q", c.r.Measures, got, split, c.want, c.split)
		}
	}
}

// Morning and evening on the same heading: what is said agrees with the light on the ground.
func TestDriftFollowsTheSun(t *testing.T) {
	for _, c := range []struct {
		hour, minute int
		want         string
	}{{5, 50, "brighter by the "}, {17, 55, "darker by the "}} {
		s := plantest.Flight(c.hour, c.minute, plantest.Push(0, 2, 40))
		s.Takes = 6
		r := plan.Solve(s, kit.Generic(), plan.Options{SkipSureness: true})
		if got := Of(r)[0].Legs[0].Drift; !strings.Contains(got, c.want) {
			t.Errorf("%d:%d, the light changes by %.2f stops: %q", c.hour, c.minute, r.LightChangeStops, got)
		}
	}
}

// A leg that cannot be exposed says so first, with what is missing at the camera's limits, and nothing of its meter.
func TestALegThatCannotBeExposed(t *testing.T) {
	night := plantest.Flight(22, 0, plantest.Push(0, 2, 40), plantest.StillOf(0, -5, 40))
	r := plan.Solve(night, kit.Generic(), plan.Options{SkipSureness: true})
	for i, l := range Of(r)[0].Legs {
		if r.Legs[i].Feasible {
			t.Fatalf("leg %d is exposed at night", i+1)
		}
		if !strings.HasPrefix(l.Short, "cannot be exposed: ") || !strings.Contains(l.Short, " stops short at ISO ") || l.Meter != "" {
			t.Errorf("leg %d: %q, %q", i+1, l.Short, l.Meter)
		}
		if slices.ContainsFunc(l.LookOut, func(t string) bool { return strings.Contains(t, "clean") }) {
			t.Errorf("leg %d: %q", i+1, l.LookOut)
		}
	}
	day := plan.Solve(plantest.Flight(11, 0, plantest.Push(0, 2, 40)), kit.Generic(), plan.Options{SkipSureness: true})
	if l := Of(day)[0].Legs[0]; l.Short != "" {
		t.Errorf("by day: %q", l.Short)
	}
	l := &day.Legs[0]
	l.Feasible, l.ShortStops = false, -1.4
	if got, want := advice.Short(day, 0), "cannot be exposed: 1⅓ stops too much light at ISO 100 and "; !strings.HasPrefix(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	l.SunShines, l.ShortStops, l.Other = true, 2, &plan.OtherState{ISO: 6400, ShutterS: 1.0 / 25, ShortStops: 2}
	if got, want := advice.Short(day, 0), "cannot be exposed when a cloud comes before the sun: 2 stops short at ISO "; !strings.HasPrefix(got, want) || !strings.HasSuffix(got, " and 1/25") {
		t.Errorf("%q, want %q", got, want)
	}
}

// Where it is the cloud that takes the clean ISO, the cloud is named.
func TestACloudTakesTheCleanISO(t *testing.T) {
	s := plantest.Flight(11, 0, plantest.Push(0, 2, 40))
	s.Light.CloudPct = 40
	r := plan.Solve(s, kit.Generic(), plan.Options{SkipSureness: true})
	r.Legs[0].Headroom, r.Flights[0].LightLeftMin = -1, 0
	r.Legs[0].Other.ISO = 3200
	if got := Of(r)[0].Legs[0].LookOut; !slices.Contains(got, "no clean ISO when a cloud comes before the sun") {
		t.Errorf("%q", got)
	}
	r.Legs[0].Headroom = 0
	if got := strings.Join(Of(r)[0].Legs[0].LookOut, "; "); strings.Contains(got, "clean") {
		t.Errorf("with headroom: %q", got)
	}
}

// Broken cloud has two settings: that of the likelier state, and what to set when the sun changes. Where few clouds
// change next to nothing there is nothing to set.
func TestTheOtherStateOfTheSun(t *testing.T) {
	for pct, want := range map[float64]string{0: "", 20: "", 40: "when a cloud comes before the sun: ", 60: "when the sun comes out: ", 100: ""} {
		s := plantest.Flight(11, 0, plantest.Push(0, 2, 40))
		s.Light.CloudPct = pct
		r := plan.Solve(s, kit.Generic(), plan.Options{SkipSureness: true})
		got := otherWords(r, 0)
		if (want == "") != (got == "") || !strings.HasPrefix(got, want) {
			t.Errorf("%g %% of cloud: %q, want %q", pct, got, want)
		}
		if want != "" && (!strings.Contains(got, ", ISO ") || !slices.Contains(Of(r)[0].Legs[0].Expect, got)) {
			t.Errorf("%g %% of cloud: %q in %q", pct, got, Of(r)[0].Legs[0].Expect)
		}
	}
}

// A rise says from where to where, a level leg its height once; kelvin stand at the legs where they differ.
func TestHeightsAndKelvin(t *testing.T) {
	rise := plantest.Push(0, 2, 40)
	rise.Move, rise.Climb, rise.SpeedMS, rise.Height = shot.Rise, 2, 0, [2]float64{5, 55}
	s := plantest.Flight(11, 0, rise, plantest.Push(0, 2, 40))
	s.Legs[1].WhiteBalance = shot.WhiteBalance{Kind: shot.WBKelvin, Kelvin: 3200}
	r := plan.Solve(s, kit.Generic(), plan.Options{SkipSureness: true})
	w := Of(r)
	legs := w[0].Legs
	if !strings.Contains(legs[0].Move, ", 5 to 55 m up, ") || !strings.Contains(legs[1].Move, ", 40 m up, ") {
		t.Errorf("%q and %q", legs[0].Move, legs[1].Move)
	}
	if w[0].WBK != 0 || legs[0].WBK != r.Legs[0].WBK || legs[1].WBK != 3200 {
		t.Errorf("%g K for both, %g and %g K", w[0].WBK, legs[0].WBK, legs[1].WBK)
	}
}

// A still's clean ISO is the camera's, not the film mode's.
func TestNoiseOfAStill(t *testing.T) {
	s := plantest.Flight(11, 0, plantest.StillOf(0, -5, 40))
	s.Camera.ISO = kit.ISO{Base: 100, Clean: 200, Limit: 6400}
	s.Legs[0].Mode.ISO = kit.ISO{Base: 100, Clean: 1600, Limit: 6400}
	r := plan.Solve(s, kit.Generic(), plan.Options{SkipSureness: true})
	r.Legs[0].ISO = plan.Range{Min: 800, Max: 800, OK: true}
	if got := strings.Join(Of(r)[0].Legs[0].LookOut, "; "); !strings.Contains(got, "noise: ISO is above its clean 200") {
		t.Errorf("%q", got)
	}
}
