package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

func solve(s *shot.Shot) *Report { return Solve(s, kit.Generic(), Options{}) }

// only solves with a bag of some of the generic filters.
func only(s *shot.Shot, names ...string) *Report {
	bag := *kit.Generic()
	bag.Filters = nil
	for _, n := range names {
		f, ok := kit.Generic().FilterByName(n)
		if !ok {
			panic("no filter " + n)
		}
		bag.Filters = append(bag.Filters, f)
	}
	return Solve(s, &bag, Options{})
}

func TestWantedShutter(t *testing.T) {
	for fps, want := range map[float64]float64{24: 1.0 / 50, 25: 1.0 / 50, 30: 1.0 / 60, 50: 1.0 / 100, 60: 1.0 / 125} {
		l := plantest.Push(0, 8, 20)
		l.FPS = fps
		s := plantest.Flight(9, 0, l)
		y := newAnalysis(s, shot.Path(s, 8), turnKeys(25, 9), newShared(s.Legs[0].Height[0]))
		if got := y.legs[0].Bounds.WantedS; math.Abs(got-want) > 1e-12 {
			t.Errorf("%g fps: 1/%.1f, want 1/%.0f", fps, 1/got, 1/want)
		}
	}
}

// EV 15 at f/2.8 and ISO 100: the shutters behind five to seven stops are 1/131, 1/65 and 1/33 s, and
// bare it is 1/4180 (arithmetic of ISO 2720).
func TestNoonShutters(t *testing.T) {
	l := setting.Leg{Leg: &shot.Leg{Purpose: shot.Video, FPS: 24, Mode: kit.Generic().Cameras[0].Modes[0]}, BlurWish: 1}
	b := setting.Bounds{WantedS: 1, FastestS: 1.0 / 8000, LowS: 1, HighS: 1}
	for _, c := range []struct{ loss, want float64 }{{0, 4180}, {5, 131}, {6, 65}, {7, 33}} {
		if e := l.SetFor(&b, 15, 2.8, c.loss); math.Abs(1/e.ShutterS-c.want) > max(0.5, c.want/1000) || e.ISO != 100 {
			t.Errorf("%g stops: 1/%.1f at ISO %.0f, want 1/%.0f at 100", c.loss, 1/e.ShutterS, e.ISO, c.want)
		}
	}
}

// Noon video at f/2.8 and 1/50 wants five to seven stops.
func TestNoonVideoWantsFiveToSevenStops(t *testing.T) {
	l := plantest.Push(180, 8, 20)
	l.Aim = shot.AimKeep // no polariser is asked for
	r := solve(plantest.Flight(12, 0, l))
	f, _ := kit.Generic().FilterByName(r.Call.Filter)
	if n := f.TotalStops(r.Call.SettingStops); n < 5 || n > 7 {
		t.Errorf("%s takes %.1f stops: %v", r.Call.Filter, n, r.Call.Reasons)
	}
	if !r.Call.BlurNeeded || r.Legs[0].Shutter.Max > 1.0/40 || r.Legs[0].Shutter.Min < 1.0/125 {
		t.Errorf("shutters %v", r.Legs[0].Shutter)
	}
}

func TestSlowAndHighNeedsNoFilter(t *testing.T) {
	l := plantest.Push(180, 1.5, 110)
	l.Aim = shot.AimKeep
	r := solve(plantest.Flight(12, 0, l))
	if r.Call.Filter != "none" || r.Call.BlurNeeded || r.Legs[0].Band != Calm {
		t.Errorf("%s, band %s: %v", r.Call.Filter, r.Legs[0].Band, r.Call.Reasons)
	}
}

func TestStillNeverTakesADensity(t *testing.T) {
	for _, hour := range []int{7, 9, 12, 15, 17} {
		for heading := 0.0; heading < 360; heading += 45 {
			for _, pitch := range []float64{5, -15, -60, -90} {
				s := plantest.Flight(hour, 0, plantest.StillOf(heading, pitch, 60))
				r := solve(s)
				switch r.Candidates[0].Kind {
				case kit.Density, kit.Hybrid, kit.Variable:
					t.Errorf("%d h, heading %g, pitch %g: %s", hour, heading, pitch, r.Call.Filter)
				}
				if r.Call.ShutterS > 1.0/100 && hour == 12 {
					t.Errorf("noon still at %s", exposure.FormatShutter(r.Call.ShutterS))
				}
			}
		}
	}
}

