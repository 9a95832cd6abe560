package water

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Surface is the state of the water: flat, or roughened by wind.
type Surface struct {
	Sigma2   float64 // variance of the slope along one axis; 0 is a mirror
	SunAzDeg float64 // the facets are laid out along and across the sun's azimuth
	facets   [5]facet
	count    int
}

type facet struct {
	n      r3.Vec
	weight float64
}

// mirrorBelowMS is the wind under which the surface is taken for a mirror [ours]: the fit of Cox &
// Munk would leave a mean-square slope of 0.003 even in a calm.
const mirrorBelowMS = 0.5

// MeanSquareSlope is that of a clean surface under a wind in m/s at 12.5 m (Cox & Munk 1954,
// J. Opt. Soc. Am. 44:838: 0.003 + 0.00512 W).
func MeanSquareSlope(windMS float64) float64 { return 0.003 + 0.00512*windMS }

// NewSurface lays out the surface for a wind in m/s, 0 or less being a mirror.
//
// Five facets stand for the distribution of slopes: the level one, and one at two standard
// deviations to each side along the sun's azimuth and across it. Their weights, ½ and ⅛ each, keep
// the mean and the variance of the slope [ours]. The glare cut by them stays within 0.05 of a fine
// quadrature at 3 m/s, 0.10 at 5 and 0.14 at 10.
func NewSurface(windMS, sunAzDeg float64) Surface {
	s := Surface{SunAzDeg: sunAzDeg}
	if windMS < mirrorBelowMS {
		s.facets[0], s.count = facet{r3.Vec{Z: 1}, 1}, 1
		return s
	}
	s.Sigma2 = MeanSquareSlope(windMS) / 2
	step := 2 * math.Sqrt(s.Sigma2)
	sa, ca := math.Sincos(sunAzDeg * math.Pi / 180)
	along, across := r3.Vec{X: sa, Y: ca}, r3.Vec{X: ca, Y: -sa}
	s.count = 5
	s.facets[0] = facet{r3.Vec{Z: 1}, .5}
	for i, z := range []r3.Vec{r3.Scale(step, along), r3.Scale(-step, along), r3.Scale(step, across), r3.Scale(-step, across)} {
		s.facets[i+1] = facet{r3.Unit(r3.Vec{X: -z.X, Y: -z.Y, Z: 1}), .125}
	}
	return s
}

// Reflect gives the sky's light off the surface towards a camera that looks along d (unit, down).
// This is the plain path; [Table] is the fast one.
func (s *Surface) Reflect(d r3.Vec, sky Sky) Stokes {
	var sum Stokes
	var weight float64
	for _, f := range s.facets[:s.count] {
		w := f.weight * max(0, -r3.Dot(d, f.n)) / f.n.Z
		if w <= 0 {
			continue
		}
		sum = sum.Plus(Facet(d, f.n, Index, sky).Times(w))
		weight += w
	}
	if weight <= 0 {
		return Stokes{}
	}
	return sum.Times(1 / weight)
}

// sunSolidAngle is that of the sun's disc in steradians, half a degree and a bit across.
const sunSolidAngle = 6.8e-5

// Glint gives the sun's light off the surface towards a camera that looks along d: s is the unit
// vector to the sun, directNormalLx the illuminance on a surface square to it. Cox & Munk 1954 (from
// memory) for the chance that a facet is tilted just so; a mirror shows the disc itself.
func (s *Surface) Glint(d, sunDir r3.Vec, directNormalLx float64) Stokes {
	if directNormalLx <= 0 || d.Z >= 0 || sunDir.Z <= 0 {
		return Stokes{}
	}
	n := r3.Sub(sunDir, d)
	l := r3.Norm(n)
	if l < 1e-9 {
		return Stokes{}
	}
	n = r3.Scale(1/l, n)
	if n.Z <= 0 {
		return Stokes{}
	}
	var g float64
	if s.Sigma2 > 0 {
		zx, zy := n.X/n.Z, n.Y/n.Z
		e := (zx*zx + zy*zy) / (2 * s.Sigma2)
		if e > 30 {
			return Stokes{} // e^−30 of the sun is darker than the sky's own reflection
		}
		cb2 := n.Z * n.Z
		g = directNormalLx * math.Exp(-e) / (2 * math.Pi * s.Sigma2) / (4 * -d.Z * cb2 * cb2)
	} else {
		mirrored := r3.Vec{X: d.X, Y: d.Y, Z: -d.Z}
		if r3.Dot(mirrored, sunDir) < 1-sunSolidAngle/(2*math.Pi) {
			return Stokes{}
		}
		g = directNormalLx / sunSolidAngle
	}
	rs, rp := Fresnel(min(1, max(0, -r3.Dot(d, n))), Index)
	sa, pa := facetAxes(d, n)
	right, up := Axes(d)
	return facetStokes(g*rs*rs/2, g*rp*rp/2, 0, sa, pa, right, up)
}

// Leaving is the reflectance of the water's own light, scattered up from below the surface, by its
// clarity: .02 clear deep water .. .05 turbid estuary (from memory).
const Leaving = 0.03

// LeavingLuminance is the unpolarised luminance of that light under a horizontal illuminance in lx.
func LeavingLuminance(totalLx float64) float64 { return Leaving * totalLx / math.Pi }
