package sun

import (
	"fmt"
	"math"
)

// StandardSky is one of the fifteen types of the CIE Standard General Sky (ISO 15469:2004 / CIE
// S 011): luminance relative to the zenith, as a gradation φ from zenith to horizon times a
// scattering indicatrix f around the sun.
type StandardSky struct {
	a, b    float64 // gradation: φ(Z) = 1 + a·e^(b/cos Z)
	c, d, e float64 // indicatrix: f(χ) = 1 + c(e^(dχ) − e^(dπ/2)) + e·cos²χ
	offset  float64 // e^(dπ/2)
}

// standardSkies are the coefficients of the standard's table 1, which are six gradations joined to
// six indicatrices.
var standardSkies = func() [15]StandardSky {
	gradation := [7][2]float64{{}, {4, -0.7}, {1.1, -0.8}, {0, -1}, {-1, -0.55}, {-1, -0.32}, {-1, -0.15}}
	indicatrix := [7][3]float64{{}, {0, -1, 0}, {2, -1.5, 0.15}, {5, -2.5, 0.30}, {10, -3, 0.45}, {16, -3, 0.30}, {24, -2.8, 0.15}}
	groups := [15][2]int{{1, 1}, {1, 2}, {2, 1}, {2, 2}, {3, 1}, {3, 2}, {3, 3}, {3, 4},
		{4, 2}, {4, 3}, {4, 4}, {5, 4}, {5, 5}, {6, 5}, {6, 6}}
	var all [15]StandardSky
	for i, g := range groups {
		var s StandardSky
		s.a, s.b = gradation[g[0]][0], gradation[g[0]][1]
		s.c, s.d, s.e = indicatrix[g[1]][0], indicatrix[g[1]][1], indicatrix[g[1]][2]
		s.offset = math.Exp(s.d * math.Pi / 2)
		all[i] = s
	}
	return all
}()

// StandardSkyType returns one of the types 1 (overcast, steep gradation) to 15 (white-blue, turbid).
// It panics on any other number.
//
// The luminance relative to the zenith's, in a direction at the angle χ from the sun and the zenith
// distance Z, is Indicatrix(cos χ)·Gradation(cos Z) over Indicatrix(cos Zs)·Gradation(1), where Zs is the
// zenith distance of the sun.
func StandardSkyType(n int) StandardSky {
	if n < 1 || n > len(standardSkies) {
		panic(fmt.Sprintf("sun: no standard sky type %d", n))
	}
	return standardSkies[n-1]
}

// Gradation returns φ for the cosine of a zenith distance; below the altitude 0.5° it is that of 0.5°.
func (s StandardSky) Gradation(cosZenith float64) float64 {
	return 1 + s.a*math.Exp(s.b/max(cosZenith, sinFloor))
}

// Indicatrix returns f for the cosine of the angle to the sun.
func (s StandardSky) Indicatrix(cosSun float64) float64 {
	x := min(1, max(-1, cosSun))
	return 1 + s.c*(math.Exp(s.d*math.Acos(x))-s.offset) + s.e*x*x
}

// blend says which skies a cloud mixes: the logarithm of the luminance relative to the zenith is weighted between
// the clear sky and at most four standard skies (ours). Each of them is a product of a gradation and an
// indicatrix, and so is the blend, which is what makes its integral over the sky cheap.
type blend struct {
	clear float64 // weight of the clear sky
	n     int
	part  [4]blendPart
}

type blendPart struct {
	weight     float64
	sky        *StandardSky
	log2Zenith float64 // of f(Zs)·φ(0)
}

// Cloud covers at which a standard sky stands alone; ours.
const (
	brokenCloud, almostClosed = 0.5, 0.85
)

// newBlend chooses the skies. With the sun shining: clear at no cloud, type 8 at a half, type 4 at .85, type 1 at
// full cloud; with the sun hidden types 9 and 3 in between; and from the one to the other as the sun goes.
func newBlend(c Cloud, sinSun float64) blend {
	var b blend
	put := func(kind int, weight float64) {
		if weight > 0 {
			s := StandardSkyType(kind)
			b.part[b.n] = blendPart{weight, &standardSkies[kind-1], math.Log2(s.Indicatrix(sinSun) * s.Gradation(1))}
			b.n++
		}
	}
	either := func(bright, dark int, weight float64) {
		put(bright, weight*(1-c.SunHidden))
		put(dark, weight*c.SunHidden)
	}
	switch {
	case c.Cover <= 0:
		b.clear = 1
	case c.Cover < brokenCloud:
		w := c.Cover / brokenCloud
		b.clear = 1 - w
		either(8, 9, w)
	case c.Cover < almostClosed:
		w := (c.Cover - brokenCloud) / (almostClosed - brokenCloud)
		either(8, 9, 1-w)
		either(4, 3, w)
	default:
		w := (c.Cover - almostClosed) / (1 - almostClosed)
		either(4, 3, 1-w)
		put(1, w)
	}
	return b
}

// indicatrix and gradation are those of the sky, from what a ray knows already. The skies of the blend have
// d = −3, −1.5 or c = 0, so that the indicatrix needs no exponential of its own.
func (b *blendPart) indicatrix(v view) float64 {
	s := b.sky
	f := 1 + s.e*v.cosSun*v.cosSun
	switch {
	case s.c == 0:
	case s.d == -3:
		f += s.c * (v.halo - s.offset)
	case s.d == -1.5:
		f += s.c * (math.Sqrt(v.halo) - s.offset)
	default:
		panic("sun: this standard sky is no part of the blend")
	}
	return f
}

func (b *blendPart) gradation(sinEl float64) float64 {
	if b.sky.a == 0 {
		return 1
	}
	return 1 + b.sky.a*expNeg(-b.sky.b/sinEl)
}
