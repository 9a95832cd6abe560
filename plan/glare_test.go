package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// ray makes the textbook sky answer like a sky.
func (s singleScatter) ray(d r3.Vec) sun.Ray {
	c := r3.Dot(d, s.sun)
	n := r3.Cross(d, s.sun)
	if r3.Norm(n) < 1e-9 {
		return sun.Ray{Luminance: 1, E: r3.Vec{X: 1}}
	}
	return sun.Ray{Luminance: 1, Degree: s.peak * (1 - c*c) / (1 + c*c), E: r3.Unit(n)}
}

// centreGrid is a grid of one sample, the frame's centre.
func centreGrid() *grid {
	g := &grid{thin: 1, d: []r3.Vec{{Z: 1}}, u1: []r3.Vec{{Y: 1}}, u2: []r3.Vec{{X: 1}}}
	return g
}

// Glare cut on flat water under a single-scattering sky, worked out apart from this code with the
// Fresnel equations and the mirrored sky.
func TestFlatWater(t *testing.T) {
	for _, c := range []struct{ pitch, heading, alt, psi, want float64 }{
		{-37, 90, 30, 0, 0.999942}, {-20, 90, 30, 0, 0.346416}, {-20, 90, 30, 145, 0.685049},
		{-20, -90, 30, 145, -0.448086}, {-60, 180, 30, 0, 0.895491}, {-90, 0, 30, 0, 0.450000},
		{-10, 90, 10, 0, -0.502228}, {-10, 90, 10, 105, 0.588770}, {-10, -90, 10, 105, 0.281115},
		{-90, -45, 0, 135, -0.75}, {-90, -45, 0, 45, 0.75}, {-90, -45, 0, 0, 0}, {-90, -45, 0, 90, 0},
	} {
		sky := singleScatter{sun.Direction(0, c.alt), 0.75}
		v := NewView(lens(60), kit.Mode{}, true, c.heading, c.pitch)
		f, g := new(frame), centreGrid()
		f.lookDown(g, v, newReflector(wetGround, 0, 0, sky.ray))
		taken, of := cut(f.below, f.first, newSheet(g, idealSheet(c.psi)))
		if math.Abs(taken/of-c.want) > 2e-6 {
			t.Errorf("pitch %g, heading %g off the sun at %g°, pass axis %g: cut %.6f, want %.6f",
				c.pitch, c.heading, c.alt, c.psi, taken/of, c.want)
		}
	}
}

// Over water with the sun abeam the pass axis upright cuts most and level cuts least, to within a
// half-hour of the ring (common practice, no source); half a turn of the ring is the same ring.
func TestUprightCutsWater(t *testing.T) {
	sky := singleScatter{sun.Direction(90, 40), 0.75}
	v := NewView(lens(60), kit.Mode{}, true, 0, -35)
	f, g := new(frame), newGrid(v.HalfWidth, v.HalfHeight, 16)
	f.lookDown(g, v, newReflector(openWater, 4, 90, sky.ray))
	at := func(psi float64) float64 {
		taken, of := cut(f.below, f.first, newSheet(g, idealSheet(psi)))
		return taken / of
	}
	most := math.Max(at(0), math.Max(at(15), at(165)))
	least := math.Min(at(90), math.Min(at(75), at(105)))
	for psi := 30.0; psi <= 150; psi += 15 {
		if x := at(psi); x > most || x < least {
			t.Errorf("pass axis %g cuts %.3f, near upright %.3f, near level %.3f", psi, x, most, least)
		}
		if math.Abs(at(psi)-at(psi+180)) > 1e-12 {
			t.Errorf("half a turn changes the cut at %g°", psi)
		}
	}
	if at(0) < 0.5 || at(90) > -0.5 {
		t.Errorf("upright cuts %.3f, level %.3f", at(0), at(90))
	}
}

// Turning the basis keeps what a polariser passes.
func TestTurnedBasis(t *testing.T) {
	d := r3.Unit(r3.Vec{X: 0.3, Y: 0.8, Z: -0.4})
	right, up := water.Axes(d)
	s := water.Stokes{I: 3, Q: 1.1, U: -0.7}
	for _, hand := range []float64{1, -1} {
		for a := 0.0; a < math.Pi; a += 0.2 {
			sa, ca := math.Sincos(a)
			u1 := r3.Add(r3.Scale(ca, right), r3.Scale(sa, up))
			u2 := r3.Scale(hand, r3.Cross(d, u1))
			q, u := turned(s.Q, s.U, right, up, u1, u2)
			for b := 0.0; b < math.Pi; b += 0.3 {
				sb, cb := math.Sincos(b)
				pass := r3.Add(r3.Scale(cb, u1), r3.Scale(sb, u2))
				got := (s.I + q*math.Cos(2*b) + u*math.Sin(2*b)) / 2
				if want := s.Passed(pass, right, up); math.Abs(got-want) > 1e-12 {
					t.Fatalf("passes %.6f, want %.6f", got, want)
				}
			}
		}
	}
}

