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
