package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Where no edge is said to be between four lines of sight, all that lies between them meets the same: the sky, the land
// or the card's ridge, and neither the sun nor what still water shows of it.
func TestNoEdgeIsMissed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for _, wind := range []float64{0, 3} {
		for _, ridge := range [][][2]float64{nil, {{0, 0}, {40, 9}, {50, 2}, {52, 14}, {53, 1}, {120, 0}, {200, 30}, {260, 4}, {300, 0}}} {
			s := plantest.SeaShot(shot.Water, 0, 0)
			s.Light.WindMS, s.Skyline = wind, ridge
			s.Legs[0].Height = [2]float64{120, 120}
			m := plantest.TurnedFromSun(t, s, 20, 0, 0)
			sc := SceneAt(s, m, 0)
			disc := sc.DiscFor(.002)
			found := map[Edge]int{}
			for range 4000 {
				v := shot.NewView(s.Camera, s.Legs[0].Mode, false, 360*rnd.Float64(), 70*rnd.Float64()*rnd.Float64()*(2*rnd.Float64()-1))
				size := .3 * rnd.Float64() * rnd.Float64()
				x, y := (1-size)*(2*rnd.Float64()-1), (1-size)*(2*rnd.Float64()-1)
				corner := [4]r3.Vec{v.Ray(x, y), v.Ray(x+size, y), v.Ray(x, y-size), v.Ray(x+size, y-size)}
				edge := sc.EdgeIn(&corner, &disc)
				found[edge]++
				if edge != NoEdge {
					continue
				}
				what := func(d r3.Vec) (sky, land, spot bool) {
					mirrored := r3.Vec{X: d.X, Y: d.Y, Z: -d.Z}
					spot = !sc.BehindRidge(d) && r3.Dot(d, sc.SunDir) > disc.cosEdge || wind == 0 && r3.Dot(mirrored, sc.SunDir) > math.Cos(sunRadius)
					r := sc.ridge
					land = r != nil && d.Z > -r.foot && r.at(d.X, d.Y) > 0 && d.Z < r.at(d.X, d.Y)
					return d.Z >= -sc.Distance.SinDip && !land, land, spot
				}
				sky, land, _ := what(corner[0])
				for range 60 {
					a, b, spot := what(v.Ray(x+size*rnd.Float64(), y-size*rnd.Float64()))
					if a != sky || b != land || spot {
						t.Fatalf("wind %g, ridge %v: an edge between %v is not seen", wind, ridge != nil, corner)
					}
				}
			}
			if found[NoEdge] < 2000 || found[LevelEdge] < 100 || found[SpotEdge] < 5 {
				t.Errorf("wind %g, ridge %v: %v", wind, ridge != nil, found)
			}
		}
	}
}
