package compass

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// East is a push to 90°; legs join; extents hold everything.
func TestFromAbove(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(90, 4, 30), plantest.Push(0, 2, 30), plantest.Turning(10, 90, 40))
	s.Legs[0].Target = &shot.Target{DistanceM: 150, SpeedMS: 1, TowardDeg: 180}
	a := FromAbove(plan.Solve(s, kit.Generic(), plan.Options{PerLeg: 9, SkipSureness: true}))
	if len(a.Legs) != 3 {
		t.Fatalf("%d legs", len(a.Legs))
	}
	near := func(a, b Spot) bool { return math.Hypot(a.East-b.East, a.North-b.North) < 1e-9 }
	ends := []Spot{{100, 0}, {100, 50}, {100, 50}}
	for i, l := range a.Legs {
		last := l.Points[len(l.Points)-1]
		if l.Leg != i || len(l.Points) != 9 || !near(last.Spot, ends[i]) {
			t.Errorf("leg %d ends at %+v, want %+v", i, last.Spot, ends[i])
		}
		if i > 0 {
			before := a.Legs[i-1].Points
			if before[len(before)-1].Spot != l.Points[0].Spot {
				t.Errorf("leg %d begins at %+v, away from the one before", i, l.Points[0].Spot)
			}
		}
		for _, p := range l.Points {
			if p.East < a.Min.East || p.East > a.Max.East || p.North < a.Min.North || p.North > a.Max.North {
				t.Fatalf("%+v is outside", p.Spot)
			}
		}
	}
	if l := a.Legs[0]; !l.HasTarget || !near(l.Target[0], Spot{150, 0}) || !near(l.Target[1], Spot{150, -25}) {
		t.Errorf("the subject goes %+v", l.Target)
	}
	if a.Legs[1].HasTarget || !near(a.Min, Spot{0, -25}) || !near(a.Max, Spot{150, 50}) || !near(Spot{a.WidthM(), a.HeightM()}, Spot{150, 75}) {
		t.Errorf("extents %+v to %+v", a.Min, a.Max)
	}
	if h := a.Legs[2].Points[8].HeadingDeg; math.Abs(h-100) > 1e-9 {
		t.Errorf("the turn ends at %g°", h)
	}
}

// An orbit goes round its subject at its distance and points at it.
func TestOrbitFromAbove(t *testing.T) {
	leg := shot.Leg{Move: shot.Orbit, Purpose: shot.Video, Seconds: 60, Heading: shot.Sweep{From: 330, By: 270}, Height: [2]float64{30, 30}, Target: &shot.Target{DistanceM: 70}, PitchAuto: true}
	a := FromAbove(plan.Solve(plantest.Flight(16, 40, leg), kit.Generic(), plan.Options{SkipSureness: true}))
	for _, p := range a.Legs[0].Points {
		east, north := a.Legs[0].Target[0].East-p.East, a.Legs[0].Target[0].North-p.North
		if math.Abs(math.Hypot(east, north)-70) > 1e-6 {
			t.Fatalf("%g m from the subject", math.Hypot(east, north))
		}
		if off := angle.Wrap180(math.Atan2(east, north)*180/math.Pi - p.HeadingDeg); math.Abs(off) > 1e-6 {
			t.Fatalf("points %g° past the subject", off)
		}
	}
	if a.WidthM() < 119 || a.WidthM() > 141 { // three quarters of a circle of 140 m
		t.Errorf("%g m wide", a.WidthM())
	}
}
