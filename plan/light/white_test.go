package light

import (
	"math"
	"testing"

	"example.org/skywedge/sun"
)

// Daylight of any colour temperature comes out grey when that white balance is set: the colours of
// daylight are those of the CIE's locus (CIE 15:2004, formulas from memory), turned into linear BT.709 and
// held against those of noon.
func TestWhiteBalanceAgainstDaylight(t *testing.T) {
	daylight := func(k float64) RGB {
		x := -4.6070e9/(k*k*k) + 2.9678e6/(k*k) + .09911e3/k + .244063
		if k > 7000 {
			x = -2.0064e9/(k*k*k) + 1.9018e6/(k*k) + .24748e3/k + .237040
		}
		y := -3*x*x + 2.870*x - .275
		a, c := x/y, (1-x-y)/y
		return RGB{3.2406*a - 1.5372 - .4986*c, -.9689*a + 1.8758 + .0415*c, .0557*a - .2040 + 1.0570*c}
	}
	noon := daylight(NoonK)
	for k := 4000.0; k <= 9000; k += 250 {
		light, gains := daylight(k), WhiteGains(k)
		var c RGB
		for i := range c {
			c[i] = light[i] / noon[i] * gains[i]
		}
		r, b := c[0]/c[1], c[2]/c[1]
		if math.Abs(r-1) > .02 || math.Abs(b-1) > .02 {
			t.Errorf("%.0f K under its own white balance: red %.3f, blue %.3f of green", k, r, b)
		}
	}
	if g := WhiteGains(0); g != (RGB{1, 1, 1}) {
		t.Errorf("without a white balance: %v", g)
	}
}

// After sunset three quarters of the further reddening go, evenly until the sun is 6° down: the light comes
// from ever higher air (ours, by eye). At the horizon it is 0.16 air masses for each of the sun's own, of
// which no more than 20 count.
func TestWarmthFadesAtDusk(t *testing.T) {
	for _, c := range []struct{ altitude, left float64 }{{-0.001, 1}, {-2, .75}, {-4, .5}, {-6, .25}, {-9, .25}} {
		w := newWarmth(sun.Position{AltitudeDeg: c.altitude}, 0)
		if want := .16 * 20 * c.left; math.Abs(w.horizon-want) > .001*want {
			t.Errorf("sun at %g°: %.3f air masses at the horizon, want %.3f", c.altitude, w.horizon, want)
		}
	}
}