func TestMiddayLandscapeStillWantsThePolariser(t *testing.T) {
	s := plantest.Flight(11, 0, plantest.StillOf(sun.At(time.Date(2026, 3, 20, 11, 0, 0, 0, time.UTC), 45, 0).AzimuthDeg+90, 4, 60))
	r := solve(s)
	if r.Candidates[0].Kind != kit.Polariser || !r.Call.HasRing {
		t.Errorf("%s: %v", r.Call.Filter, r.Call.Reasons)
	}
	if r.Legs[0].Effect.Max > -0.5 {
		t.Errorf("effect %v", r.Legs[0].Effect)
	}
}

// Turning the aircraft changes what a polariser does and never what a density does.
func TestHeadingMattersToAPolariserOnly(t *testing.T) {
	var cpl, nd Range
	for h := 0.0; h < 360; h += 30 {
		l := plantest.Push(h, 8, 20)
		l.Pitch = [2]float64{5, 5}
		s := plantest.Flight(8, 0, l)
		s.Filter = "CPL"
		r := only(s, "CPL")
		cpl.join(r.Legs[0].Effect)
		s.Filter = "ND16"
		r = only(s, "ND16")
		nd.join(r.Legs[0].Effect)
		if r.Legs[0].Unevenness.Max != 0 {
			t.Errorf("a density at heading %g makes the sky uneven", h)
		}
	}
	if cpl.span() < 0.5 || nd.span() != 0 {
		t.Errorf("effect over a turn: polariser %v, density %v", cpl, nd)
	}
}

// Sun abeam and low: the sky answers most looking square to the sun, and a quarter turn of the ring goes
// from most to least.
func TestAbeamAnswersMost(t *testing.T) {
	az := sun.At(time.Date(2026, 3, 20, 17, 20, 0, 0, time.UTC), 45, 0).AzimuthDeg
	strength := func(off float64) float64 {
		l := plantest.Push(az+off, 8, 20)
		l.Pitch = [2]float64{10, 10}
		s := plantest.Flight(17, 19, l)
		return solve(s).Legs[0].Strength.Max
	}
	square := strength(90)
	for _, off := range []float64{0, 30, 150, 180} {
		if x := strength(off); x > square-0.3 {
			t.Errorf("%g° off the sun %.2f stops, square to it %.2f", off, x, square)
		}
	}
	l := plantest.Push(az+90, 8, 20)
	l.Pitch = [2]float64{10, 10}
	s := plantest.Flight(17, 19, l)
	y := newAnalysis(s, shot.Path(s, 8), turnKeys(25, 9), newShared(s.Legs[0].Height[0]))
	f, _ := kit.Generic().FilterByName("CPL")
	var most, least float64 = math.Inf(1), math.Inf(-1)
	var mostRing, leastRing float64
	for ring := 0.0; ring < 180; ring += 15 {
		e := y.opticsOf(y.legs[0], mounting.Way{Filter: &f, Setting: 0, Ring: ring}).effect
		if e < most {
			most, mostRing = e, ring
		}
		if e > least {
			least, leastRing = e, ring
		}
	}
	if d := math.Abs(mostRing - leastRing); d != 90 {
		t.Errorf("most at ring %g, least at %g", mostRing, leastRing)
	}
}

