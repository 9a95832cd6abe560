package sun

import (
	"fmt"
	"math"
	"testing"
)

// The error bar by its formula: the plain sky for the ends of what the aerosol may be, and 0.04 beyond.
func TestDegreeRangeByItsFormula(t *testing.T) {
	const h, el, az, nm = 20, 30, 75, 550
	tauR := RayleighDepth(nm, 1013.25)
	for _, c := range []struct {
		kind        AirKind
		given       bool
		least, most float64 // of the depolarisation
		depth       float64
	}{
		{AirAuto, false, 1.2, 4.4, 1.6}, {AirAuto, true, 1.2, 4.4, 1.15},
		{AirSea, false, 1.6 / 1.4, 1.6 * 1.4, 1.6}, {AirTown, true, 1.2 / 1.4, 1.2 * 1.4, 1.15}, {AirDust, false, 4.4 / 1.4, 4.4 * 1.4, 1.6},
	} {
		for _, aod := range []float64{0, 0.02, 0.1, 0.35, 0.7} {
			for _, cover := range []float64{0, 0.3, 0.8, 1} {
				a := Air{AOD: aod, DepthGiven: c.given, Kind: c.kind, PressureHPa: 1013.25, Albedo: 0.15, Cloud: Cloud{Cover: cover}}
				p := NewPattern(sunAzTest, h, a, nm)
				low, high := p.DegreeRange(Direction(sunAzTest+az, el))
				under := func(degree float64) float64 { // the rule of physics for cloud
					return degree*(1-cover)*(1-0.3*cover) + cover*math.Min(0.16, 0.2*degree)
				}
				end := func(tauA, k float64) float64 {
					return under(plainSky(optics{tauR: tauR, tauA: tauA, albedo: 0.15, k: k}, h, el, az).degree)
				}
				what := fmt.Sprintf("kind %d, given %v, depth %g, cloud %g: ", c.kind, c.given, aod, cover)
				near(t, what+"low end", low, math.Max(0, end(aod*c.depth, c.most)-0.04), 1e-5)
				near(t, what+"high end", high, math.Min(1, end(aod/c.depth, c.least)+0.04), 1e-5)
			}
		}
	}
}

// From the sun on the horizon down to −4° the bar widens evenly to "anything".
func TestDegreeRangeWidensAtDusk(t *testing.T) {
	d := Direction(340, 25)
	at := func(alt float64) (low, high float64) {
		p := NewPattern(250, alt, ClearAir(40, 0), 550)
		return p.DegreeRange(d)
	}
	low, high := at(0)
	if !(low > 0.3 && high < 1) {
		t.Fatalf("on the horizon: %g..%g", low, high)
	}
	for _, alt := range []float64{-0.5, -1, -2, -3.9} {
		l, h := at(alt)
		near(t, fmt.Sprintf("low end at %g°", alt), l, low*(1+alt/4), 1e-12)
		near(t, fmt.Sprintf("high end at %g°", alt), h, high-(1-high)*alt/4, 1e-12)
	}
	for _, alt := range []float64{-4, -4.1, -50} {
		if l, h := at(alt); l != 0 || h != 1 {
			t.Errorf("at %g° something is claimed: %g..%g", alt, l, h)
		}
	}
}

