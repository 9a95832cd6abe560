package plan_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// singleScatter is a sky of light scattered once, evenly bright, of greatest degree p.
func singleScatter(s r3.Vec, p float64) water.Sky {
	return func(d r3.Vec) sun.Ray {
		c, e := r3.Dot(d, s), r3.Cross(d, s)
		if r3.Norm(e) < 1e-9 {
			e, _ = water.Axes(d)
		}
		return sun.Ray{Luminance: 1, Degree: p * (1 - c*c) / (1 + c*c), E: r3.Unit(e)}
	}
}

// sight returns a line of sight and the E that a polariser passes in the middle of the frame, for the
// pass axis at a clock angle seen from behind.
func sight(headingDeg, pitchDeg, psiDeg float64) (d, pass r3.Vec) {
	sh, ch := math.Sincos(headingDeg * rad)
	sp, cp := math.Sincos(pitchDeg * rad)
	sw, cw := math.Sincos(psiDeg * rad)
	right, up := r3.Vec{X: ch, Y: -sh}, r3.Vec{X: -sh * sp, Y: -ch * sp, Z: cp}
	return r3.Vec{X: sh * cp, Y: ch * cp, Z: sp}, r3.Add(r3.Scale(sw, right), r3.Scale(cw, up))
}

// glareCut is that of a surface under a wind with the sun in the north.
func glareCut(windMS, sunAlt, heading, pitch, psi float64) float64 {
	s := water.NewSurface(windMS, 0)
	d, pass := sight(heading, pitch, psi)
	right, up := water.Axes(d)
	return s.Reflect(d, singleScatter(sun.Direction(0, sunAlt), .75)).Cut(pass, right, up)
}

func waterClaims(t testing.TB) []claim {
	const apart = "Fresnel's equations under a sky of one scattering, worked apart"
	var fresnel, flat, wind tally
	for _, c := range []struct{ incidence, rs, rp float64 }{
		{0, .020373, .020373}, {30, .030934, .011939}, {45, .052989, .002808}, {53.12, .078258, 0},
		{60, .115068, .004314}, {70, .219672, .047278}, {80, .457017, .238816},
	} {
		rs, rp := water.Fresnel(math.Cos(c.incidence*rad), water.Index)
		fresnel.add(rs*rs - c.rs)
		fresnel.add(rp*rp - c.rp)
	}
	brewster := 0.0 // where rp changes its sign
	for step := 45.0; step > 1e-9; step /= 2 {
		if _, rp := water.Fresnel(math.Cos((brewster+step)*rad), water.Index); rp > 0 {
			brewster += step
		}
	}
	brewster -= 53.123
	for _, c := range []struct{ pitch, heading, alt, psi, want float64 }{
		{-37, 90, 30, 0, .999942}, {-20, 90, 30, 0, .346416}, {-20, 90, 30, 145, .685049}, {-20, -90, 30, 145, -.448086},
		{-60, 180, 30, 0, .895491}, {-90, 0, 30, 0, .45}, {-10, 90, 10, 0, -.502228}, {-10, 90, 10, 105, .58877}, {-10, -90, 10, 105, .281115},
		{-90, -45, 0, 135, -.75}, {-90, -45, 0, 45, .75}, {-90, -45, 0, 0, 0}, {-90, -45, 0, 90, 0},
	} {
		flat.add(glareCut(0, c.alt, c.heading, c.pitch, c.psi) - c.want)
	}
	for _, c := range []struct{ wind, want float64 }{{0, 1}, {3, .867}, {7, .740}, {12, .608}} {
		wind.add(glareCut(c.wind, 30, 90, -37, 0) - c.want)
	}
	out := []claim{
		heading("Water, land and haze"),
		fresnel.worst("reflectances of water, 0 to 80°", "Fresnel's equations (Born & Wolf), n 1.333, worked apart", 2e-6, "", 7),
		{what: "Brewster's angle", source: "53.123°", n: 1, asked: .001, reached: math.Abs(brewster), unit: "°", digits: 4},
		flat.worst("glare cut on still water", apart, .01, "", 6),
		wind.worst("glare cut at 0, 3, 7 and 12 m/s, 37° down", "Cox & Munk 1954 slopes, worked apart", .01, "", 3),
	}
	for _, c := range []struct{ wind, asked float64 }{{3, .05}, {5, .10}, {10, .14}} {
		s := facetErrors(c.wind)
		out = append(out, s.worst(fmt.Sprintf("five facets at %g m/s: glare cut", c.wind), "fine quadrature over the slopes of Cox & Munk 1954", c.asked, "", 3))
	}
	reach := hazeReach()
	out = append(out, darkPatch()...)
	return append(out,
		reach.worst("distance at which a tenth of the contrast is left, bare and with the ring crossed, for 10, 30 and 80 km",
			"Koschmieder; Schechner et al. 2001 (from memory), worked apart", 1, "%", 1))
}

