package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
)

// The small table agrees with the mirror itself.
func TestMirrorTable(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, alt := range []float64{2, 20, 50} {
		pattern := sun.NewPattern(0, alt, sun.Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.06}, MeasureNM)
		plain := NewReflector(OpenWater, 4, 0, skyRay(&pattern))
		table := newMirrorTable(plain)
		var diff, all float64
		for range 2000 {
			d := sun.Direction(360*r.Float64(), -90*r.Float64())
			a, b := table.At(d, 0, 1), plain(d)
			diff += math.Abs(a.Q-b.Q) + math.Abs(a.U-b.U)
			all += b.I
			if math.Abs(a.I-b.I) > 0.2*b.I && d.Z < -0.03 {
				t.Errorf("sun %g°, %v: %.4f, want %.4f", alt, d, a.I, b.I)
			}
		}
		if diff/all > 0.02 {
			t.Errorf("sun %g°: mean error %.4f of the light", alt, diff/all)
		}
	}
}

// A turn of sun and view together changes nothing.
func TestMirrorTableTurns(t *testing.T) {
	pattern := sun.NewPattern(0, 25, sun.Air{AOD: 0.08, PressureHPa: 1013}, MeasureNM)
	table := newMirrorTable(NewReflector(OpenWater, 4, 0, skyRay(&pattern)))
	for az := 0.0; az < 360; az += 30 {
		turned := sun.NewPattern(az, 25, sun.Air{AOD: 0.08, PressureHPa: 1013}, MeasureNM)
		plain := NewReflector(OpenWater, 4, az, skyRay(&turned))
		s, c := math.Sincos(az * math.Pi / 180)
		for off := -170.0; off < 180; off += 40 {
			d := sun.Direction(az+off, -25)
			a, b := table.At(d, s, c), plain(d)
			if far(a, b, 0.03*b.I) {
				t.Errorf("sun at %g, view %g off: %v, want %v", az, off, a, b)
			}
		}
	}
}

func far(a, b water.Stokes, by float64) bool {
	return math.Abs(a.I-b.I) > by || math.Abs(a.Q-b.Q) > by || math.Abs(a.U-b.U) > by
}
