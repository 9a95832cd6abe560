package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
)

// asksFor returns what a frame of a shot of one short leg asks for behind a filter.
func asksFor(s *shot.Shot, m mounting.Way) float64 {
	y := newAnalysis(s, shot.Path(s, 2), turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
	return y.meterOf(y.legs[0], m).ev(0, 0) - m.Loss()
}

// Towards a low sun the exposure follows a tilt without a step: a tilt that lets the horizon in costs no more than .9
// stop a degree, and a quarter of a degree no more than its quarter of that and the .1 stop of the meter's own; a pan
// past the sun costs no more than .06 stop a degree (asked of the rule when it was made).
func TestExposureFollowsTheTilt(t *testing.T) {
	for _, ground := range []shot.Ground{shot.Grass, shot.Water} {
		for _, alt := range []float64{3, 0} {
			at := func(pitch, off float64) float64 {
				s := meterFrame{ground: ground, alt: alt, off: off, pitch: pitch, km: 30, aim: shot.AimSky, expose: shot.ExposeMiddle}.shot(t)
				return asksFor(s, mounting.Way{})
			}
			var whole, quarter, pan float64
			var list []float64 // every quarter of a degree
			for p := -45.0; p <= 10; p += .25 {
				list = append(list, at(p, 0))
			}
			for i := range list {
				if i >= 1 {
					quarter = max(quarter, math.Abs(list[i]-list[i-1]))
				}
				if i >= 4 {
					whole = max(whole, math.Abs(list[i]-list[i-4]))
				}
			}
			list = list[:0] // every other degree; over six of them, so that the meter's own .03 stop does not decide
			for off := -60.0; off <= 60; off += 2 {
				list = append(list, at(0, off))
				if i := len(list) - 1; i >= 3 {
					pan = max(pan, math.Abs(list[i]-list[i-3])/6)
				}
			}
			t.Logf("%s, sun %g°: tilt %.3f stop a degree, %.3f a quarter; pan %.3f a degree", ground, alt, whole, quarter, pan)
			if whole > .9 || quarter > .9/4+.1 {
				t.Errorf("%s, sun %g°: a tilt costs %.3f stop a degree, %.3f a quarter", ground, alt, whole, quarter)
			}
			if pan > .06 {
				t.Errorf("%s, sun %g°: a pan costs %.3f stop a degree", ground, alt, pan)
			}
		}
	}
}

// A density lowers what a level frame towards the sun asks for by what it takes, within .08 stop (asked of the rule
// when it was made, of such frames). What is left is the longer way through the glass to the edges: where the sky
// is a strip at the upper edge it is more, up to .4 stop for six stops of glass, in the picture just so
// (TestMeterAgreesWithThePicture).
func TestDensityLowersTheMeterByItself(t *testing.T) {
	var worst float64
	for _, ground := range []shot.Ground{shot.Grass, shot.Water, shot.Snow} {
		for _, alt := range []float64{3, 0, -3} {
			s := meterFrame{ground: ground, alt: alt, km: 30, aim: shot.AimSky, expose: shot.ExposeMiddle}.shot(t)
			bare := asksFor(s, mounting.Way{})
			for _, name := range []string{"ND8", "ND16", "ND64"} {
				f, _ := kit.Generic().FilterByName(name)
				off := bare - asksFor(s, mounting.Way{Filter: &f}) - f.Stops
				worst = max(worst, math.Abs(off))
				if math.Abs(off) > .08 {
					t.Errorf("%s, sun %g°: %s moves the meter by %+.3f stop beyond its own", ground, alt, name, off)
				}
			}
		}
	}
	t.Logf("%.3f stop at most", worst)
}

// Through a card, in steps of 1 % of cloud, neither state of the sun moves what land and frame ask for by more than .2
// stop (asked); the state that the camera is set for changes once, at half a sky of cloud; and a report shows both.
func TestCloudHasNoCliffs(t *testing.T) {
	for _, alt := range []float64{3, 10, 30, 60} {
		var lastLand, lastFrame [2]float64
		var worst float64
		switches, was := 0, true
		for cloud := 0.0; cloud <= 100; cloud++ {
			s := plantest.SeaShot(shot.Grass, 0, 0)
			s.TakeOff = s.TakeOff.AddDate(0, -3, 0)
			s.Light.CloudPct = cloud
			s.Legs[0].Expose, s.Legs[0].Seconds = shot.ExposeMiddle, 1
			m := plantest.TurnedFromSun(t, s, alt, 60, -10)
			s.Legs[0].Heading.From = m.HeadingDeg
			r := only(s)
			l := &r.Legs[0]
			land, frame := [2]float64{l.LandEV.Max, l.LandEV.Max}, [2]float64{l.FrameEV.Max, l.FrameEV.Max}
			if o := l.Other; o != nil {
				k := 1 // the dark one
				if !l.SunShines {
					k = 0
				}
				land[k], frame[k] = o.LandEV.Max, o.FrameEV.Max
			} else if cloud > 15 && cloud < 95 {
				t.Errorf("sun %g°, %g %%: one state", alt, cloud)
			}
			if cloud > 0 {
				for k := range 2 {
					d := max(math.Abs(land[k]-lastLand[k]), math.Abs(frame[k]-lastFrame[k]))
					worst = max(worst, d)
					if d > .2 {
						t.Errorf("sun %g°, %g %% of cloud, state %d: moves by %.3f stop", alt, cloud, k, d)
					}
				}
				if l.SunShines != was {
					switches++
					if cloud != 50 {
						t.Errorf("sun %g°: the state set for changes at %g %%", alt, cloud)
					}
				}
			}
			was, lastLand, lastFrame = l.SunShines, land, frame
		}
		t.Logf("sun %g°: %.3f stop a step", alt, worst)
		if switches != 1 {
			t.Errorf("sun %g°: the state set for changes %d times", alt, switches)
		}
	}
}

// The exposure that is locked: that of the brightest moment, and of a drift of more than a stop half of the rest
// towards the dark end.
func TestOneExposureALeg(t *testing.T) {
	l := plantest.Push(90, 8, 20)
	for _, c := range []struct{ hour, minute, takes int }{{11, 0, 1}, {17, 20, 4}, {17, 55, 25}} {
		s := plantest.Flight(c.hour, c.minute, l)
		s.Takes = c.takes
		r := only(s, "ND8")
		g := &r.Legs[0]
		var dark, bright = math.Inf(1), math.Inf(-1)
		y := newAnalysis(s, shot.Path(s, defaultPerLeg), everyMoment, newShared(s.Legs[0].Height[0]))
		meter := y.meterOf(y.legs[0], mounting.Way{})
		for k := range meter.land[0] {
			for take := range 2 {
				dark, bright = min(dark, meter.ev(k, take)), max(bright, meter.ev(k, take))
			}
		}
		if math.Abs(g.DriftStops-(bright-dark)) > .02 {
			t.Errorf("%+v: the light drifts by %.3f stop, looked at everywhere %.3f", c, g.DriftStops, bright-dark)
		}
		f := r.Legs[0].FrameEV
		want := f.Max - max(0, g.DriftStops-1)/2
		// what shutter, ISO and aperture make middle grey
		set := math.Log2(r.Call.Aperture*r.Call.Aperture/g.Shutter.Min) - math.Log2(g.ISO.Min/100)
		if g.Feasible && math.Abs(set-want) > 1.0/6+.01 {
			t.Errorf("%+v: set for EV %.3f, want %.3f", c, set, want)
		}
		if c.takes == 25 && g.DriftStops < 1.5 {
			t.Errorf("%+v: a drift of %.2f stop proves nothing", c, g.DriftStops)
		}
	}
}

// Whatever the card: what a report prints lies within what the camera has and is marked on it, one shutter and one ISO
// a leg; what is feasible can be set to within a third of a stop; what is not says by how much, positive when it is
// too dark.
func TestNothingOutsideTheCamera(t *testing.T) {
	bag := kit.Generic()
	r := rand.New(rand.NewPCG(81, 82))
	var short, bright int
	for range 200 {
		s := plantest.AnyShot(r, bag)
		for i := range s.Legs {
			s.Legs[i].Expose = []shot.Expose{shot.ExposeMiddle, shot.ExposeHighlights, shot.ExposeLand}[r.IntN(3)]
		}
		rep := Solve(s, bag, Options{PerLeg: 4, SkipSureness: true})
		for i := range rep.Legs {
			l, leg := &rep.Legs[i], &s.Legs[i]
			y := newAnalysis(s, shot.Path(s, 2), everyMoment, newShared(s.Legs[0].Height[0]))
			limits := y.legs[i].Mode.ISO
			if leg.Purpose != shot.Video {
				limits = y.legs[i].StillISO
			}
			slowest := s.Camera.SlowestS
			if leg.Purpose == shot.Video {
				slowest = min(1/leg.FPS, slowest)
			}
			check := func(what string, shutter, iso, shortStops float64, feasible bool) {
				if named := leg.ShutterSet && math.Abs(shutter-leg.ShutterS) < 1e-12; !named {
					if shutter < s.Camera.FastestS*.98 || shutter > slowest*1.02 {
						t.Errorf("%s: %g s of %g to %g: %s", what, shutter, s.Camera.FastestS, slowest, plantest.Describe(s))
					}
					if n := exposure.Nearest(exposure.ShuttersOf(0, 0, true), shutter); math.Abs(n.Value-shutter) > 1e-9*shutter {
						t.Errorf("%s: no camera has %g s: %s", what, shutter, plantest.Describe(s))
					}
				}
				if iso < limits.Base || iso > limits.Limit {
					t.Errorf("%s: ISO %g of %g to %g: %s", what, iso, limits.Base, limits.Limit, plantest.Describe(s))
				}
				if n := exposure.NearestISO(iso, 0, 0); n.Value != iso {
					t.Errorf("%s: no camera has ISO %g", what, iso)
				}
				if feasible != (shortStops == 0) || math.Abs(shortStops) > 0 && math.Abs(shortStops) <= 1.0/3 {
					t.Errorf("%s: feasible %v, %g stops short", what, feasible, shortStops)
				}
			}
			if l.Shutter.Min != l.Shutter.Max || l.ISO.Min != l.ISO.Max || !l.Shutter.OK || !l.ISO.OK {
				t.Errorf("leg %d: shutter %v, ISO %v", i, l.Shutter, l.ISO)
			}
			check("leg", l.Shutter.Min, l.ISO.Min, l.ShortStops, l.Feasible)
			if o := l.Other; o != nil {
				check("other state", o.ShutterS, o.ISO, o.ShortStops, o.Feasible)
			}
			switch {
			case l.ShortStops > 0:
				short++
				if l.FrameEV.Min > 12 && (l.Other == nil || l.Other.FrameEV.Min > 12) {
					t.Errorf("leg %d: %.1f stops short of light at EV %.1f", i, l.ShortStops, l.FrameEV.Min)
				}
			case l.ShortStops < 0:
				bright++
			}
		}
	}
	t.Logf("%d legs too dark, %d too bright", short, bright)
	if short == 0 || bright == 0 {
		t.Errorf("%d legs too dark, %d too bright: the other case is not tried", short, bright)
	}
}
