package water

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// SunSolidAngle is that of the sun's disc in steradians, half a degree and a bit across.
const SunSolidAngle = 6.8e-5

// faintest is where a glint ends: e^−30 of the sun is darker than the sky's own reflection.
const faintest = 30

// Glint returns the sun's light off the surface towards a camera that looks along d: sunDir is the unit
// vector to the sun, directNormalLx the illuminance on a surface square to it. Cox & Munk 1954 (from
// memory) for the chance that a facet is tilted just so; a mirror shows the disc itself.
func (s *Surface) Glint(d, sunDir r3.Vec, directNormalLx float64) Stokes {
	if d.Z >= 0 || sunDir.Z <= 0 {
		return Stokes{}
	}
	i, pol := s.GlintParts(-d.Z, sunDir.Z, r3.Dot(d, sunDir), directNormalLx)
	if i == 0 {
		return Stokes{}
	}
	// it is polarised square to the plane of the two rays
	right, up := Axes(d)
	sq, _ := facetAxes(d, sunDir)
	a, b := r3.Dot(sq, right), r3.Dot(sq, up)
	return Stokes{i, pol * (a*a - b*b), 2 * pol * a * b}
}

// GlintParts returns the luminance of the glint and the polarised part of it, whose E stands square to
// the plane through the line of sight and the sun. down is the part of the line of sight that points
// down, sunUp the sine of the sun's altitude, cosSun the cosine of the angle between the two rays.
func (s *Surface) GlintParts(down, sunUp, cosSun, directNormalLx float64) (luminance, polarised float64) {
	// the facet's normal halves the two rays: n = sun − d, not yet of length 1
	nz, n2 := sunUp+down, 2-2*cosSun
	if directNormalLx <= 0 || n2 < 1e-18 || nz <= 0 {
		return 0, 0
	}
	var g float64
	if s.Sigma2 > 0 {
		level := n2 - nz*nz
		if level > 2*faintest*s.Sigma2*nz*nz {
			return 0, 0
		}
		cb2 := nz * nz / n2
		e := level / (2 * s.Sigma2 * nz * nz)
		g = directNormalLx * math.Exp(-e) / (2 * math.Pi * s.Sigma2 * 4 * s.seen(down) * cb2 * cb2)
	} else {
		// the mirrored line of sight against the sun
		if cosSun+2*down*sunUp < 1-SunSolidAngle/(2*math.Pi) {
			return 0, 0
		}
		g = directNormalLx / SunSolidAngle
	}
	rs, rp := Fresnel(min(1, math.Sqrt(n2)/2), s.Index)
	return g * (rs*rs + rp*rp) / 2, g * (rs*rs - rp*rp) / 2
}

// seen returns the area of the facets that a line of sight meets, projected on it, for a level unit of
// surface: the sine of the depression, and more where the view is so flat that the facets which
// turn away are out of sight (the mean of max(0, ci)/nz over normal slopes, in closed form). It is the
// norm by which [Surface.Reflect] is divided, and keeps the glint finite at the horizon.
func (s *Surface) seen(down float64) float64 {
	tilt := math.Sqrt(s.Sigma2 * max(0, 1-down*down))
	if down > 4*tilt {
		return down
	}
	x := down / tilt
	return down*(1+math.Erf(x/math.Sqrt2))/2 + tilt*math.Exp(-x*x/2)/math.Sqrt(2*math.Pi)
}
