package water

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Surface is something that mirrors: water, flat or roughened by wind, or a wet or waxy ground.
type Surface struct {
	Index    float64 // of refraction
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
	if windMS < mirrorBelowMS {
		return NewRough(0, Index, sunAzDeg)
	}
	return NewRough(MeanSquareSlope(windMS)/2, Index, sunAzDeg)
}

// NewRough lays out a surface of facets with a given variance of the slope along one axis and a
// refractive index: wet rock, leaves.
func NewRough(sigma2, index, sunAzDeg float64) Surface {
	s := Surface{Index: index, Sigma2: sigma2, SunAzDeg: sunAzDeg}
	if sigma2 <= 0 {
		s.facets[0], s.count = facet{r3.Vec{Z: 1}, 1}, 1
		return s
	}
	step := 2 * math.Sqrt(sigma2)
	sa, ca := math.Sincos(sunAzDeg * math.Pi / 180)
	along, across := r3.Vec{X: sa, Y: ca}, r3.Vec{X: ca, Y: -sa}
	s.count = 5
	s.facets[0] = facet{r3.Vec{Z: 1}, .5}
	for i, z := range []r3.Vec{r3.Scale(step, along), r3.Scale(-step, along), r3.Scale(step, across), r3.Scale(-step, across)} {
		s.facets[i+1] = facet{r3.Unit(r3.Vec{X: -z.X, Y: -z.Y, Z: 1}), .125}
	}
	return s
}

// Reflect returns the sky's light off the surface towards a camera that looks along d (unit, down).
// This is the plain path; [Table] is the fast one.
func (s *Surface) Reflect(d r3.Vec, sky Sky) Stokes {
	var sum Stokes
	var weight float64
	for _, f := range s.facets[:s.count] {
		w := f.weight * max(0, -r3.Dot(d, f.n)) / f.n.Z
		if w <= 0 {
			continue
		}
		sum = sum.Plus(Facet(d, f.n, s.Index, sky).Times(w))
		weight += w
	}
	if weight <= 0 {
		return Stokes{}
	}
	return sum.Times(1 / weight)
}

// mirrored is [Surface.Reflect] with the facet's own two axes for the sky's polarisation: no root
// for E, and the turn to the axes of the ray is done once.
func (s *Surface) mirrored(d r3.Vec, light Light) Stokes {
	right, up := Axes(d)
	var sum Stokes
	var weight float64
	for i := range s.count {
		f := &s.facets[i]
		n := f.n
		ci := -(d.X*n.X + d.Y*n.Y + d.Z*n.Z)
		if ci <= 0 {
			continue
		}
		w := f.weight * ci / n.Z
		weight += w
		r := r3.Vec{X: d.X + 2*ci*n.X, Y: d.Y + 2*ci*n.Y, Z: math.Abs(d.Z + 2*ci*n.Z)}
		sx, sy, sz := d.Y*n.Z-d.Z*n.Y, d.Z*n.X-d.X*n.Z, d.X*n.Y-d.Y*n.X
		sq := right
		if l := sx*sx + sy*sy + sz*sz; l > 1e-12 {
			k := 1 / math.Sqrt(l)
			sq = r3.Vec{X: sx * k, Y: sy * k, Z: sz * k}
		}
		in := r3.Vec{X: r.Z*sq.Y - r.Y*sq.Z, Y: r.X*sq.Z - r.Z*sq.X, Z: r.Y*sq.X - r.X*sq.Y} // −r × s
		l, q, u := light(r, sq, in)
		rs, rp := Fresnel(min(1, ci), s.Index)
		l *= w / 2
		ss, pp, x := l*rs*rs*(1+q), l*rp*rp*(1-q), 2*l*rs*rp*u
		// in the axes of the ray the facet's s stands at (a, b) and its p at (−b, a)
		a, b := sq.X*right.X+sq.Y*right.Y, sq.X*up.X+sq.Y*up.Y+sq.Z*up.Z
		c2, s2 := a*a-b*b, 2*a*b
		sum.I += ss + pp
		sum.Q += (ss-pp)*c2 - x*s2
		sum.U += (ss-pp)*s2 + x*c2
	}
	if weight <= 0 {
		return Stokes{}
	}
	return sum.Times(1 / weight)
}

// Leaving is the reflectance of the water's own light, scattered up from below the surface and
// unpolarised: under a horizontal illuminance E its luminance is Leaving·E/π. By clarity: .02 clear
// deep water .. .05 turbid estuary (from memory).
const Leaving = 0.03
