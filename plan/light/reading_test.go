package light

import (
	"math"
	"testing"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// Around a sun on the horizon the sky is brighter by the glow, on both sides of it alike; a quarter of it is left 60° away,
// none beside and behind the camera, and none round a sun 6° up or down.
func TestTheSkyGlowsTowardsALowSun(t *testing.T) {
	l := sun.Light{SkyLx: 1000}
	mean := exposure.SkyEV100(l.SkyLx)
	for _, c := range []struct{ altDeg, headingDeg, share float64 }{
		{0, 280, 1}, {0, 220, .25}, {0, 340, .25}, {0, 10, 0}, {0, 100, 0}, {3, 280, .5}, {-3, 280, .5}, {6, 280, 0}, {-6, 280, 0}, {40, 280, 0},
	} {
		p := sun.Position{AltitudeDeg: c.altDeg, AzimuthDeg: 280}
		if got, want := SkyEV100(l, p, c.headingDeg), mean+c.share*exposure.GlowStops; math.Abs(got-want) > 1e-9 {
			t.Errorf("sun at %g°, looking to %g°: EV %.3f, want %.3f", c.altDeg, c.headingDeg, got, want)
		}
	}
}

// A skyline that ends is a step there, half way between two of its heights, and does not slope down to the open horizon.
func TestASkylineEndsInAStep(t *testing.T) {
	line := NewSkyline(&shot.Shot{Skyline: [][2]float64{{100, 8}, {160, 8}}})
	for deg, want := range map[float64]float64{99: 0, 99.6: 0, 99.9: 8, 100: 8, 130.3: 8, 160: 8, 160.1: 8, 160.4: 0, 161: 0, 350: 0} {
		east, north := math.Sincos(deg * math.Pi / 180)
		if got := math.Asin(line.at(east, north)) * 180 / math.Pi; math.Abs(got-want) > 1e-9 {
			t.Errorf("%g° high at %g°, want %g°", got, deg, want)
		}
	}
}