// A 25 s leg with 3 takes and 45 s resets occupies 210 s of battery, and the light is judged at both
// ends of that.
func TestLightAtBothEndsOfTheTakes(t *testing.T) {
	l := plantest.Push(270, 8, 20)
	s := plantest.Flight(17, 50, l)
	s.Takes, s.ResetS, s.TransitS = 3, 45, 0
	if got := s.Times().Legs[0].OccupiedS; got != 210 {
		t.Errorf("occupies %g s", got)
	}
	r := solve(s)
	first, last := r.Path[0].Time[0], r.Path[len(r.Path)-1].Time[1]
	if got := last.Sub(first); got != 165*time.Second {
		t.Errorf("judged over %v", got)
	}
	ev := func(at time.Time) float64 {
		air := light.AirAt(s, 0, l.Ground)
		p := sun.At(at, s.LatDeg, s.LonDeg)
		return light.LandEV100(light.OnGround(s, p, sun.MoonAt(at, s.LatDeg, s.LonDeg), air), 270, -10, light.GroundAlbedo(shot.Grass))
	}
	if a, b := ev(first), ev(last); math.Abs(r.Legs[0].LandEV.Max-a) > 1e-6 || math.Abs(r.Legs[0].LandEV.Min-b) > 1e-6 {
		t.Errorf("land %v, at the two ends %.4f and %.4f", r.Legs[0].LandEV, a, b)
	}
}

// Light that falls during a flight pushes ISO up behind a density from leg to leg. Within a leg it is locked, and how
// far the light falls is said.
func TestFallingLightPushesISO(t *testing.T) {
	l := plantest.Push(0, 8, 20)
	l.Expose = shot.ExposeLand
	s := plantest.Flight(17, 40, l, l)
	s.Takes, s.Filter = 10, "ND16"
	r := only(s, "ND16")
	for i, l := range r.Legs {
		if l.ISO.span() != 0 || l.Shutter.span() != 0 || l.DriftStops < math.Log2(1.5) {
			t.Errorf("leg %d: ISO %v, shutter %v, drift %.2f", i+1, l.ISO, l.Shutter, l.DriftStops)
		}
		if all := strings.Join(l.Notes, "; "); !strings.Contains(all, words.AboutStops(l.DriftStops)+" darker by the end") {
			t.Errorf("leg %d: %q", i+1, all)
		}
	}
	gathered := func(l *LegReport) float64 { return l.ISO.Min * l.Shutter.Min }
	if a, b := gathered(&r.Legs[0]), gathered(&r.Legs[1]); b < 1.5*a {
		t.Errorf("ISO times shutter %g, then %g", a, b)
	}
	if r.LightChangeStops >= 0 {
		t.Errorf("light changes by %.2f stops", r.LightChangeStops)
	}
}

// What is said to a pilot has settable values, half-hours and words; never a ring in degrees or a score.
func TestWordsAreThePilots(t *testing.T) {
	for _, s := range []*shot.Shot{
		plantest.Flight(12, 0, plantest.Push(200, 8, 20)), plantest.Flight(17, 55, plantest.Push(90, 6, 30), plantest.StillOf(10, 3, 40)),
		plantest.Flight(9, 0, plantest.StillOf(30, 5, 50)), plantest.Flight(19, 0, plantest.Push(20, 5, 30)), plantest.Flight(8, 30, plantest.Turning(90, 180, 40)),
	} {
		r := solve(s)
		var all []string
		all = append(all, r.Call.Reasons...)
		all = append(all, r.Call.Ladder...)
		all = append(all, r.Call.ConfidenceWhy)
		for _, c := range r.Candidates {
			all = append(all, c.Reasons...)
			if c.WhyNot != "" {
				all = append(all, c.WhyNot)
			}
		}
		for _, l := range r.Legs {
			all = append(all, l.Notes...)
		}
		if len(r.Call.Reasons) == 0 || len(r.Call.Ladder) < 2 || r.Call.Confidence == "" || r.Call.ConfidenceWhy == "" {
			t.Errorf("the call says too little: %q", all)
		}
		for _, w := range all {
			for _, bad := range []string{"score", "ring_deg", "NaN", "Inf", "ψ", "%!"} {
				if strings.Contains(w, bad) {
					t.Errorf("%q holds %q", w, bad)
				}
			}
			for _, f := range strings.FieldsFunc(w, func(r rune) bool { return strings.ContainsRune(" ,;:", r) }) {
				if v, ok := strings.CutPrefix(f, "1/"); ok && !settable("1/"+v) {
					t.Errorf("%q: no camera has 1/%s", w, v)
				}
			}
			if i := strings.Index(w, "ISO "); i >= 0 {
				v := strings.FieldsFunc(w[i+4:], func(r rune) bool { return r < '0' || r > '9' })
				if len(v) > 0 && w[i+4] >= '0' && w[i+4] <= '9' && !isoSettable(v[0]) {
					t.Errorf("%q: no camera has ISO %s", w, v[0])
				}
			}
		}
		if r.Call.HasRing && math.Mod(r.Call.RingDeg, 15) != 0 {
			t.Errorf("ring %g is not a half-hour", r.Call.RingDeg)
		}
	}
}

