package light

import (
	"math"
	"testing"
)

// Airlight at a right angle to the sun for visibilities of 10, 30 and 80 km: worked from the formula
// by an independent program; Koschmieder's 5 % definition of the visibility.
func TestHazeDegree(t *testing.T) {
	for _, c := range []struct{ km, want float64 }{{10, .154}, {30, .271}, {80, .474}} {
		if got := AirlightDegree(0, 2.996/c.km); math.Abs(got-c.want) > 5e-4 {
			t.Errorf("V %g km: %.4f, want %.3f", c.km, got, c.want)
		}
	}
	if got := AirlightDegree(1, .1); got != 0 {
		t.Errorf("towards the sun: %g", got)
	}
}
