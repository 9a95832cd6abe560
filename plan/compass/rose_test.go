package compass

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// The rose at the heading of a moment says what the measures say of that moment, worked out on the
// full grid by the solver.
func TestRoseAgreesWithTheMeasures(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Turning(0, 350, 40), plantest.StillOf(120, -20, 60))
	s.Filter, s.RingAuto, s.RingDeg = "CPL", false, 37
	r := plan.Solve(s, kit.Generic(), plan.Options{PerLeg: 36, Fine: true, SkipSureness: true})
	var worst, strength float64
	for i, m := range r.Measures {
		o := RoseAt(r, r.Path[i].FlightS, 1)
		if r.Path[i].Leg != o.Leg {
			continue // the seam between two legs belongs to the later one
		}
		ray := o.At(r.Path[i].HeadingDeg)
		if math.Abs(angle.Wrap180(ray.HeadingDeg-r.Path[i].HeadingDeg)) > 1e-6 {
			t.Fatalf("moment %d at %g°, the ray at %g°", i, r.Path[i].HeadingDeg, ray.HeadingDeg)
		}
		worst, strength = max(worst, math.Abs(ray.InUse-m.Effect)), max(strength, math.Abs(ray.Strength-m.Strength))
	}
	if worst > 0.02 || strength > 0.05 { // what the thinned grids are held to
		t.Errorf("effects differ by up to %.4f stop, strengths by %.4f", worst, strength)
	}
}

// A ring that stands upright or level treats both sides of the sun alike; one between does not.
func TestRoseIsMirroredAboutTheSun(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30))
	az := s.MomentAt(10).Sun[0].AzimuthDeg
	for _, c := range []struct {
		ring float64
		same bool
	}{{0, true}, {90, true}, {45, false}} {
		r := throughOnly(s, "CPL", c.ring)
		mo := s.MomentAt(10)
		table := r.Turntable(&mo, r.MountedOn(0))
		var worst float64
		for off := 5.0; off < 180; off += 10 {
			left, right := plan.RoseRay{HeadingDeg: az - off}, plan.RoseRay{HeadingDeg: az + off}
			if !table.Turn(&left) || !table.Turn(&right) {
				t.Fatal("no sky")
			}
			worst = max(worst, math.Abs(left.InUse-right.InUse))
			// The best rings are mirror images too, and the half-hours are a mirrored set.
			if math.Abs(left.Strongest-right.Strongest) > 0.02 {
				t.Errorf("%g° off the sun: at best %.3f on the left, %.3f on the right", off, left.Strongest, right.Strongest)
			}
		}
		if c.same && worst > 0.02 || !c.same && worst < 0.3 {
			t.Errorf("ring at %g: the sides differ by %.3f stop", c.ring, worst)
		}
	}
}

// Whatever the flight, the best ring darkens at least as much as the one in use, and both keep within
// what a polariser can do to such light.
func TestRoseBestIsNeverWeaker(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	bag := kit.Generic()
	for range 40 {
		s := plantest.AnyShot(rnd, bag)
		f := bag.Filters[rnd.IntN(len(bag.Filters))]
		r := throughOnly(s, f.Name, 180*rnd.Float64())
		if list := f.Settings(); len(list) > 0 {
			r.Call.SettingStops = list[rnd.IntN(len(list))]
		}
		o := RoseAt(r, s.FlightSeconds()*rnd.Float64(), 30)
		for _, ray := range o.Rays {
			switch {
			case ray.Strongest > ray.InUse:
				t.Fatalf("%s: %+v", f.Name, ray)
			case !o.SkyOK && ray != (plan.RoseRay{HeadingDeg: ray.HeadingDeg}):
				t.Fatalf("no sky, and %+v", ray)
			case !f.Polarises() && (ray.InUse != 0 || ray.Strongest != 0):
				t.Fatalf("%s turns with the heading: %+v", f.Name, ray)
			case ray.Strength < 0 || math.IsNaN(ray.Strength) || math.IsNaN(ray.InUse) || math.IsNaN(ray.Strongest):
				t.Fatalf("%s: %+v", f.Name, ray)
			}
		}
		if o.HasRing != f.Polarises() {
			t.Errorf("%s: a ring %v", f.Name, o.HasRing)
		}
	}
}

