package kit

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Worked values of a pair with its rear axis upright (k1 0.8, k2 8e−5, n 1.5): the formula without
// the longer way through a slanted film.
func TestPairWorkedValues(t *testing.T) {
	const k1, k2 = 0.8, 8e-5
	for _, c := range []struct{ theta, x, y, cos2, pass, stops float64 }{
		{51.32, 0, 0, .390588, .125027, 2.9997},
		{71.81, -.785, .4414, .044820, .014404, 6.1174},
		{71.81, .785, .4414, .141895, .045461, 4.4592},
		{90, .6, .6, .010519, .003430, 8.1878},
	} {
		m := newPair(0, c.theta, k1, 0)
		d := pixel(c.x, c.y)
		bf, br := m.front.along(d), m.rear.along(d)
		x := m.cross - m.q*bf*br
		cos2 := x * x / ((1 - m.q*bf*bf) * (1 - m.q*br*br))
		pass := 0.5*(k1*k1+k2*k2)*cos2 + k1*k2*(1-cos2)
		if math.Abs(cos2-c.cos2) > 5e-7 || math.Abs(pass-c.pass) > 5e-7 ||
			math.Abs(-math.Log2(pass)-c.stops) > 5e-5 {
			t.Errorf("Θ %v at %v %v: %.7f %.7f %.5f", c.theta, c.x, c.y, cos2, pass, -math.Log2(pass))
		}
		// The answer's own Δ: its D and T give cos²Δ back, whatever the slant takes.
		a := m.Answer(d)
		cosIn := cosInside(d, m.q)
		s1 := math.Pow(k1, 1/cosIn)
		lf, lr := m.front.leak(d, 1/cosIn, m.q), m.rear.leak(d, 1/cosIn, m.q)
		if got := 2 * a.T * a.D / (s1 * s1 * (1 - lf*lr)); math.Abs(got-c.cos2) > 1e-6 {
			t.Errorf("Θ %v at %v %v: the answer has cos²Δ %.7f, want %.6f", c.theta, c.x, c.y, got, c.cos2)
		}
	}
}

// Largest less smallest loss over a 16:9 frame of unpolarised light, rear axis upright, by setting
// and diagonal field, to the digits given (half of the last one, and 0.005 for the grid).
func TestPairUnevenness(t *testing.T) {
	for _, row := range []struct {
		field float64
		want  [8]string // settings 2..9
	}{
		{84, [8]string{"0.15", "0.53", "1.01", "1.66", "2.6", "4.2", "6.9", "7.1"}},
		{60, [8]string{"0.08", "0.26", "0.50", "0.83", "1.28", "1.9", "2.8", "4.3"}},
		{40, [8]string{"0.03", "0.11", "0.22", "0.37", "0.56", "0.83", "1.2", "1.7"}},
	} {
		for i, word := range row.want {
			setting := float64(i + 2)
			var want float64
			fmt.Sscan(word, &want)
			tolerance := 0.005 + 0.005
			if len(word) == len("2.6") {
				tolerance = 0.05 + 0.005
			}
			m := newVariable(0, setting, 1.7, 0, true)
			low, high := math.Inf(1), math.Inf(-1)
			frame(row.field, func(x, y float64) {
				loss := -math.Log2(m.Answer(pixel(x, y)).T)
				low, high = min(low, loss), max(high, loss)
			})
			if math.Abs(high-low-want) > tolerance {
				t.Errorf("%v°, setting %v: %.3f, want %s", row.field, setting, high-low, word)
			}
		}
	}
}

// Difference between dark and light corners at settings 2 to 5 of an 84° frame. A step from even to
// uneven falls between the second and the third mark.
func TestPairCorners(t *testing.T) {
	for setting, want := range map[float64]float64{2: .07, 3: .46, 4: .98, 5: 1.66} {
		m := newVariable(0, setting, 1.7, 0, true)
		dark := -math.Log2(m.Answer(pixel(-.785, .4414)).T)
		light := -math.Log2(m.Answer(pixel(.785, .4414)).T)
		if math.Abs(dark-light-want) > 0.03 {
			t.Errorf("setting %v: %.3f, want %v", setting, dark-light, want)
		}
	}
}

