package water

import (
	"math"

	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sky returns the light from a direction above the horizon (unit vector, East-North-Up).
type Sky func(d r3.Vec) sun.Ray

// Light returns the same as a fast path wants it: the luminance, and the degree of polarisation times
// the cosine and the sine of twice the angle of E from u1 towards u2, unit vectors square to d and
// to each other.
type Light func(d, u1, u2 r3.Vec) (luminance, cos2, sin2 float64)

// Stokes is light on its way to the camera: I its luminance in cd/m², Q the part polarised along
// the horizontal axis less that along the upright one, U the same for the diagonals of [Axes].
type Stokes struct{ I, Q, U float64 }

// Axes returns the two axes, square to a line of sight d (unit, East-North-Up), that Q and U refer
// to: right is horizontal, up is in the vertical plane through d. Straight up or down, where the
// azimuth is lost, right is east.
func Axes(d r3.Vec) (right, up r3.Vec) {
	h := math.Sqrt(d.X*d.X + d.Y*d.Y)
	if h < 1e-9 {
		right = r3.Vec{X: 1}
	} else {
		right = r3.Vec{X: d.Y / h, Y: -d.X / h}
	}
	return right, r3.Cross(right, d)
}

// Plus adds incoherent light.
func (s Stokes) Plus(o Stokes) Stokes { return Stokes{s.I + o.I, s.Q + o.Q, s.U + o.U} }

// Times scales the light.
func (s Stokes) Times(k float64) Stokes { return Stokes{s.I * k, s.Q * k, s.U * k} }

// Passed returns the luminance that a perfect polariser passes whose E axis t (unit, square to the
// ray, East-North-Up) is given, for the axes of that ray.
func (s Stokes) Passed(t, right, up r3.Vec) float64 {
	a, b := r3.Dot(t, right), r3.Dot(t, up)
	return (s.I*(a*a+b*b) + s.Q*(a*a-b*b) + 2*s.U*a*b) / 2
}

// Cut is the glare cut 1 − 2F/I: 1 all gone, 0 as by a density, negative brighter.
func (s Stokes) Cut(t, right, up r3.Vec) float64 {
	if s.I <= 0 {
		return 0
	}
	return 1 - 2*s.Passed(t, right, up)/s.I
}

// facetStokes turns the light off one facet, given by its intensity along the facet's own axes (s
// square to the plane of incidence, p in it, x their correlation), into Stokes components.
func facetStokes(ss, pp, x float64, s, p, right, up r3.Vec) Stokes {
	sa, sb := r3.Dot(s, right), r3.Dot(s, up)
	pa, pb := r3.Dot(p, right), r3.Dot(p, up)
	aa := ss*sa*sa + pp*pa*pa + 2*x*sa*pa
	bb := ss*sb*sb + pp*pb*pb + 2*x*sb*pb
	ab := ss*sa*sb + pp*pa*pb + x*(sa*pb+sb*pa)
	return Stokes{aa + bb, aa - bb, 2 * ab}
}

// Facet returns the sky's light off one facet with unit normal n (n.Z > 0) towards a camera that
// looks along d (unit, from the camera to the facet). It is zero where the camera sees the facet
// from behind. A mirrored direction below the horizon is turned up: a second reflection, roughly.
func Facet(d, n r3.Vec, index float64, sky Sky) Stokes {
	ci := -r3.Dot(d, n)
	if ci <= 0 {
		return Stokes{}
	}
	r := r3.Add(d, r3.Scale(2*ci, n))
	if r.Z < 0 {
		r.Z = -r.Z
	}
	s, po := facetAxes(d, n)
	// the incident ray travels along −r; its in-plane axis must stand square to the mirrored ray
	pi := r3.Scale(-1, r3.Cross(r, s))
	rs, rp := Fresnel(min(1, ci), index)
	light := sky(r)
	g, u := light.Degree, (1-light.Degree)/2
	vs, vp := r3.Dot(light.E, s), r3.Dot(light.E, pi)
	ss := light.Luminance * rs * rs * (u + g*vs*vs)
	pp := light.Luminance * rp * rp * (u + g*vp*vp)
	x := light.Luminance * rs * rp * g * vs * vp
	right, up := Axes(d)
	return facetStokes(ss, pp, x, s, po, right, up)
}

// facetAxes returns the axes square to the plane of incidence and in it, for the reflected ray.
func facetAxes(d, n r3.Vec) (s, po r3.Vec) {
	s = r3.Cross(d, n)
	if l := r3.Norm(s); l > 1e-6 {
		s = r3.Scale(1/l, s)
	} else {
		s, _ = Axes(d) // at normal incidence any axis square to d serves
	}
	return s, r3.Scale(-1, r3.Cross(d, s))
}
