package plan

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// eightLegs is a flight with every kind of move, over water, for the sky and the water both.
func eightLegs() *shot.Shot {
	target := &shot.Target{DistanceM: 120, HeightM: 5}
	orbit := func(from, by float64) shot.Leg {
		return shot.Leg{Move: shot.Orbit, Purpose: shot.Video, Seconds: 40, Heading: shot.Sweep{From: from, By: by}, Height: [2]float64{30, 30}, Target: target, PitchAuto: true}
	}
	legs := []shot.Leg{
		plantest.Push(285, 5, 30), orbit(285, 90), plantest.Turning(15, 90, 40), plantest.Push(120, 4, 60),
		{Move: shot.Rise, Purpose: shot.Video, Seconds: 30, Heading: shot.Sweep{From: 200, By: 0}, Height: [2]float64{20, 100}, Pitch: [2]float64{-20, -20}},
		{Move: shot.Tilt, Purpose: shot.Video, Seconds: 12, Heading: shot.Sweep{From: 20, By: 0}, Height: [2]float64{80, 80}, Pitch: [2]float64{-60, 0}},
		plantest.StillOf(30, 3, 50), orbit(60, 120),
	}
	for i := range legs {
		legs[i].Ground, legs[i].Aim = shot.Water, shot.AimBalance
	}
	s := plantest.Flight(16, 20, legs...)
	s.Takes = 2
	return s
}

// twelveFilters is a full bag: two of everything that has a ring.
func twelveFilters() *kit.Bag {
	bag := *kit.Generic()
	bag.Filters = append(slices.Clone(bag.Filters),
		kit.Filter{Name: "ND8/PL", Kind: kit.Hybrid, Stops: 3, LossStops: 1.5, Ring: kit.RingTurns},
		kit.Filter{Name: "ND64/PL", Kind: kit.Hybrid, Stops: 6, LossStops: 1.5, Ring: kit.RingTurns, CastMired: 14, MarkDeg: 10})
	return &bag
}

// demoBag is that of the examples.
func demoBag(tb testing.TB) *kit.Bag {
	data, err := os.ReadFile("../examples/bag.yaml")
	if err != nil {
		tb.Fatal(err)
	}
	bag, faults := kit.ReadBag("bag.yaml", data)
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	return bag
}

// A full re-computation: the plain call, and with all the runs of the sureness.
func BenchmarkSolve8x32(b *testing.B) {
	s := eightLegs()
	for _, c := range []struct {
		name string
		bag  *kit.Bag
	}{{"demo", demoBag(b)}, {"twelve", twelveFilters()}} {
		b.Run(c.name+"/plain", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				Solve(s, c.bag, Options{PerLeg: 32, SkipSureness: true})
			}
		})
		b.Run(c.name+"/first", func(b *testing.B) { // as the first flight with this lens under this sky
			b.ReportAllocs()
			for range b.N {
				glass.Forget()
				light.ForgetMirrors()
				Solve(s, c.bag, Options{PerLeg: 32, SkipSureness: true})
			}
		})
		b.Run(c.name+"/sureness", func(b *testing.B) {
			for range b.N {
				Solve(s, c.bag, Options{PerLeg: 32})
			}
		})
	}
}

// The measures between the samples, from thinned grids, agree with those of the full grid at every
// moment: effect and unevenness to 0.02 stop, the strength, which has kinks, to 0.05.
func TestInterpolationAgrees(t *testing.T) {
	s := eightLegs()
	s.Filter, s.RingAuto, s.RingDeg = "CPL", false, 60
	quick := Solve(s, kit.Generic(), Options{SkipSureness: true})
	fine := Solve(s, kit.Generic(), Options{SkipSureness: true, Fine: true})
	var worst [3]float64
	for i := range fine.Measures {
		a, b := quick.Measures[i], fine.Measures[i]
		if a.SkyOK != b.SkyOK {
			t.Errorf("moment %d: sky %v, worked out %v", i, a.SkyOK, b.SkyOK)
			continue
		}
		for k, d := range [...]float64{a.Effect - b.Effect, a.Unevenness - b.Unevenness, a.Strength - b.Strength} {
			worst[k] = max(worst[k], math.Abs(d))
		}
		if d := math.Abs(a.StepArcmin - b.StepArcmin); d > 0.05*b.StepArcmin+0.05 {
			t.Errorf("moment %d: step %.2f, worked out %.2f", i, a.StepArcmin, b.StepArcmin)
		}
		if a.LandEV != b.LandEV || a.ISO != b.ISO {
			t.Errorf("moment %d: light or ISO differ", i)
		}
	}
	t.Logf("effect %.4f, unevenness %.4f, strength %.4f stop", worst[0], worst[1], worst[2])
	if worst[0] > 0.02 || worst[1] > 0.02 || worst[2] > 0.05 {
		t.Errorf("off by up to %.4f, %.4f, %.4f stop", worst[0], worst[1], worst[2])
	}
}