// A heavy unit is a lighter pair with plain density: its pattern is that of the pair, and its
// corners differ by the density's slant only.
func TestHeavyUnit(t *testing.T) {
	if defaultFixedStops(6) != 4 || defaultFixedStops(4) != 2 || defaultFixedStops(2) != 0 {
		t.Fatal("fixed density of a unit: lightest setting less two from four stops on")
	}
	unit := newVariable(0, 9, 6, defaultFixedStops(6), true)
	pair := newVariable(0, 5, 2, 0, true)
	glass := newDensity(4)
	frame(84, func(x, y float64) {
		d := pixel(x, y)
		u, p, g := unit.Answer(d), pair.Answer(d), glass.Answer(d)
		if math.Abs(u.T/(p.T*g.T)-1) > 1e-8 || math.Abs(u.D-p.D) > 1e-9 {
			t.Fatalf("%v %v: %+v is not %+v with %+v", x, y, u, p, g)
		}
	})
}

// On the axis the setting is what is lost, however light or heavy, and D is Malus' law for two
// sheets: light along the front axis against light square to it.
func TestPairOnAxis(t *testing.T) {
	for _, from := range []float64{1, 1.3, 1.6, 1.6439, 1.7, 2} {
		k1 := pairK1(from)
		k2 := k1 * Extinction
		for n := from; n <= 13.2; n += 0.1 {
			m := newVariable(17, n, from, 0, false)
			if n < -math.Log2(0.5*(k1*k1+k2*k2)) {
				continue // lighter than open sheets: the clamp, below
			}
			if got := m.onAxisStops(); math.Abs(got-n) > 1e-6 {
				t.Errorf("from %v, setting %.2f: loses %.7f", from, n, got)
			}
			theta := crossingDeg(n, k1) * radian
			cos2, sin2 := math.Cos(theta)*math.Cos(theta), math.Sin(theta)*math.Sin(theta)
			along, across := k1*(k1*cos2+k2*sin2), k2*(k1*sin2+k2*cos2)
			a := m.Answer(r3.Vec{Z: 1})
			if math.Abs(a.T-(along+across)/2) > 1e-9 || math.Abs(a.D-(along-across)/(along+across)) > 1e-7 {
				t.Errorf("from %v, setting %.2f: %+v, want T %v D %v", from, n, a, (along+across)/2, (along-across)/(along+across))
			}
		}
	}
	if k1 := pairK1(1.64); k1 <= PairK1 || k1 > 0.802 {
		t.Errorf("a pair that starts at 1.64 has k1 %v, just above 0.8", k1)
	}
	for n, want := range map[float64]float64{0: 0, 1: 0, 40: 90} {
		if got := crossingDeg(n, PairK1); math.Abs(got-want) > 1e-9 {
			t.Errorf("Θ(%v) = %v, want %v", n, got, want)
		}
	}
	if open := newVariable(0, 1.6, 1.6, 0, true); math.Abs(open.onAxisStops()-1.6) > 1e-6 {
		t.Errorf("open at 1.6 loses %v", open.onAxisStops())
	}
	if pairLimitStops >= -math.Log2(PairK1*PairK1*Extinction) {
		t.Error("the limit must be lighter than crossed sheets")
	}
}

// A pair of opposite corners darkens along clock rear + 90° + Θ/2 when the front ring opens
// clockwise, rear + 90° − Θ/2 otherwise. The mirrored pattern is the same filter opened the other
// way.
func TestOpeningDirection(t *testing.T) {
	for setting := 2.0; setting <= 5; setting++ {
		cw := newVariable(0, setting, 1.7, 0, true)
		ccw := newVariable(0, setting, 1.7, 0, false)
		theta := crossingDeg(setting, PairK1)
		frame(84, func(x, y float64) {
			a, b := cw.Answer(pixel(x, y)), ccw.Answer(pixel(-x, y))
			if math.Abs(a.T-b.T) > 1e-12 || math.Abs(a.D-b.D) > 1e-12 {
				t.Fatalf("setting %v: not mirrored at %v %v", setting, x, y)
			}
		})
		for rear := 0.0; rear < 180; rear += 30 {
			for _, c := range []struct {
				opens bool
				want  float64
			}{{true, rear + 90 + theta/2}, {false, rear + 90 - theta/2}} {
				m := newVariable(rear, setting, 1.7, 0, c.opens)
				best, least := 0.0, math.Inf(1)
				for clock := 0.0; clock < 180; clock += 0.25 {
					s, cos := math.Sincos(clock * radian)
					if v := m.Answer(pixel(0.9*s, 0.9*cos)).T; v < least {
						best, least = clock, v
					}
				}
				if off := math.Abs(math.Remainder(best-c.want, 180)); off > 0.5 {
					t.Errorf("setting %v, rear %v, cw %v: darkest along %v, want %v", setting, rear, c.opens, best, axis180(c.want))
				}
			}
		}
	}
}