// Nine in ten degrees of a vector transfer calculation with three aerosols lie within the bar, over the whole
// sky and at a right angle to the sun, where the polariser is used: with the depth guessed (right, and off by
// as much as is allowed for, either way) and given, with the kind of air unknown and named. How strongly the
// kinds depolarise was fitted to these three aerosols, so this holds the form of the bar more than its ends;
// measured skies stand in another test.
func TestDegreeRangeHoldsWhatItClaims(t *testing.T) {
	kinds := map[string]AirKind{"maritime_1": AirSea, "urban_fine_1": AirTown, "urban_fine_0.3": AirDust}
	table := skyTable(t, "sky_truth_aerosol.csv")
	for _, named := range []bool{false, true} {
		for _, given := range []bool{false, true} {
			allowed := guessedDepthError
			if given {
				allowed = givenDepthError
			}
			for _, off := range []float64{1 / allowed, 1, allowed} {
				var all, side struct{ in, n, width float64 }
				byAir := map[string]*stat{}
				for _, row := range table {
					a := Air{AOD: num(t, row, "aod550") * off, DepthGiven: given, PressureHPa: 1013.25, Albedo: num(t, row, "albedo")}
					if named {
						a.Kind = kinds[row["aerosol"]]
					}
					p := NewPattern(sunAzTest, num(t, row, "sun_el"), a, 550)
					d := Direction(sunAzTest+num(t, row, "az_from_sun_cw"), num(t, row, "view_el"))
					low, high := p.DegreeRange(d)
					in := 0.0
					if want := num(t, row, "DoP"); low <= want && want <= high {
						in = 1
					}
					all.in, all.n, all.width = all.in+in, all.n+1, all.width+high-low
					if g := p.scatteringDeg(d); g >= 75 && g <= 105 {
						side.in, side.n, side.width = side.in+in, side.n+1, side.width+high-low
					}
					if byAir[row["aerosol"]] == nil {
						byAir[row["aerosol"]] = new(stat)
					}
					byAir[row["aerosol"]].add(in)
				}
				what := fmt.Sprintf("air named %v, depth given %v and off %.2f times", named, given, off)
				t.Logf("%s: inside %.1f %% of %.0f, %.2f wide; side-on %.1f %% of %.0f, %.2f wide; sea %.0f, town %.0f, dust %.0f %%", what,
					100*all.in/all.n, all.n, all.width/all.n, 100*side.in/side.n, side.n, side.width/side.n,
					100*byAir["maritime_1"].mean(), 100*byAir["urban_fine_1"].mean(), 100*byAir["urban_fine_0.3"].mean())
				if all.in < 0.9*all.n || side.in < 0.9*side.n || side.n < 200 {
					t.Errorf("%s: %.1f %% inside, side-on %.1f %%", what, 100*all.in/all.n, 100*side.in/side.n)
				}
			}
		}
	}
}

// A named air is closer than an unknown one, each in the air it is meant for; asked: 0.05 rms (ours).
func TestNamedAirIsCloser(t *testing.T) {
	for name, kind := range map[string]AirKind{"maritime_1": AirSea, "urban_fine_1": AirTown, "urban_fine_0.3": AirDust} {
		var is, unknown stat
		for _, row := range skyTable(t, "sky_truth_aerosol.csv") {
			if row["aerosol"] != name {
				continue
			}
			a := Air{AOD: num(t, row, "aod550"), PressureHPa: 1013.25, Albedo: num(t, row, "albedo")}
			d := Direction(sunAzTest+num(t, row, "az_from_sun_cw"), num(t, row, "view_el"))
			for kind, s := range map[AirKind]*stat{kind: &is, AirAuto: &unknown} {
				a.Kind = kind
				p := NewPattern(sunAzTest, num(t, row, "sun_el"), a, 550)
				s.add(p.degree(d) - num(t, row, "DoP"))
			}
		}
		atMost(t, name+" named, degree rms", is.rms(), 0.05)
		atMost(t, name+" named against unknown", is.rms(), unknown.rms())
	}
}

// More haze is a wider bar, and a depth that is known or an air that is named a narrower one.
func TestDegreeRangeKnowsWhatIsKnown(t *testing.T) {
	d := Direction(90, 30)
	width := func(a Air) float64 {
		p := NewPattern(0, 20, a, 550)
		low, high := p.DegreeRange(d)
		return high - low
	}
	last := 0.0
	for _, aod := range []float64{0, 0.02, 0.08, 0.17, 0.35} {
		a := ClearAir(40, 0)
		a.AOD = aod
		guessed := width(a)
		a.DepthGiven = true
		given := width(a)
		a.Kind = AirTown
		named := width(a)
		if guessed < last || given > guessed || named > given || aod > 0 && !(named < given && given < guessed) {
			t.Errorf("depth %g: guessed %.3f, given %.3f, named %.3f wide, after %.3f", aod, guessed, given, named, last)
		}
		last = guessed
	}
	near(t, "no haze at all: the formulas alone", width(Air{PressureHPa: 1013}), 2*formulaError, 1e-12)
}