// The worked example of headroom: f/2.8, 1/50, latitude 45 at the equinox, the sun 3° high at the start,
// flat ground, clean from ISO 100 to 1600. Two stops of density hold; ISO goes from 146 to 1311 in 25
// minutes and the light runs out at 26.5 (worked out apart from this code from the illuminance of
// Seidelmann 1992 and the arithmetic of ISO 2720).
func TestHeadroomExample(t *testing.T) {
	start := time.Date(2026, 3, 20, 16, 30, 0, 0, time.UTC)
	for sun.At(start, 45, 0).GeometricDeg > 3 {
		start = start.Add(time.Second)
	}
	l := shot.Leg{Move: shot.Hold, Purpose: shot.Video, ShutterS: 1.0 / 50, ShutterSet: true, Seconds: 1500, Height: [2]float64{50, 50}, Pitch: [2]float64{-90, -90}, Aim: shot.AimKeep, Expose: shot.ExposeLand}
	s := plantest.Flight(12, 0, l)
	s.TakeOff, s.TransitS, s.Filter = start, 0, "ND4"
	s.Legs[0].Mode.ISO = kit.ISO{Base: 100, Clean: 1600, Limit: 6400}
	bag := *kit.Generic()
	bag.Filters = []kit.Filter{{Name: "ND4", Kind: kit.Density, Stops: 2}}
	r := Solve(s, &bag, Options{})
	first, last := r.Measures[0], r.Measures[len(r.Measures)-1]
	if math.Abs(first.LandEV-10.07) > 0.01 || math.Abs(last.LandEV-6.90) > 0.01 {
		t.Errorf("EV %.3f to %.3f, want 10.07 to 6.90", first.LandEV, last.LandEV)
	}
	iso := func(m *Measure) float64 { return exposure.ISO(m.FrameEV, 2.8, 1.0/50, 0, 0) } // what the moment asks for
	if a, b := iso(&first), iso(&last); math.Abs(a/146-1) > 0.01 || math.Abs(b/1311-1) > 0.01 {
		t.Errorf("ISO %.1f to %.1f, want 146 to 1311", a, b)
	}
	if first.ISO != last.ISO || first.ISO < 146 || first.ISO > 1311 {
		t.Errorf("set to ISO %.0f, then %.0f: it is locked", first.ISO, last.ISO)
	}
	if math.Abs(r.LightLeftMin-26.5) > 0.5 {
		t.Errorf("runs out after %.2f min, want 26.5", r.LightLeftMin)
	}
}

// Whatever a card may say, there is an answer, and no number in it that is none.
func TestSolveNeverFails(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	bag := kit.Generic()
	for range 150 {
		s := plantest.AnyShot(r, bag)
		check(t, s, Solve(s, bag, Options{PerLeg: 2 + r.IntN(8)}))
	}
	check(t, plantest.Flight(12, 0), Solve(plantest.Flight(12, 0), bag, Options{}))
	empty := &kit.Bag{Cameras: bag.Cameras, Settings: bag.Settings}
	check(t, plantest.Flight(12, 0, plantest.Push(0, 5, 20)), Solve(plantest.Flight(12, 0, plantest.Push(0, 5, 20)), empty, Options{}))
}

func check(t *testing.T, s *shot.Shot, r *Report) {
	t.Helper()
	finite := func(what string, xs ...float64) {
		for _, x := range xs {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%s is %g: %s", what, x, plantest.Describe(s))
			}
		}
	}
	finite("call", r.Call.ShutterS, r.Call.ISO, r.Call.Aperture, r.Call.WBK, r.Call.RingDeg, r.LightChangeStops, r.FlightMin)
	if math.IsNaN(r.LightLeftMin) || r.LightLeftMin < 0 {
		t.Errorf("light is left for %g min", r.LightLeftMin)
	}
	if len(s.Legs) > 0 && (r.Call.ISO <= 0 || r.Call.ShutterS <= 0) {
		t.Errorf("call %+v", r.Call)
	}
	for _, m := range r.Measures {
		finite("measure", m.Strength, m.Effect, m.Unevenness, m.LandEV, m.SkyEV, m.StepArcmin, m.BlurPx, m.ISO, m.ShutterS, m.HeadroomEV)
		if m.Unevenness < 0 || m.Strength < 0 {
			t.Errorf("measure %+v", m)
		}
	}
	for _, l := range r.Legs {
		for _, g := range []Range{l.Strength, l.Effect, l.Swing, l.Unevenness, l.GlareCut, l.HazeCut, l.LandEV, l.SkyEV, l.ISO, l.Shutter, l.Step, l.BlurPx} {
			finite("leg", g.Min, g.Max)
			if g.Min > g.Max {
				t.Errorf("range %v", g)
			}
		}
		if l.Pitch == [2]float64{-90, -90} && (l.Strength.OK || l.Unevenness.OK) {
			t.Errorf("straight down there is no sky to measure: %+v", l)
		}
	}
	for i, c := range r.Candidates {
		finite("score", c.Score)
		if i > 0 && c.WhyNot == "" {
			t.Errorf("%s lost for no reason", c.Filter)
		}
	}
	if len(r.Measures) != len(r.Path) || len(r.Legs) != len(s.Legs) {
		t.Errorf("%d measures for %d moments, %d leg reports for %d legs", len(r.Measures), len(r.Path), len(r.Legs), len(s.Legs))
	}
}

func FuzzSolve(f *testing.F) {
	bag := kit.Generic()
	f.Add(uint64(1), uint64(2))
	f.Add(uint64(90), uint64(7))
	f.Fuzz(func(t *testing.T, a, b uint64) {
		s := plantest.AnyShot(rand.New(rand.NewPCG(a, b)), bag)
		check(t, s, Solve(s, bag, Options{PerLeg: 3}))
	})
}

func TestNearFrame(t *testing.T) {
	v := shot.NewView(plantest.Lens(60), kit.Mode{}, true, 0, 0)
	for _, c := range []struct {
		az, alt float64
		want    bool
	}{{0, 0, true}, {29, 0, true}, {44, 0, true}, {46, 0, false}, {180, 0, false}, {0, 32, true}, {0, 34, false}, {-44, 2, true}} {
		if got := nearFrame(v, sun.Direction(c.az, c.alt)); got != c.want {
			t.Errorf("%g, %g: %v", c.az, c.alt, got)
		}
	}
	if nearFrame(v, r3.Vec{Y: -1}) {
		t.Error("behind the camera is near the frame")
	}
}