// The front sheet analyses the sky while it sets the density: sun at 3 o'clock on the horizon,
// degree 0.75, rear pass axis upright.
func TestPairOnSky(t *testing.T) {
	for setting, want := range map[float64]float64{2: .51, 3: -.26, 4: -.88, 5: -1.34} {
		m := newVariable(0, setting, 1.7, 0, true)
		a := m.Answer(r3.Vec{Z: 1})
		if got := math.Log2(a.Passed(0.75, r3.Vec{Y: 1}) / a.T); math.Abs(got-want) > 0.01 {
			t.Errorf("setting %v: %.3f stops, want %v", setting, got, want)
		}
	}
}

// How much the answer for polarised light leaves out, against the product of the sheets' amplitude
// matrices (Jones calculus) on the axis, for light of degree 0.75, a strong sky: at worst 0.10 stop up
// to setting 5, 0.46 at 9.
func TestPairAgainstJones(t *testing.T) {
	worst := map[float64]float64{}
	for _, n := range []float64{2, 3, 4, 5, 9} {
		theta := crossingDeg(n, PairK1) * radian
		m := newVariable(0, n, 1.7, 0, true)
		a := m.Answer(r3.Vec{Z: 1})
		g1, g2 := math.Sqrt(PairK1), math.Sqrt(PairK1*Extinction)
		for at := 0.0; at < 180; at += 0.25 {
			e := at * radian // clock angle of E
			// Along and across the front axis, then along and across the rear axis (upright).
			u, v := g1*math.Cos(e-theta), g2*math.Sin(e-theta)
			p := g1 * (u*math.Cos(theta) - v*math.Sin(theta))
			q := g2 * (u*math.Sin(theta) + v*math.Cos(theta))
			full := p*p + q*q
			exact := 0.75*full + 0.25*a.T // a quarter of the light is plain
			got := a.Passed(0.75, r3.Vec{X: math.Sin(e), Y: math.Cos(e)})
			worst[n] = max(worst[n], math.Abs(math.Log2(got/exact)))
		}
	}
	for n := 2.0; n <= 5; n++ {
		if worst[n] > 0.105 {
			t.Errorf("setting %v: worst %.3f stop", n, worst[n])
		}
	}
	if math.Abs(worst[9]-0.46) > 0.02 {
		t.Errorf("setting 9: worst %.3f stop, want 0.46", worst[9])
	}
	t.Logf("worst error in stops: %.3f at 5, %.3f at 9", worst[5], worst[9])
}

// A variable that was measured takes at a mark what was measured there, between two marks what lies between, beyond them as
// far off as the nearest one; its layer of diffusion is in it.
func TestMeasuredVariable(t *testing.T) {
	f := Filter{Kind: Variable, FromStops: 2, ToStops: 6, Grade: "1/4", Measured: [][2]float64{{2, 2.2}, {4, 4.6}}}
	for setting, want := range map[float64]float64{2: 2.2, 3: 3.4, 4: 4.6, 5: 5.6, 1.5: 1.7} {
		m := f.Mount(0, setting)
		if got := f.TotalStops(setting); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g it takes %g stops, want %g", setting, got, want)
		}
		if got := -math.Log2(m.Answer(r3.Vec{Z: 1}).T); math.Abs(got-want) > 1e-3 {
			t.Errorf("at %g it takes %g stops on the lens, want %g", setting, got, want)
		}
	}
}
