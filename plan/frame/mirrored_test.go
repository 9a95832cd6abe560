package frame

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// centreGrid is a grid of one sample, the frame's centre.
func centreGrid() *Grid {
	g := &Grid{Thin: 1, d: []r3.Vec{{Z: 1}}, u1: []r3.Vec{{Y: 1}}, u2: []r3.Vec{{X: 1}}}
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
		sky := plantest.SingleScatter{Sun: sun.Direction(0, c.alt), Peak: 0.75}
		v := shot.NewView(plantest.Lens(60), kit.Mode{}, true, c.heading, c.pitch)
		f, g := new(Frame), centreGrid()
		f.FillMirrored(g, v, newReflector(0, 0, sky.Ray))
		taken, of := Cut(f.Mirrored, f.FirstDown, newSheet(g, plantest.IdealSheet(c.psi)))
		if math.Abs(taken/of-c.want) > 2e-6 {
			t.Errorf("pitch %g, heading %g off the sun at %g°, pass axis %g: cut %.6f, want %.6f",
				c.pitch, c.heading, c.alt, c.psi, taken/of, c.want)
		}
	}
}

// Over water with the sun abeam the pass axis upright cuts most and level cuts least, to within a
// half-hour of the ring (common practice, no source); half a turn of the ring is the same ring.
func TestUprightCutsWater(t *testing.T) {
	sky := plantest.SingleScatter{Sun: sun.Direction(90, 40), Peak: 0.75}
	v := shot.NewView(plantest.Lens(60), kit.Mode{}, true, 0, -35)
	f, g := new(Frame), NewGrid(v.HalfWidth, v.HalfHeight, 16)
	f.FillMirrored(g, v, newReflector(4, 90, sky.Ray))
	at := func(psi float64) float64 {
		taken, of := Cut(f.Mirrored, f.FirstDown, newSheet(g, plantest.IdealSheet(psi)))
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

// Haze is cut by the ring that passes least of its light, and as much is added by a ring square to
// that one.
func TestHazeCutFollowsTheRing(t *testing.T) {
	s := sun.Direction(90, 5)
	v := shot.NewView(plantest.Lens(40), kit.Mode{}, true, 0, -3)
	f, g := new(Frame), NewGrid(v.HalfWidth, v.HalfHeight, 16)
	f.FillAirlight(g, v, s, 60, light.ExtinctionPerKm(40), 1)
	at := func(psi float64) float64 {
		taken, of := Cut(f.Airlight, f.FirstDown, newSheet(g, plantest.IdealSheet(psi)))
		return taken / of
	}
	best := clockOf(v, s)
	if at(best) < 0.2 || math.Abs(at(best)+at(best+90)) > 0.05 {
		t.Errorf("ring at the sun cuts %.3f, square to it %.3f", at(best), at(best+90))
	}
}

// Straight down from 100 m there are 100 m of air in front of the land, 200 m where the ray goes down at 30°: of it comes
// 1 − e^(−extinction · way) (Koschmieder).
func TestHazeGrowsWithTheWay(t *testing.T) {
	for _, pitch := range []float64{-90, -45} {
		v := shot.NewView(plantest.Lens(40), kit.Mode{}, true, 0, pitch)
		f, g := new(Frame), NewGrid(v.HalfWidth, v.HalfHeight, 8)
		f.FillAirlight(g, v, sun.Direction(90, 30), 100, 0.3, 1)
		if len(f.Airlight) == 0 {
			t.Fatal("no haze at all")
		}
		for i, s := range f.Airlight {
			down := -v.World(g.d[f.FirstDown+i]).Z
			if want := 1 - math.Exp(-0.3*0.1/down); math.Abs(s.I-want) > 1e-12 {
				t.Fatalf("down at a sine of %.3f: %.5f of the light, want %.5f", down, s.I, want)
			}
		}
	}
}

// The thinned grids below the horizon agree with the full one to 0.02 of the glare.
func TestThinGlareAgrees(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	worst := 0.0
	for range 150 {
		sky := plantest.SingleScatter{Sun: sun.Direction(360*r.Float64(), 2+83*r.Float64()), Peak: 0.2 + 0.6*r.Float64()}
		v := shot.NewView(plantest.Lens(20+70*r.Float64()), kit.Mode{}, true, 360*r.Float64(), -90+110*r.Float64())
		psi := 180 * r.Float64()
		rows := SkyRows(v)
		if rows == GridH {
			continue
		}
		cutOf := func(thin int) float64 {
			g, f := NewGrid(v.HalfWidth, v.HalfHeight, thin), new(Frame)
			f.FillMirrored(g, v, newReflector(4, 0, sky.Ray))
			taken, of := Cut(f.Mirrored, f.FirstDown, newSheet(g, plantest.IdealSheet(psi)))
			return taken / of
		}
		worst = math.Max(worst, math.Abs(cutOf(DownThinningFor(rows))-cutOf(1)))
	}
	if worst > 0.02 {
		t.Errorf("off by up to %.4f", worst)
	}
	t.Logf("off by up to %.4f", worst)
}

// newReflector is a mirror of water for one place of the sun, added up facet by facet for every line of
// sight.
func newReflector(windMS, sunAzDeg float64, sky water.Sky) light.Reflector {
	s := water.NewSurface(windMS, sunAzDeg)
	return func(d r3.Vec) water.Stokes { return s.Reflect(d, sky) }
}
