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
	facets   [2 * ringFacets]facet
	count    int
}

type facet struct {
	n     r3.Vec  // unit normal
	share float64 // weight by the area it covers of a level surface: divided by n.Z
}

// mirrorBelowMS is the wind under which the surface is taken for a mirror [ours]: the fit of Cox &
// Munk would leave a mean-square slope of 0.003 even in a calm.
const mirrorBelowMS = 0.5

// MeanSquareSlope is that of a clean surface under a wind in m/s at 12.5 m (Cox & Munk 1954,
// J. Opt. Soc. Am. 44:838: 0.003 + 0.00512 W).
func MeanSquareSlope(windMS float64) float64 { return 0.003 + 0.00512*windMS }

// NewSurface lays out the surface for a wind in m/s, less than half a metre a second being a mirror.
func NewSurface(windMS, sunAzDeg float64) Surface {
	if windMS < mirrorBelowMS {
		return NewRough(0, Index, sunAzDeg)
	}
	return NewRough(MeanSquareSlope(windMS)/2, Index, sunAzDeg)
}

// Twelve facets stand for the distribution of slopes, on two rings: the square of a slope that is
// normal in both directions is distributed as an exponential, for which the two-point rule of Gauss and
// Laguerre is exact up to the third power. Half of the square of the slope, in units of its variance
// along one axis, is 2 ∓ √2 on the two, and six facets share the weight of each (Abramowitz & Stegun
// 1964, table 25.9, from memory). A glare cut by them is .005 off the distribution's own at 3 m/s and .02
// at 12, .013 and .05 at most (TestFacetsAgainstSlopes).
const (
	ringFacets  = 6
	innerSquare = 2 * (2 - math.Sqrt2) // of the slope, in variances
	outerSquare = 2 * (2 + math.Sqrt2)
	innerWeight = (2 + math.Sqrt2) / (4 * ringFacets)
	outerWeight = (2 - math.Sqrt2) / (4 * ringFacets)
)

// NewRough lays out a surface of facets with a given variance of the slope along one axis and a
// refractive index: wet rock, leaves. A variance of 0 is a mirror. The inner ring begins at the sun's
// azimuth and the outer one is turned by half a step against it, so that both are symmetric about the
// sun's vertical.
func NewRough(sigma2, index, sunAzDeg float64) Surface {
	s := Surface{Index: index, Sigma2: sigma2, SunAzDeg: sunAzDeg}
	if sigma2 <= 0 {
		s.facets[0], s.count = facet{r3.Vec{Z: 1}, 1}, 1
		return s
	}
	const step = 2 * math.Pi / ringFacets
	az := sunAzDeg * math.Pi / 180
	for i := range ringFacets {
		s.add(math.Sqrt(innerSquare*sigma2), az+float64(i)*step, innerWeight)
		s.add(math.Sqrt(outerSquare*sigma2), az+(float64(i)+.5)*step, outerWeight)
	}
	return s
}

// add puts in a facet by its slope and the azimuth, in radians, towards which it rises.
func (s *Surface) add(slope, az, weight float64) {
	sin, cos := math.Sincos(az)
	n := r3.Unit(r3.Vec{X: -slope * sin, Y: -slope * cos, Z: 1})
	s.facets[s.count] = facet{n, weight / n.Z}
	s.count++
}

// Reflect returns the sky's light off the surface towards a camera that looks along d (unit, down).
// This is the plain path; [Table] is the fast one.
func (s *Surface) Reflect(d r3.Vec, sky Sky) Stokes {
	var sum Stokes
	var weight float64
	for _, f := range s.facets[:s.count] {
		w := f.share * max(0, -r3.Dot(d, f.n))
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

// Mirrored is [Surface.Reflect] with the facet's own two axes for the sky's polarisation: no root
// for E, and the turn to the axes of the ray is done once. A table asks for fifteen thousand facets, so
// Fresnel's two coefficients share a division here (see [Fresnel]; TestTableEqualsPlainPath).
func (s *Surface) Mirrored(d r3.Vec, light Light) Stokes {
	right, up := Axes(d)
	var sum Stokes
	var weight float64
	index, q := s.Index, 1/(s.Index*s.Index)
	for i := range s.count {
		f := &s.facets[i]
		n := f.n
		ci := -(d.X*n.X + d.Y*n.Y + d.Z*n.Z)
		if ci <= 0 {
			continue
		}
		w := f.share * ci
		weight += w
		r := r3.Vec{X: d.X + 2*ci*n.X, Y: d.Y + 2*ci*n.Y, Z: math.Abs(d.Z + 2*ci*n.Z)}
		sin2 := max(0, 1-ci*ci) // squared sine of the incidence, and of d × n
		sq := right
		if sin2 > 1e-12 {
			k := 1 / math.Sqrt(sin2)
			sq = r3.Vec{X: (d.Y*n.Z - d.Z*n.Y) * k, Y: (d.Z*n.X - d.X*n.Z) * k, Z: (d.X*n.Y - d.Y*n.X) * k}
		}
		in := r3.Vec{X: r.Z*sq.Y - r.Y*sq.Z, Y: r.X*sq.Z - r.Z*sq.X, Z: r.Y*sq.X - r.X*sq.Y} // −r × s
		l, c, z := light(r, sq, in)
		nct, nci := index*math.Sqrt(1-sin2*q), index*ci
		ct := nct * q * index // cosine inside
		under := 1 / ((ci + nct) * (nci + ct))
		rs, rp := (ci-nct)*(nci+ct)*under, (nci-ct)*(ci+nct)*under
		l *= w / 2
		ss, pp, x := l*rs*rs*(1+c), l*rp*rp*(1-c), 2*l*rs*rp*z
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
