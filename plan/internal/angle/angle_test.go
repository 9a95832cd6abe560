package angle

import (
	"math"
	"testing"
)

func TestWraps(t *testing.T) {
	for _, c := range []struct{ deg, to360, to180, axis float64 }{
		{0, 0, 0, 0},
		{90, 90, 90, 90},
		{180, 180, -180, 0},
		{270, 270, -90, 90},
		{360, 0, 0, 0},
		{-10, 350, -10, 170},
		{725, 5, 5, 5},
		{-725, 355, -5, 175},
		{-1e-20, 0, 0, 0}, // a hair below nothing must not become the whole turn
	} {
		if got := Wrap360(c.deg); got != c.to360 {
			t.Errorf("%g as a direction is %g, want %g", c.deg, got, c.to360)
		}
		if got := Wrap180(c.deg); got != c.to180 {
			t.Errorf("%g the shorter way is %g, want %g", c.deg, got, c.to180)
		}
		if got := Axis180(c.deg); got != c.axis {
			t.Errorf("%g as an axis is %g, want %g", c.deg, got, c.axis)
		}
	}
}

// Whatever comes in, the answer lies in its range and differs from it by whole turns.
func TestWrapsAnyAngle(t *testing.T) {
	whole := func(x, period float64) bool { return math.Abs(math.Remainder(x, period)) < 1e-9 }
	for deg := -2000.0; deg < 2000; deg += 7.31 {
		a, b, c := Wrap360(deg), Wrap180(deg), Axis180(deg)
		if a < 0 || a >= 360 || b < -180 || b >= 180 || c < 0 || c >= 180 {
			t.Errorf("%g: %g, %g, %g are out of range", deg, a, b, c)
		}
		if !whole(a-deg, 360) || !whole(b-deg, 360) || !whole(c-deg, 180) {
			t.Errorf("%g: %g, %g, %g are other angles", deg, a, b, c)
		}
	}
}
