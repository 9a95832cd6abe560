package plan

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
)

// The glare cut of a card's frame, by the table that the measures and the picture share, agrees to .01
// with adding up the facets for every line of sight under the sun's own altitude, which the table rounds
// to a degree; for every kind of mirror and wind, and any place of the sun, view and ring.
func TestTableCutsLikeTheFacets(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, c := range []struct {
		kind mirror
		wind float64
	}{{openWater, 0}, {openWater, 3}, {openWater, 7}, {openWater, 12}, {wetGround, 0}, {levelLeaf, 0}} {
		s := flight(9, 0, push(0, 5, 40))
		s.Light.WindMS = c.wind
		l := &legStudy{Leg: &s.Legs[0]}
		worst := 0.0
		for range 40 {
			y := &study{s: s, lenses: newLenses()}
			at := sun.Position{AltitudeDeg: 1 + 69*r.Float64(), AzimuthDeg: 360 * r.Float64()}
			pattern := sun.NewPattern(at.AzimuthDeg, at.AltitudeDeg, s.AirAt(40, s.Legs[0].Ground), measureNM)
			table, facets := y.mirrorFor(l, c.kind, 40, at), newReflector(c.kind, c.wind, at.AzimuthDeg, skyRay(&pattern))
			for range 6 {
				v := NewView(lens(24+50*r.Float64()), kit.Mode{}, true, 360*r.Float64(), -5-70*r.Float64())
				g := newGrid(v.HalfWidth, v.HalfHeight, downThinningFor(skyRows(v)))
				cutOf := func(mirrored reflector, psi float64) float64 {
					f := new(frame)
					f.lookDown(g, v, mirrored)
					taken, of := cut(f.below, f.first, newSheet(g, idealSheet(psi)))
					return taken / of
				}
				psi := 180 * r.Float64()
				worst = max(worst, math.Abs(cutOf(table, psi)-cutOf(facets, psi)))
			}
		}
		t.Logf("mirror %d, %g m/s: off by up to %.4f", c.kind, c.wind, worst)
		if worst > .01 {
			t.Errorf("mirror %d, %g m/s: off by up to %.4f", c.kind, c.wind, worst)
		}
	}
}

// A turn of sun and view together changes nothing, straight down included.
func TestMirrorTurnsWithTheSun(t *testing.T) {
	s := flight(9, 0, push(0, 5, 40))
	s.Light.WindMS = 4
	l := &legStudy{Leg: &s.Legs[0]}
	y := &study{s: s, lenses: newLenses()}
	north := y.mirrorFor(l, openWater, 40, sun.Position{AltitudeDeg: 25})
	for az := 0.0; az < 360; az += 30 {
		turned := y.mirrorFor(l, openWater, 40, sun.Position{AltitudeDeg: 25, AzimuthDeg: az})
		for off := -170.0; off < 180; off += 40 {
			if a, b := turned(sun.Direction(az+off, -25)), north(sun.Direction(off, -25)); far(a, b, 1e-9*b.I) {
				t.Errorf("sun at %g, view %g off: %v, want %v", az, off, a, b)
			}
		}
		pattern := sun.NewPattern(az, 25, s.AirAt(40, s.Legs[0].Ground), measureNM)
		down := sun.Direction(0, -90)
		if a, b := turned(down), newReflector(openWater, 4, az, skyRay(&pattern))(down); far(a, b, .01*b.I) {
			t.Errorf("sun at %g, straight down: %v, want %v", az, a, b)
		}
	}
}

func far(a, b water.Stokes, by float64) bool {
	return math.Abs(a.I-b.I) > by || math.Abs(a.Q-b.Q) > by || math.Abs(a.U-b.U) > by
}

// BenchmarkMirrorTable makes the table of what rough water mirrors.
func BenchmarkMirrorTable(b *testing.B) {
	s := flight(9, 0, push(0, 5, 40))
	s.Light.WindMS = 4
	for b.Loop() {
		s.mirrorTableAt(mirrorKey{openWater, Water, 24}, 40)
	}
}
