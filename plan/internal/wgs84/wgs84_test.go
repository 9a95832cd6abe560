package wgs84

import (
	"math"
	"testing"
)

// At the equator and the poles the radii are plain: b²/a and a, and a²/b both ways. The minor axis is that of the standard.
func TestRadii(t *testing.T) {
	if math.Abs(MinorM-6356752.3142) > 0.0001 { // NIMA TR8350.2, table 3.3
		t.Errorf("b is %.5f m", MinorM)
	}
	polar := MajorM * MajorM / MinorM
	for _, c := range []struct{ latDeg, meridian, across float64 }{
		{0, MinorM * MinorM / MajorM, MajorM}, {90, polar, polar}, {-90, polar, polar},
	} {
		m, n := Radii(c.latDeg * math.Pi / 180)
		if math.Abs(m-c.meridian) > 1e-6 || math.Abs(n-c.across) > 1e-6 {
			t.Errorf("at %g°: %.7f and %.7f m, want %.7f and %.7f", c.latDeg, m, n, c.meridian, c.across)
		}
	}
}
