package measure

import (
	"math"
	"testing"
)

// uv is a chromaticity in CIE 1960, from CIE 1931.
func uv(x, y float64) (u, v float64) { return 4 * x / (-2*x + 12*y + 3), 6 * y / (-2*x + 12*y + 3) }

// Temperatures and distances from the locus: of CIE standard illuminants, whose chromaticities and temperatures are those of
// CIE 15 (from memory); one worked by Ohno's method of 2014, read in the documentation of a public colour library. Krystek's
// approximation is good to a few kelvin here, so it is held to one mired and to 3e−4.
func TestNearest(t *testing.T) {
	for name, tt := range map[string]struct{ u, v, kelvin, duv float64 }{
		"worked example": {0.1978, 0.3122, 6507.47, 0.0032233},
	} {
		m, duv := nearest(tt.u, tt.v)
		near(t, name+", mired", m, 1e6/tt.kelvin, 1)
		near(t, name+", Duv", duv, tt.duv, 3e-4)
	}
	for name, tt := range map[string]struct{ x, y, kelvin, duv float64 }{
		"A": {0.44758, 0.40745, 2856, 0}, "D65": {0.31272, 0.32903, 6504, 0.0032}, "D50": {0.34567, 0.35851, 5003, 0.0032},
	} {
		u, v := uv(tt.x, tt.y)
		m, duv := nearest(u, v)
		near(t, name+", mired", m, 1e6/tt.kelvin, 1)
		near(t, name+", Duv", duv, tt.duv, 3e-4)
	}
}

// The locus where the same documentation prints Krystek's formula: 6504.38938305 K stands at 0.2004720, 0.3102929.
func TestPlanckian(t *testing.T) {
	u, v := planckian(6504.38938305)
	near(t, "u", u, 0.2004720, 1e-7)
	near(t, "v", v, 0.3102929, 1e-7)
	for m := 70.0; m < 1000; m += 13 { // and back again
		u, v := planckian(1e6 / m)
		got, duv := nearest(u, v)
		near(t, "mired there and back", got, m, 1e-3)
		near(t, "Duv on the locus", duv, 0, 1e-7)
	}
}

// The Bradford transform from D65 to D50 is the matrix that ICC profiles of sRGB carry (ICC.1, from memory).
func TestBradford(t *testing.T) {
	from, to := times(bradford, [3]float64{0.95047, 1, 1.08883}), times(bradford, [3]float64{0.96422, 1, 0.82521})
	want := [3][3]float64{{1.0478112, 0.0228866, -0.0501270}, {0.0295424, 0.9904844, -0.0170491}, {-0.0092345, 0.0150436, 0.7521316}}
	for c := range 3 {
		var one [3]float64
		one[c] = 1
		cones := times(bradford, one)
		for i := range cones {
			cones[i] *= to[i] / from[i]
		}
		for r, v := range times(bradfordBack, cones) {
			near(t, "matrix", v, want[r][c], 2e-6)
		}
	}
}

// A grey filter has no cast; one through which white light looks like that of another black body has the difference; what
// takes green is magenta.
func TestCast(t *testing.T) {
	for _, k := range []float64{3200, 5500, 6500, 9000} {
		mired, tint := cast([3]float64{0.125, 0.125, 0.125}, k)
		near(t, "cast of grey", mired, 0, 0.1)
		near(t, "tint of grey", tint, 0, 0.05)
		for _, other := range []float64{3000, 4500, 7000} {
			// What passes is worked backwards: the other white, seen under this white balance, as RGB.
			from, to := times(bradford, white(k)), times(bradford, times(toXYZ, [3]float64{1, 1, 1}))
			cones := times(bradford, white(other))
			for i := range cones {
				cones[i] *= to[i] / from[i]
			}
			rgb := times(inverse(toXYZ), times(bradfordBack, cones))
			mired, tint := cast(rgb, k)
			near(t, "cast", mired, 1e6/other-1e6/k, 0.1)
			near(t, "tint", tint, 0, 0.05)
		}
	}
	if _, tint := cast([3]float64{1, 0.9, 1}, 5500); tint < 3 {
		t.Errorf("less green has a tint of %g", tint)
	}
	if mired, _ := cast([3]float64{1, 0.95, 0.85}, 5500); mired < 3 {
		t.Errorf("less blue has a cast of %g", mired)
	}
	if mired, tint := cast([3]float64{1, 1e-6, 1e-6}, 5500); math.IsNaN(mired + tint) {
		t.Error("a red filter has no cast")
	}
}
