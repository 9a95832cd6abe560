package angle

import "testing"

func TestWraps(t *testing.T) {
	for _, c := range []struct{ deg, turn, difference, axis float64 }{
		{0, 0, 0, 0}, {359, 359, -1, 179}, {360, 0, 0, 0}, {-1, 359, -1, 179}, {180, 180, -180, 0},
		{-180, 180, -180, 0}, {181, 181, -179, 1}, {725, 5, 5, 5}, {-725, 355, -5, 175}, {-1e-20, 0, 0, 0},
	} {
		if got := Wrap360(c.deg); got != c.turn {
			t.Errorf("Wrap360(%v) = %v, want %v", c.deg, got, c.turn)
		}
		if got := Wrap180(c.deg); got != c.difference {
			t.Errorf("Wrap180(%v) = %v, want %v", c.deg, got, c.difference)
		}
		if got := Axis180(c.deg); got != c.axis {
			t.Errorf("Axis180(%v) = %v, want %v", c.deg, got, c.axis)
		}
	}
}
