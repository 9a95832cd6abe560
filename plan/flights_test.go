package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/internal/runs"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// plainSplit tries every way to divide the legs.
func plainSplit(cost [][]float64, change float64) float64 {
	n := len(cost[0]) - 1
	best := math.Inf(1)
	for cuts := range 1 << (n - 1) {
		sum, from := 0.0, 0
		for k := 1; k <= n; k++ {
			if k < n && cuts&(1<<(k-1)) == 0 {
				continue
			}
			run := math.Inf(1)
			for _, m := range cost {
				run = min(run, m[k]-m[from])
			}
			sum += run
			if from > 0 {
				sum += change
			}
			from = k
		}
		best = min(best, sum)
	}
	return best
}

// The dynamic programme finds what trying everything finds.
func TestSplitIsTheCheapest(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		n, m := 1+r.IntN(7), 1+r.IntN(5)
		cost := make([][]float64, m)
		for i := range cost {
			cost[i] = make([]float64, n+1)
			for k := range n {
				cost[i][k+1] = cost[i][k] + 3*r.Float64() - 1
			}
		}
		change := 0.5 + r.Float64()
		ends := runs.Split(cost, change)
		sum, from := change*float64(len(ends)-1), 0
		for _, to := range ends {
			run := math.Inf(1)
			for _, c := range cost {
				run = min(run, c[to]-c[from])
			}
			sum, from = sum+run, to
		}
		if want := plainSplit(cost, change); from != n || math.Abs(sum-want) > 1e-6 {
			t.Fatalf("%v: ends %v cost %.4f, the cheapest %.4f", cost, ends, sum, want)
		}
	}
}

