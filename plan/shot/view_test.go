package shot

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

// A direction is in the picture up to its edge and not beyond, on every side.
func TestViewFrames(t *testing.T) {
	v := NewView(kit.Generic().Cameras[0], kit.Mode{}, false, 140, -25)
	for _, c := range []struct {
		x, y float64
		in   bool
	}{{0, 0, true}, {.99, 0, true}, {-.99, .99, true}, {.5, -.99, true}, {1.01, 0, false}, {-1.01, 0, false}, {0, 1.01, false}, {0, -1.01, false}} {
		x, y, in := v.Frames(v.Ray(c.x, c.y))
		if in != c.in || math.Abs(x-c.x) > 1e-9 || math.Abs(y-c.y) > 1e-9 {
			t.Errorf("%g, %g: in the picture %v at %g, %g", c.x, c.y, in, x, y)
		}
	}
	if _, _, in := v.Frames(r3.Scale(-1, v.Forward)); in {
		t.Error("what is behind the camera is in the picture")
	}
}

// A mode that reads a part of the sensor sees so much less of the world: half the width is half the tangent. A still is
// taken with all of the sensor, in its own shape.
func TestHalfField(t *testing.T) {
	c := kit.Camera{SensorMM: [2]float64{12, 9}, FocalMM: 8}
	for _, x := range []struct {
		crop  float64
		still bool
		w, h  float64
	}{{0, false, .75, .421875}, {1, false, .75, .421875}, {2, false, .375, .2109375}, {2, true, .75, .5625}} {
		if w, h := HalfField(c, kit.Mode{Crop: x.crop}, x.still); math.Abs(w-x.w) > 1e-12 || math.Abs(h-x.h) > 1e-12 {
			t.Errorf("crop %g, still %v: %g by %g, want %g by %g", x.crop, x.still, w, h, x.w, x.h)
		}
	}
}
