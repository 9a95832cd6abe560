package measure

import "math"

// DefaultWhiteBalanceK is what the white balance is taken to be locked at where nobody says (daylight).
const DefaultWhiteBalanceK = 5500

// toXYZ is the matrix of sRGB, IEC 61966-2-1; its white is D65.
var toXYZ = [3][3]float64{{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}

// bradford is the Bradford transform to cone responses, and back (as in ICC.1, annex E).
var (
	bradford     = [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	bradfordBack = [3][3]float64{{0.9869929, -0.1470543, 0.1599627}, {0.4323053, 0.5183603, 0.0492912}, {-0.0085287, 0.0400428, 0.9684867}}
)

func times(m [3][3]float64, v [3]float64) (out [3]float64) {
	for i := range m {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// planckian returns where a black body of a temperature stands in CIE 1960 uv: Krystek 1985 (Color Research & Application
// 10:38, from memory), for 1000 to 15000 K.
func planckian(k float64) (u, v float64) {
	u = (0.860117757 + 1.54118254e-4*k + 1.28641212e-7*k*k) / (1 + 8.42420235e-4*k + 7.08145163e-7*k*k)
	v = (0.317398726 + 4.22806245e-5*k + 4.20481691e-8*k*k) / (1 - 2.89741816e-5*k + 1.61456053e-7*k*k)
	return u, v
}

// The range of the locus, in mired.
const leastMired, mostMired = 1e6 / 15000, 1e6 / 1000

// nearest returns the black body nearest to a colour in CIE 1960 uv, in mired, and how far the colour lies above the locus
// (towards green; below it, towards magenta, is negative).
func nearest(u, v float64) (mired, duv float64) {
	away := func(m float64) float64 {
		a, b := planckian(1e6 / m)
		return math.Hypot(u-a, v-b)
	}
	// A coarse search over the whole locus, then a fine one about its best: the distance has one lowest place there.
	const step = 5
	mired = leastMired
	for m := leastMired; m <= mostMired; m += step {
		if away(m) < away(mired) {
			mired = m
		}
	}
	lo, hi := max(leastMired, mired-step), min(mostMired, mired+step)
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if away(a) < away(b) {
			hi = b
		} else {
			lo = a
		}
	}
	mired = (lo + hi) / 2
	_, locus := planckian(1e6 / mired)
	return mired, math.Copysign(away(mired), v-locus)
}

// white returns XYZ of a black body of a temperature, with Y 1.
func white(k float64) [3]float64 {
	u, v := planckian(k)
	x, y := 3*u/(2*u-8*v+4), 2*v/(2*u-8*v+4)
	return [3]float64{x / y, 1, (1 - x - y) / y}
}

// cast tells how a filter colours the light, from what it passes of red, green and blue, under a white balance locked at a
// temperature: in mired, warmer positive, and as a tint, magenta positive.
func cast(passed [3]float64, whiteBalanceK float64) (mired, tint float64) {
	one := luma(passed)
	xyz := times(toXYZ, [3]float64{passed[0] / one, passed[1] / one, passed[2] / one})
	// The picture's white stands for the light that the white balance was locked at.
	from, to := times(bradford, times(toXYZ, [3]float64{1, 1, 1})), times(bradford, white(whiteBalanceK))
	cones := times(bradford, xyz)
	for i := range cones {
		cones[i] *= to[i] / from[i]
	}
	xyz = times(bradfordBack, cones)
	sum := xyz[0] + 15*xyz[1] + 3*xyz[2]
	m, duv := nearest(4*xyz[0]/sum, 6*xyz[1]/sum)
	return m - 1e6/whiteBalanceK, -1000 * duv
}