// conflicting is a flight with legs on either side of a sun that stands about 40° high: the sky wants the
// ring a quarter turn further on one side than on the other, and half way between does nothing.
func conflicting() *shot.Shot {
	at := time.Date(2026, 3, 20, 10, 30, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	var legs []shot.Leg
	for _, off := range []float64{90, 90, -90, -90} {
		l := plantest.StillOf(az+off, 6, 60)
		l.Seconds = 20
		legs = append(legs, l)
	}
	s := plantest.Flight(10, 30, legs...)
	s.Settings.LandingChangeS, s.Light.VisibilityKm = 240, 100 // clean air: the sky gives enough to be worth a landing
	return s
}

func TestConflictingLegsAreFlownApart(t *testing.T) {
	s := conflicting()
	r := only(s, "CPL")
	check(t, s, r)
	if len(r.Flights) != 2 || !slices.Equal(r.Flights[0].Legs, []int{0, 1}) || !slices.Equal(r.Flights[1].Legs, []int{2, 3}) {
		t.Fatalf("flights %+v", r.Flights)
	}
	a, b := r.Flights[0], r.Flights[1]
	if a.Filter != "CPL" || b.Filter != "CPL" || math.Abs(angle.Wrap180(2*(a.RingDeg-b.RingDeg)))/2 < 60 {
		t.Errorf("%s at %g, then %s at %g", a.Filter, a.RingDeg, b.Filter, b.RingDeg)
	}
	if a.GainStops+b.GainStops < 0.25 {
		t.Errorf("gains %.2f and %.2f", a.GainStops, b.GainStops)
	}
	if r.Call.RingDeg != a.RingDeg || !strings.HasPrefix(r.Call.Reasons[0], "fly legs 1 and 2 with CPL") {
		t.Errorf("call at %g: %q", r.Call.RingDeg, r.Call.Reasons)
	}
	if !strings.Contains(b.Change, "turn the ring to") || !strings.Contains(r.Call.Reasons[0], "then land and fly legs 3 and 4") {
		t.Errorf("%q, %q", b.Change, r.Call.Reasons[0])
	}
	for i, l := range r.Legs { // each leg under the ring of its own flight
		if l.Effect.Max > -0.3 {
			t.Errorf("leg %d: effect %v", i+1, l.Effect)
		}
	}
	// What comes after the landing is flown later, by the landing and the way out and home.
	plain := shot.Path(s, defaultPerLeg)
	if d := r.Path[2*defaultPerLeg].Time[0].Sub(plain[2*defaultPerLeg].Time[0]); d != shot.Seconds(s.Settings.LandingChangeS+s.TransitS) {
		t.Errorf("the second flight starts %v later", d)
	}
	if d := r.FlightMin - s.Times().Minutes; math.Abs(d-s.TransitS/60) > 1e-9 {
		t.Errorf("the second flight adds %g min in the air", d)
	}
	// The second flight's ladder goes by its own take-off: half an hour's battery from there.
	launch := r.Path[2*defaultPerLeg].Time[0].Add(-shot.Seconds(s.TransitS / 2))
	home := launch.Add(time.Duration((s.Times().BatteryMin - s.TransitS/120) * float64(time.Minute))).Format("15:04")
	if ladder := r.Flights[1].Set.Ladder; !strings.Contains(strings.Join(ladder, "; "), "turn for home by "+home) {
		t.Errorf("want home by %s: %q", home, ladder)
	}
	if r.FlightOf(1) != &r.Flights[0] || r.FlightOf(3) != &r.Flights[1] || r.FlightOf(9) != nil {
		t.Error("FlightOf finds the wrong flight")
	}
}

// Films that want a density, and stills that want the polariser.
func TestFilmAndStillAreFlownApart(t *testing.T) {
	film := plantest.Push(180, 10, 15)
	film.Aim = shot.AimKeep
	photo := plantest.StillOf(250, 4, 60)
	photo.Aim = shot.AimSky
	s := plantest.Flight(11, 0, film, film, photo, photo, photo, photo)
	s.Settings.LandingChangeS, s.Light.VisibilityKm = 240, 100
	r := only(s, "ND64", "CPL")
	if len(r.Flights) != 2 || len(r.Flights[0].Legs) != 2 {
		t.Fatalf("flights %+v", r.Flights)
	}
	f, _ := kit.Generic().FilterByName(r.Flights[0].Filter)
	g, _ := kit.Generic().FilterByName(r.Flights[1].Filter)
	if f.TotalStops(0) < 5 || g.Kind != kit.Polariser {
		t.Errorf("%s, then %s", f.Name, g.Name)
	}
	if !strings.Contains(r.Flights[1].Change, "change to CPL, mark at ") {
		t.Errorf("%q", r.Flights[1].Change)
	}
	for i := 1; i < len(r.Candidates); i++ {
		if r.Candidates[i].WhyNot == "" {
			t.Errorf("%s lost for no reason", r.Candidates[i].Filter)
		}
	}
}

// A small gain is never worth a landing, whatever the settings make of a landing, and a large weight
// keeps the flight together.
func TestSmallGainNeverSplits(t *testing.T) {
	at := time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	a, b := plantest.StillOf(az+90, 6, 60), plantest.StillOf(az+60, 6, 60)
	s := plantest.Flight(9, 0, a, b)
	bag := *kit.Generic()
	bag.Settings.Weights.Landing = 0.01
	if r := Solve(s, &bag, Options{}); len(r.Flights) != 1 || r.Flights[0].GainStops != 0 || len(r.Flights[0].Legs) != 2 {
		t.Errorf("lands for %+v", r.Flights)
	}
	bag.Settings.Weights.Landing = 100
	if r := Solve(conflicting(), &bag, Options{}); len(r.Flights) != 1 {
		t.Errorf("lands at a hundred stops: %+v", r.Flights)
	}
	r := rand.New(rand.NewPCG(21, 22))
	for range 60 { // any flight at all
		s := plantest.AnyShot(r, kit.Generic())
		got := Solve(s, kit.Generic(), Options{PerLeg: 4, SkipSureness: true})
		var gain float64
		next := 0
		for _, f := range got.Flights {
			gain += f.GainStops * float64(len(f.Legs))
			for _, l := range f.Legs {
				if l != next {
					t.Fatalf("legs %+v", got.Flights)
				}
				next++
			}
		}
		if next != len(s.Legs) || len(got.Flights) > 1 && gain < leastChange {
			t.Errorf("%d legs in %d flights for %.2f stops", len(s.Legs), len(got.Flights), gain)
		}
	}
}

// The card's own wish for a filter or a ring holds on every flight.
func TestWishHoldsOnEveryFlight(t *testing.T) {
	s := conflicting()
	s.RingAuto, s.RingDeg = false, 45
	for _, f := range only(s, "CPL").Flights {
		if f.HasRing && f.RingDeg != 45 {
			t.Errorf("ring %g", f.RingDeg)
		}
	}
	s = conflicting()
	s.Filter = "ND16/PL"
	r := solve(s)
	for _, f := range r.Flights {
		if f.Filter != "ND16/PL" {
			t.Errorf("flies %s", f.Filter)
		}
	}
	s.RingAuto, s.RingDeg = false, 45
	if r = solve(s); len(r.Flights) != 1 {
		t.Errorf("with filter and ring given there is nothing to land for: %+v", r.Flights)
	}
}

// Many legs that would each gain a little do not add up to a landing: nobody would see it on any of them.
func TestManySmallGainsNeverSplit(t *testing.T) {
	var legs []shot.Leg
	for i := range 16 {
		l := conflicting().Legs[i/8*2]
		l.Seconds = 5
		legs = append(legs, l)
	}
	s := conflicting()
	s.Legs, s.Filter = legs, "CPL"
	bag := *kit.Generic()
	bag.Settings.Weights.Landing, bag.Settings.Weights.Aim, bag.Settings.Weights.Unevenness = 0.5, 0.4, 0
	y := newAnalysis(s, shot.Path(s, 4), turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
	c := y.choose(&bag)
	if ends := runs.Split(c.prefixCosts(len(legs)), c.changeCost()); len(ends) < 2 {
		t.Fatalf("the sum of it was to be worth a landing: %v", ends)
	}
	if r := Solve(s, &bag, Options{}); len(r.Flights) != 1 {
		t.Errorf("lands for %.2f and %.2f stops a leg", r.Flights[0].GainStops, r.Flights[1].GainStops)
	}
}
