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
