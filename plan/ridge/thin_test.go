package ridge

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/shot"
)

// A thinned line is the full one as the card will read it: to 0.1° anywhere where 360 points do, and said by how much where
// they do not.
func TestThin(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	walk := 5.0
	for name, c := range map[string]struct {
		deg    func(i int) float64
		within float64
		most   int
	}{
		"level":      {func(int) float64 { return 2 }, 0.1, 8},
		"a hump":     {func(i int) float64 { return 8 * math.Exp(-math.Pow(float64(i-1800)/300, 2)) }, 0.1, 30},
		"over north": {func(i int) float64 { return 5 * math.Cos(float64(i)*math.Pi/1800) }, 0.1, 40},
		"a step":     {func(i int) float64 { return map[bool]float64{true: 12, false: 1}[i > 500 && i < 700] }, 0.1, 12},
		"rough": {func(int) float64 {
			walk = min(max(walk+0.06*rng.NormFloat64(), 0), 20)
			return walk
		}, 0.2, MostThin},
		"noise": {func(int) float64 { return 3 * rng.Float64() }, 3, MostThin},
		"below": {func(int) float64 { return -30 }, 21, 8},
	} {
		l := &Line{Deg: make([]float64, count), Km: make([]float64, count)}
		for i := range l.Deg {
			l.Deg[i] = c.deg(i)
		}
		points, worst := l.Thin()
		if len(points) > c.most || worst > c.within {
			t.Errorf("%s: %d points, within %.3f°", name, len(points), worst)
		}
		s := &shot.Shot{Skyline: points}
		found := 0.0
		for i, deg := range l.Deg {
			found = max(found, math.Abs(s.SkylineDeg(float64(i)/perDegree)-deg))
		}
		if math.Abs(found-worst) > 1e-6 {
			t.Errorf("%s: a card reads it within %.4f°, said is %.4f°", name, found, worst)
		}
	}
}
