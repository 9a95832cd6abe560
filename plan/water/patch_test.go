package water

import (
	"math"
	"testing"

	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// A published sight that no formula here was made for: under a low sun and a clear sky still water has a dark patch about
// 53° from straight down, 90° from the sun's azimuth, without any filter (Applied Optics 56:8353, 2017; abstract). Sought
// is where the water is darkest against what it would be under the same sky without its polarisation. Asked (ours): 3° and 5°.
func TestDarkPatch(t *testing.T) {
	sky := sun.NewSky(0, 3, sun.Air{AOD: .08, PressureHPa: 1013.25, Albedo: .15}, 550, 2000)
	surface := NewSurface(0, 0)
	best, azimuth, fromDown := math.Inf(1), 0.0, 0.0
	for az := 0.0; az <= 180; az++ {
		for theta := 30.0; theta <= 80; theta++ {
			d, _ := look(az, theta-90, 0)
			polarised := surface.Reflect(d, sky.At)
			plain := surface.Reflect(d, func(d r3.Vec) sun.Ray {
				r := sky.At(d)
				r.Degree = 0
				return r
			})
			if v := polarised.I / plain.I; v < best {
				best, azimuth, fromDown = v, az, theta
			}
		}
	}
	if math.Abs(fromDown-53) > 3 || math.Abs(azimuth-90) > 5 {
		t.Errorf("the patch lies %g° from straight down and %g° from the sun's azimuth", fromDown, azimuth)
	}
}