func settable(label string) bool {
	for _, s := range exposure.ShuttersOf(0, 0, true) {
		if s.Label == label {
			return true
		}
	}
	return false
}

func isoSettable(label string) bool {
	for _, s := range exposure.ISOsOf(0, 0) {
		if s.Label == label {
			return true
		}
	}
	return false
}

func TestLadder(t *testing.T) {
	l := plantest.Push(200, 8, 20)
	l.Aim = shot.AimKeep
	s := plantest.Flight(16, 50, l)
	r := only(s, "ND16", "ND32")
	all := strings.Join(r.Call.Ladder, "\n")
	series := (&setting.Leg{Leg: &r.Shot.Legs[0]}).Shutters(r.Shot.Camera.FastestS, r.Shot.Camera.SlowestS)
	// 270° at 24 a second is 1/32 s: with the slack of half a third of a stop 1/30 is as slow as it may be.
	over := exposure.Nearest(series, r.Call.ShutterS/2).Label
	slowest, _ := exposure.AtMost(series, min(2*r.Call.ShutterS*1.03, 1.0/30))
	for _, want := range []string{fmt.Sprintf("meter a stop over: %s; a stop under: %s, then ISO to 400, then land", over, slowest.Label), "turn for home by "} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
}

// A neutral white balance is that of the light at the middle of the leg: warm under a low sun, where daylight stays daylight.
func TestNeutralWhiteBalanceIsThatOfTheLight(t *testing.T) {
	at, az := evening()
	for kind, want := range map[shot.WBKind]float64{shot.WBNeutral: exposure.WhiteBalanceK(exposure.SceneK(8, 0, true), 0), shot.WBDaylight: 5500} {
		l := plantest.StillOf(az+90, 4, 60)
		l.WhiteBalance.Kind = kind
		s := plantest.Flight(17, 20, l)
		s.TakeOff, s.Filter = at, "none"
		if got := solve(s).Call.WBK; math.Abs(got-want) > 101 {
			t.Errorf("%v: %.0f K, want %.0f", kind, got, want)
		}
	}
}

// Half of the transit is the way home: for that the battery has to last once one turns.
func TestTurnForHome(t *testing.T) {
	s := plantest.Flight(12, 50, plantest.Push(200, 8, 20))
	s.TransitS = 360
	r := only(s, "ND16", "ND32")
	want := "turn for home by " + r.Shot.ClockAt(r.Shot.Times().BatteryMin-3) + ", for the battery"
	if !slices.Contains(r.Call.Ladder, want) {
		t.Errorf("no %q in %q", want, r.Call.Ladder)
	}
}

// A card that names a filter or a ring gets just that, and hears what the free choice would be.
func TestCardsWishIsObeyed(t *testing.T) {
	l := plantest.Push(200, 8, 20)
	s := plantest.Flight(12, 0, l)
	s.Filter = "ND8"
	r := solve(s)
	if r.Call.Filter != "ND8" || r.Candidates[0].Filter != "ND8" {
		t.Fatalf("takes %s", r.Call.Filter)
	}
	if !strings.Contains(strings.Join(r.Call.Reasons, "\n"), "left to itself") {
		t.Errorf("does not say what it would take: %q", r.Call.Reasons)
	}
	s = plantest.Flight(11, 0, plantest.StillOf(250, 4, 60))
	s.Filter, s.RingAuto, s.RingDeg = "CPL", false, 37
	r = solve(s)
	if r.Call.Filter != "CPL" || r.Call.RingDeg != 37 {
		t.Errorf("takes %s at %g", r.Call.Filter, r.Call.RingDeg)
	}
	s.Filter = "none"
	if r = solve(s); r.Call.Filter != "none" {
		t.Errorf("takes %s", r.Call.Filter)
	}
}

