package light

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
)

// The degree of airlight square to the sun, and the distance at which a tenth of the contrast is
// left; worked out apart from this code.
func TestAirlight(t *testing.T) {
	for _, c := range []struct{ v, p, bare, crossed float64 }{
		{10, 0.154, 4.37, 4.78}, {30, 0.271, 13.1, 15.5}, {80, 0.474, 34.9, 48.5},
	} {
		p := AirlightDegree(0, ExtinctionPerKm(c.v))
		if math.Abs(p-c.p) > 0.0006 {
			t.Errorf("visibility %g km: degree %.4f, want %.3f", c.v, p, c.p)
		}
		reach := func(crossed bool) float64 {
			lo, hi := 0.0, 200.0
			for range 60 {
				mid := (lo + hi) / 2
				k, kp := plantest.DetailContrast(math.Exp(-ExtinctionPerKm(c.v)*mid), p, 0.3)
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
		if p := AirlightDegree(0, 3.912/c.v); math.Abs(p-c.p) > 0.0006 {
			t.Errorf("extinction 3.912/%g: degree %.4f, want %.3f", c.v, p, c.p)
		}
	}
}
