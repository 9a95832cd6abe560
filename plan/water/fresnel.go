// Package water gives the light that a surface of water sends to a camera: the polarised sky
// mirrored in a flat or wind-roughened surface, the sun's glint, and the light that leaves the water
// itself.
//
// What a polariser does to water is decided by the polarisation of the reflected light, which is
// that of the sky at the mirrored direction, changed by the two Fresnel coefficients. It is carried
// as Stokes components in the plane square to the ray, with respect to a horizontal and an upright
// axis (see [Axes]), so that light from several facets can be added up.
package water

import "math"

// Index is the refractive index of water in the visible (sea water 1.339, fresh 1.333 at 20 °C;
// the tables here use 1.333).
const Index = 1.333

// Fresnel returns the amplitude reflection coefficients of a dielectric of refractive index n, for
// light with E square to the plane of incidence (rs) and in it (rp). cosIncidence is the cosine of
// the angle of incidence, 0..1. The signs are those of Born & Wolf, Principles of Optics, section
// 1.5.2, with rp positive at normal incidence.
func Fresnel(cosIncidence, n float64) (rs, rp float64) {
	ci := cosIncidence
	ct := math.Sqrt(1 - (1-ci*ci)/(n*n))
	return (ci - n*ct) / (ci + n*ct), (n*ci - ct) / (n*ci + ct)
}

// BrewsterDeg returns the angle of incidence, in degrees, at which rp vanishes.
func BrewsterDeg(n float64) float64 { return math.Atan(n) * 180 / math.Pi }