// The degree of airlight square to the sun, and the distance at which a tenth of the contrast is
// left; worked out apart from this code.
func TestAirlight(t *testing.T) {
	for _, c := range []struct{ v, p, bare, crossed float64 }{
		{10, 0.154, 4.37, 4.78}, {30, 0.271, 13.1, 15.5}, {80, 0.474, 34.9, 48.5},
	} {
		p := hazeDegree(0, extinctionPerKm(c.v))
		if math.Abs(p-c.p) > 0.0006 {
			t.Errorf("visibility %g km: degree %.4f, want %.3f", c.v, p, c.p)
		}
		reach := func(crossed bool) float64 {
			lo, hi := 0.0, 200.0
			for range 60 {
				mid := (lo + hi) / 2
				k, kp := DetailContrast(mid, c.v, p, 0.3)
				if crossed {
					k = kp
				}
				if k > 0.10 {
					lo = mid
				} else {
					hi = mid
				}
			}
			return lo
		}
		if b, k := reach(false), reach(true); math.Abs(b-c.bare) > 0.006*c.bare || math.Abs(k-c.crossed) > 0.006*c.crossed {
			t.Errorf("visibility %g km: a tenth is left at %.2f and %.2f km, want %g and %g", c.v, b, k, c.bare, c.crossed)
		}
	}
	// The older definition with 2 %: 3.912/V.
	for _, c := range []struct{ v, p float64 }{{10, 0.139}, {30, 0.233}, {80, 0.409}} {
		if p := hazeDegree(0, 3.912/c.v); math.Abs(p-c.p) > 0.0006 {
			t.Errorf("extinction 3.912/%g: degree %.4f, want %.3f", c.v, p, c.p)
		}
	}
}

// Haze is cut by the ring that passes least of its light, and as much is added by a ring square to
// that one.
func TestHazeCutFollowsTheRing(t *testing.T) {
	s := sun.Direction(90, 5)
	v := NewView(lens(40), kit.Mode{}, true, 0, -3)
	f, g := new(frame), newGrid(v.HalfWidth, v.HalfHeight, 16)
	f.lookThrough(g, v, s, 60, extinctionPerKm(40), 1)
	at := func(psi float64) float64 {
		taken, of := cut(f.veil, f.first, newSheet(g, idealSheet(psi)))
		return taken / of
	}
	best := clockOf(v, s)
	if at(best) < 0.2 || math.Abs(at(best)+at(best+90)) > 0.05 {
		t.Errorf("ring at the sun cuts %.3f, square to it %.3f", at(best), at(best+90))
	}
}

// The thinned grids below the horizon agree with the full one to 0.02 of the glare.
func TestThinGlareAgrees(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	worst := 0.0
	for range 150 {
		sky := singleScatter{sun.Direction(360*r.Float64(), 2+83*r.Float64()), 0.2 + 0.6*r.Float64()}
		v := NewView(lens(20+70*r.Float64()), kit.Mode{}, true, 360*r.Float64(), -90+110*r.Float64())
		psi := 180 * r.Float64()
		rows := skyRows(v)
		if rows == gridH {
			continue
		}
		cutOf := func(thin int) float64 {
			g, f := newGrid(v.HalfWidth, v.HalfHeight, thin), new(frame)
			f.lookDown(g, v, newReflector(openWater, 4, 0, sky.ray))
			taken, of := cut(f.below, f.first, newSheet(g, idealSheet(psi)))
			return taken / of
		}
		worst = math.Max(worst, math.Abs(cutOf(downThinningFor(rows))-cutOf(1)))
	}
	if worst > 0.02 {
		t.Errorf("off by up to %.4f", worst)
	}
	t.Logf("off by up to %.4f", worst)
}

// newReflector is the mirror of a leg for one place of the sun, added up facet by facet for every line
// of sight: what the tables are held against.
func newReflector(m mirror, windMS, sunAzDeg float64, sky water.Sky) reflector {
	s := m.surface(windMS)
	s = water.NewRough(s.Sigma2, s.Index, sunAzDeg)
	return func(d r3.Vec) water.Stokes { return s.Reflect(d, sky) }
}

// skyRay is a pattern's light from a direction with its relative radiance for a luminance.
func skyRay(p *sun.Pattern) water.Sky {
	return func(d r3.Vec) sun.Ray {
		degree, e := p.Polarisation(d)
		return sun.Ray{Luminance: p.Radiance(d), Degree: degree, E: e}
	}
}
