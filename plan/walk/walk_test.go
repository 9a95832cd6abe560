package walk

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// The walk is the report in short: every leg once, on its own flight, with settings that can be set.
func TestWalkIsTheReport(t *testing.T) {
	r := &plan.Report{Shot: plantest.SeaShot(shot.Water, 350, -5), Bag: kit.Generic()}
	s := r.Shot
	orbit := s.Legs[0]
	orbit.Move, orbit.Heading, orbit.Seconds = shot.Pan, shot.Sweep{From: 350, By: 90}, 30
	s.Legs, s.Takes, s.ResetS = append(s.Legs, orbit), 3, 20
	r = plan.Solve(s, r.Bag, plan.Options{SkipSureness: true})
	w := Of(r)
	if len(w) != len(r.Flights) {
		t.Fatalf("%d flights, the report has %d", len(w), len(r.Flights))
	}
	legs := 0
	for i, f := range w {
		if set := r.Flights[i].Set; f.WBK != set.WBK || f.WBK < 2000 || (f.Ring != "") != r.Flights[i].HasRing || f.Filter == "" {
			t.Errorf("flight %d: %+v", i, f)
		}
		for _, l := range f.Legs {
			if l.Leg != legs {
				t.Errorf("leg %d stands where %d should", l.Leg, legs)
			}
			legs++
			if l.Shutter == "" || l.ISO == "" || l.Move == "" || l.Start.IsZero() || l.WBK != f.WBK || strings.Contains(l.Shutter+l.ISO, "..") {
				t.Errorf("leg %d lacks something: %+v", l.Leg, l)
			}
			if !strings.Contains(l.Move, "3 takes") {
				t.Errorf("leg %d: %q", l.Leg, l.Move)
			}
		}
	}
	if legs != 2 || !strings.Contains(w[0].Legs[1].Move, "350° to 80°") {
		t.Errorf("%d legs: %+v", legs, w)
	}
	if !w[0].Legs[1].Start.After(w[0].Legs[0].Start) {
		t.Error("the second leg begins after the first")
	}
}

// What a pilot must look out for is said where it happens and nowhere else.
func TestWalkLooksOut(t *testing.T) {
	r := &plan.Report{Shot: plantest.SeaShot(shot.Water, 350, -5), Bag: kit.Generic()}
	r = plan.Solve(r.Shot, r.Bag, plan.Options{SkipSureness: true})
	calm := *r
	calm.Legs = append([]plan.LegReport(nil), r.Legs...)
	l := &calm.Legs[0]
	l.ISO, l.Unevenness, l.LookOut = plan.Range{Min: 100, Max: 100, OK: true}, plan.Range{Min: 0, Max: .2, OK: true}, nil
	l.Clipped, l.Buried, l.DriftStops, l.Headroom = clippedFrom, buriedFrom, 0, 1
	calm.Flights = append([]plan.Flight(nil), r.Flights...)
	calm.Flights[0].LightLeftMin = math.Inf(1)
	if out := Of(&calm)[0].Legs[0].LookOut; len(out) != 0 {
		t.Errorf("nothing happens, yet: %q", out)
	}
	for _, c := range []struct {
		word   string
		change func(l *plan.LegReport, f *plan.Flight)
	}{
		{"noise", func(l *plan.LegReport, _ *plan.Flight) { l.ISO.Max = 12800 }},
		{"band in the sky", func(l *plan.LegReport, _ *plan.Flight) { l.Unevenness.Max = 1.2 }},
		{"strobes", func(l *plan.LegReport, _ *plan.Flight) { l.LookOut = []string{"fast: it strobes"} }},
		{"clean-ISO light until 19:00, before its last take ends", func(l *plan.LegReport, f *plan.Flight) { l.Headroom, f.LightLeftMin = -.1, .25 }},
		{"no clean-ISO light", func(l *plan.LegReport, f *plan.Flight) { l.Headroom, f.LightLeftMin = -.1, 0 }},
		{"noise", func(l *plan.LegReport, f *plan.Flight) { l.ISO.Max, l.Headroom, f.LightLeftMin = 12800, -3, 0 }},
		{"6 % of the frame is white", func(l *plan.LegReport, _ *plan.Flight) { l.Clipped = .06 }},
		{"11 % of the frame is black", func(l *plan.LegReport, _ *plan.Flight) { l.Buried = .11 }},
		{"over 2 stops between takes: set the exposure again for each", func(l *plan.LegReport, _ *plan.Flight) { l.DriftStops = 2.1 }},
		{"does not look", func(l *plan.LegReport, _ *plan.Flight) { l.Move = shot.Orbit }},
	} {
		x := calm
		x.Legs = append([]plan.LegReport(nil), calm.Legs...)
		x.Flights = append([]plan.Flight(nil), calm.Flights...)
		c.change(&x.Legs[0], &x.Flights[0])
		if out := Of(&x)[0].Legs[0].LookOut; len(out) != 1 || !strings.Contains(out[0], c.word) {
			t.Errorf("expected %q, got %q", c.word, out)
		}
	}
}