func TestFixedRing(t *testing.T) {
	bag := kit.Generic()
	for i := range bag.Filters {
		if bag.Filters[i].Name == "CPL" {
			bag.Filters[i].Ring, bag.Filters[i].FixedDeg = kit.RingFixed, 40
		}
	}
	s := plantest.Flight(11, 0, plantest.StillOf(250, 4, 60))
	s.Filter = "CPL"
	if r := Solve(s, bag, Options{}); r.Call.RingDeg != 40 {
		t.Errorf("ring %g", r.Call.RingDeg)
	}
}

func TestLightLeft(t *testing.T) {
	l := plantest.Push(200, 8, 20)
	l.Aim, l.Expose = shot.AimKeep, shot.ExposeLand
	if r := only(plantest.Flight(9, 0, l), "ND8"); !math.IsInf(r.LightLeftMin, 1) {
		t.Errorf("in the morning light is left for %.0f min", r.LightLeftMin)
	}
	s := plantest.Flight(17, 30, l)
	s.Filter = "ND16"
	r := only(s, "ND16")
	y := newAnalysis(s, shot.Path(s, 8), turnKeys(25, 9), newShared(s.Legs[0].Height[0]))
	f, _ := kit.Generic().FilterByName("ND16")
	j := y.evaluate(mounting.Way{Filter: &f}, usualWeights(), 0)
	at := s.TakeOff.Add(time.Duration(r.LightLeftMin * float64(time.Minute)))
	air := light.AirAt(s, 0, shot.Grass)
	ev := light.LandEV100(light.OnGround(s, sun.At(at, 45, 0), light.NoMoon(), air), 200, -10, air.Albedo)
	// 270° of shutter at 24 a second, the end of the tolerance, is 1/32.
	if iso := exposure.ISO(ev, 2.8, 1.0/32, j.Loss(), 0); math.Abs(iso-400) > 2 {
		t.Errorf("after %.1f min ISO would be %.0f, want the clean limit 400", r.LightLeftMin, iso)
	}
	if r := only(plantest.Flight(20, 0, l), "ND8"); r.LightLeftMin != 0 {
		t.Errorf("at night light is left for %.0f min", r.LightLeftMin)
	}
}

// The order of equal legs does not change the ring; adding a filter never worsens the best score by
// more than what a simpler filter may cost; more clean ISO never makes a feasible filter infeasible.
func TestProperties(t *testing.T) {
	a, b := plantest.Push(100, 8, 20), plantest.Push(100, 8, 20)
	b.Aim = shot.AimBalance
	r1, r2 := solve(plantest.Flight(9, 0, a, b)), solve(plantest.Flight(9, 0, b, a))
	if r1.Call.Filter != r2.Call.Filter || r1.Call.RingDeg != r2.Call.RingDeg {
		t.Errorf("order of legs: %s %g, %s %g", r1.Call.Filter, r1.Call.RingDeg, r2.Call.Filter, r2.Call.RingDeg)
	}
	names := []string{"ND64", "ND8", "CPL", "ND16/PL", "ND32", "variable 1.6-5"}
	last := math.Inf(1)
	for i := range names {
		x := only(plantest.Flight(9, 0, a, b), names[:i+1]...).Candidates[0].Score
		if x > last+words.ReasonStops {
			t.Errorf("with %s added the score goes from %.3f to %.3f", names[i], last, x)
		}
		last = min(last, x)
	}
	for _, hour := range []int{12, 17, 18} {
		s := plantest.Flight(hour, 0, a)
		s.Legs[0].Mode.ISO = kit.ISO{Base: 100, Clean: 200, Limit: 800}
		before := map[string]bool{}
		for _, c := range solve(s).Candidates {
			before[c.Filter+fmt.Sprint(c.SettingStops)] = c.Feasible
		}
		s.Legs[0].Mode.ISO.Clean = 800
		for _, c := range solve(s).Candidates {
			if before[c.Filter+fmt.Sprint(c.SettingStops)] && !c.Feasible {
				t.Errorf("%d h: %s becomes infeasible", hour, c.Filter)
			}
		}
	}
}