// facetErrors compares the five facets with a quadrature of the same physics.
func facetErrors(windMS float64) tally {
	sigma := math.Sqrt(water.MeanSquareSlope(windMS) / 2)
	const n = 31
	var errs tally
	for _, alt := range []float64{10, 30, 60} {
		sky := singleScatter(sun.Direction(0, alt), .75)
		for _, heading := range []float64{0, 45, 90, 135, 180} {
			for _, pitch := range []float64{-15, -25, -37, -50, -70} {
				d, pass := sight(heading, pitch, 0)
				right, up := water.Axes(d)
				var sum water.Stokes
				for i := range n {
					for j := range n {
						u, v := 8*(float64(i)/(n-1)-.5), 8*(float64(j)/(n-1)-.5)
						f := r3.Unit(r3.Vec{X: -u * sigma, Y: -v * sigma, Z: 1})
						if w := math.Exp(-(u*u+v*v)/2) * -r3.Dot(d, f) / f.Z; w > 0 {
							sum = sum.Plus(water.Facet(d, f, water.Index, sky).Times(w))
						}
					}
				}
				errs.add(glareCut(windMS, alt, heading, pitch, 0) - sum.Cut(pass, right, up))
			}
		}
	}
	return errs
}

// darkPatch looks for a published sight that no formula here was made for: under a low sun and a clear
// sky still water has a dark patch about 53° from straight down, 90° from the sun's azimuth, without
// any filter (Applied Optics 56:8353, 2017; abstract). Sought is where the water is darkest against
// what it would be under the same sky without its polarisation.
func darkPatch() []claim {
	sky := sun.NewSky(0, 3, trustAir, 550, 2000)
	plain := func(d r3.Vec) sun.Ray {
		r := sky.At(d)
		r.Degree = 0
		return r
	}
	s := water.NewSurface(0, 0)
	best, azimuth, fromDown := math.Inf(1), 0.0, 0.0
	for az := 0.0; az <= 180; az++ {
		for theta := 30.0; theta <= 80; theta++ {
			d, _ := sight(az, theta-90, 0)
			if v := s.Reflect(d, sky.At).I / s.Reflect(d, plain).I; v < best {
				best, azimuth, fromDown = v, az, theta
			}
		}
	}
	const source = "Applied Optics 56:8353, 2017 (abstract)"
	return []claim{
		{what: "dark patch on still water under a low sun: from straight down, 53°", source: source, n: 1, asked: 3, reached: math.Abs(fromDown - 53), unit: "°"},
		{what: "the same: from the sun's azimuth, 90°", source: source, n: 1, asked: 5, reached: math.Abs(azimuth - 90), unit: "°"},
	}
}

// hazeReach returns by how many per cent the distances are off at which a tenth of the contrast is left,
// land .3 times as bright as the horizon.
func hazeReach() tally {
	var s tally
	for _, c := range []struct{ km, p, bare, crossed float64 }{{10, .154, 4.37, 4.78}, {30, .271, 13.1, 15.5}, {80, .474, 34.9, 48.5}} {
		for i, want := range []float64{c.bare, c.crossed} {
			lo, hi := 0.0, 200.0
			for range 60 {
				mid := (lo + hi) / 2
				k := [2]float64{}
				if k[0], k[1] = plantest.DetailContrast(math.Exp(-light.ExtinctionPerKm(c.km)*mid), c.p, .3); k[i] > .1 {
					lo = mid
				} else {
					hi = mid
				}
			}
			s.add(100 * (lo/want - 1))
		}
	}
	return s
}