// With a low sun the sky answers most looking square to it (common practice, no source; the greatest
// degree of light scattered once lies 90° from the sun, Rayleigh 1871), and least towards and away from
// it.
func TestRoseIsStrongestSquareToALowSun(t *testing.T) {
	s := plantest.Flight(17, 20, plantest.StillOf(0, 0, 40))
	o := RoseAt(throughOnly(s, "CPL", 0), 0, 5)
	if o.Sun.AltitudeDeg > 10 || o.Sun.AltitudeDeg < 3 {
		t.Fatalf("the sun is %g° high", o.Sun.AltitudeDeg)
	}
	_, best := o.best()
	off := math.Abs(angle.Wrap180(best.HeadingDeg - o.Sun.AzimuthDeg))
	if math.Abs(off-90) > 10 {
		t.Errorf("strongest %g° from the sun, want 90°", off)
	}
	towards, away := o.At(o.Sun.AzimuthDeg), o.At(o.Sun.AzimuthDeg+180)
	if best.Strongest > -1 || towards.Strongest < best.Strongest/5 || away.Strongest < best.Strongest/5 {
		t.Errorf("square %.2f, towards %.2f, away %.2f stops", best.Strongest, towards.Strongest, away.Strongest)
	}
	// The low sun stands on the horizon, so square to it E is upright and the ring that darkens lies flat:
	// mark at 3 o'clock for a mark on the pass axis.
	if math.Abs(math.Remainder(best.RingDeg-90, 180)) > 30 {
		t.Errorf("the ring that darkens most stands at %g°", best.RingDeg)
	}
}

// A fixed ring has no better one; straight down has no rose; steps divide the circle.
func TestRoseEnds(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30))
	r := throughOnly(s, "CPL", 60)
	bag := *r.Bag
	bag.Filters = append([]kit.Filter(nil), bag.Filters...)
	for i := range bag.Filters {
		if f := &bag.Filters[i]; f.Name == "CPL" {
			f.Ring, f.FixedDeg = kit.RingFixed, 60
		}
	}
	r.Bag = &bag
	for _, ray := range RoseAt(r, 3, 10).Rays {
		if ray.Strongest != ray.InUse || ray.RingDeg != 60 {
			t.Fatalf("a fixed ring has a better one: %+v", ray)
		}
	}
	if o := RoseAt(throughOnly(plantest.Flight(16, 40, plantest.StillOf(20, -90, 40)), "CPL", 0), 0, 5); o.SkyOK {
		t.Error("straight down there is sky")
	}
	for step, want := range map[float64]int{5: 72, 0: 360, 7: 51, 1000: 4} {
		if o := RoseAt(r, 0, step); len(o.Rays) != want || o.StepDeg*float64(want) != 360 {
			t.Errorf("step %g: %d rays %g° apart", step, len(o.Rays), o.StepDeg)
		}
	}
	if o := RoseAt(r, 0, 5); o.At(358).HeadingDeg != 0 || o.At(-4).HeadingDeg != 355 {
		t.Errorf("the ray of 358° is %g°, of −4° %g°", o.At(358).HeadingDeg, o.At(-4).HeadingDeg)
	}
}

func BenchmarkRose5(b *testing.B) {
	r := throughOnly(plantest.Flight(16, 40, plantest.Push(200, 4, 30)), "CPL", 30)
	for range b.N {
		RoseAt(r, 7, 5)
	}
}

// Where a card is flown in several flights, each leg is seen through the filter of its own, in the light
// of its later time.
func TestRoseOfASecondFlight(t *testing.T) {
	s := plantest.Flight(16, 0, plantest.StillOf(0, 5, 40), plantest.StillOf(0, 5, 40))
	r := &plan.Report{Shot: s, Bag: kit.Generic(), Path: shot.Path(s, 2), Call: plan.Call{Filter: "CPL", RingDeg: 90}}
	const late = 40 * 60
	for i := range r.Path[2:] {
		r.Path[2+i] = r.Path[2+i].Later(s, shot.Seconds(late))
	}
	r.Flights = []plan.Flight{{Legs: []int{0}, Set: plan.Call{Filter: "CPL", RingDeg: 90}}, {Legs: []int{1}, Set: plan.Call{Filter: "ND16/PL", RingDeg: 30}}}
	first, second := RoseAt(r, 0, 5), RoseAt(r, 12, 5)
	if first.Filter != "CPL" || second.Filter != "ND16/PL" || second.Leg != 1 {
		t.Errorf("through %s, then %s", first.Filter, second.Filter)
	}
	moved := first.Sun.AltitudeDeg - second.Sun.AltitudeDeg
	if want := r.Path[0].Sun[0].AltitudeDeg - r.Path[2].Sun[0].AltitudeDeg; math.Abs(moved-want) > 0.1 || want < 5 {
		t.Errorf("the sun fell by %g° between the flights, want %g°", moved, want)
	}
	// The same sheet at the same time, turned otherwise: another map.
	one, two := SkyMapAt(r, 0, 21), SkyMapAt(r, 12, 21)
	if one.Sun == two.Sun || one.Effect[10*21+3] == two.Effect[10*21+3] {
		t.Error("both flights have one map")
	}
	if tr := SunTrackOf(r); tr.End().Time.Sub(tr.Start().Time) < shot.Seconds(late) {
		t.Errorf("the sweep ends at %v", tr.End().Time)
	}
}
