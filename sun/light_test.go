package sun

import (
	"fmt"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// sunAt puts the sun at a geometric altitude, in standard air.
func sunAt(geometricDeg, azDeg float64) Position {
	return Position{geometricDeg, geometricDeg + Refraction(geometricDeg, StandardHPa, StandardTempC), azDeg}
}

var (
	noMoon   = Moon{Position: Position{GeometricDeg: -40, AltitudeDeg: -40}, DistanceKm: moonMeanKm}
	clearDay = Air{AOD: 0.08, PressureHPa: 1013.25, Albedo: 0.15}
)

// The sky's part of a clear day at aerosol depth 0.08: worked separately from the same formula
// (ours, fitted to a scalar radiative transfer).
func TestSkyShareOfAClearDay(t *testing.T) {
	for _, c := range []struct{ h, sky float64 }{{10, 5528}, {30, 10062}, {60, 13636}} {
		l := LightAt(sunAt(c.h, 180), noMoon, clearDay)
		near(t, fmt.Sprintf("sky at %g°", c.h), l.SkyLx, c.sky, 1)
		near(t, "total", l.TotalLx, ClearIlluminance(c.h), 1e-9)
	}
}

func TestLightAddsUp(t *testing.T) {
	for h := -20.0; h <= 90; h += 0.37 {
		for _, cover := range []float64{0, 0.2, 0.5, 0.85, 0.95, 1} {
			for _, hidden := range []float64{0, 0.3, 0.99, 1} {
				for _, aod := range []float64{0, 0.08, 0.7, 2} {
					a := Air{AOD: aod, PressureHPa: 950, Cloud: Cloud{cover, hidden}}
					p := sunAt(h, 90)
					l := LightAt(p, noMoon, a)
					sum := l.SkyLx + l.DirectNormalLx*math.Sin(p.AltitudeDeg*rad)
					if math.Abs(sum-l.TotalLx) > 1e-9*l.TotalLx {
						t.Fatalf("%+v at %g°: %+v does not add up", a, h, l)
					}
					clear := ClearIlluminance(h)
					if l.SkyLx <= 0 || l.DirectNormalLx < 0 || l.DirectNormalLx > solarLx || l.TotalLx > 1.2000001*clear {
						t.Fatalf("%+v at %g°: %+v", a, h, l)
					}
					if (hidden == 1 || p.AltitudeDeg <= 0) != (l.DirectNormalLx == 0) {
						t.Fatalf("%+v at %g°: beam %g", a, h, l.DirectNormalLx)
					}
				}
			}
		}
	}
}

// However cloudy, less sun is less light (the seams of the published polynomials are 0.4 %).
func TestLightFallsUnderEverySky(t *testing.T) {
	for _, a := range []Air{clearDay, {AOD: 0.5}, {Cloud: Cloud{Cover: 0.3}}, {Cloud: Cloud{0.6, 1}}, {Cloud: Cloud{0.6, 0.5}}, {Cloud: Cloud{1, 1}}} {
		lowest := math.Inf(1)
		for h := 89.0; h > -18; h -= 0.05 {
			l := LightAt(sunAt(h, 0), noMoon, a)
			if l.TotalLx > 1.004*lowest {
				t.Fatalf("%+v: %g lx at %.2f° after %g", a, l.TotalLx, h, lowest)
			}
			lowest = min(lowest, l.TotalLx)
		}
	}
}

// Evening of an equinox at 45° north: stops lost in the ten minutes after the sun is at h. Worked
// separately from Meeus' sun and Seidelmann's polynomials.
func TestStopsLostInTenMinutes(t *testing.T) {
	noon := DayOf(2026, 3, 20, time.UTC, 45, 0).Noon
	light := func(at time.Time) float64 { return LightAt(At(at, 45, 0), noMoon, clearDay).TotalLx }
	passes := func(h float64) time.Time {
		c := crossingsBetween(noon, noon.Add(12*time.Hour), 45, 0, h)
		if len(c) != 1 {
			t.Fatalf("%d passages of %g°", len(c), h)
		}
		return c[0].Time
	}
	for _, c := range []struct{ h, stops float64 }{
		{20, 0.15}, {10, 0.38}, {6, 0.58}, {3, 0.93}, {1, 1.42}, {0, 1.73}, {-0.83, 2.00}, {-4, 2.74},
	} {
		at := passes(c.h)
		near(t, fmt.Sprintf("stops lost from %g°", c.h), math.Log2(light(at)/light(at.Add(10*time.Minute))), c.stops, 0.01)
	}
	near(t, "stops from +6° to −6°", math.Log2(light(passes(6))/light(passes(-6))), 10.7, 0.02)
}

// By night the moon's light comes on top, with a beam of its own.
func TestMoonlight(t *testing.T) {
	full := Moon{Position: sunAt(50, 120), LitFraction: 1, DistanceKm: moonMeanKm}
	night := sunAt(-30, 300)
	l := LightAt(night, full, clearDay)
	near(t, "total", l.TotalLx, moonIlluminance(full)+ClearIlluminance(-30), 1e-12)
	near(t, "parts", l.SkyLx+l.MoonNormalLx*math.Sin(full.AltitudeDeg*rad), l.TotalLx, 1e-12)
	if l.MoonNormalLx <= l.SkyLx || l.DirectNormalLx != 0 {
		t.Errorf("moonlit night: %+v", l)
	}
	if front, back := l.CardioidLx(120+180, 0, 0.1), l.CardioidLx(120, 0, 0.1); front < 1.5*back {
		t.Errorf("moon behind the camera %g lx, before it %g lx", front, back)
	}
	cloudy := clearDay
	cloudy.Cloud = Cloud{1, 1}
	if c := LightAt(night, full, cloudy); c.MoonNormalLx != 0 || c.TotalLx > 0.26*l.TotalLx {
		t.Errorf("overcast: %+v", c)
	}
	day := sunAt(40, 0)
	near(t, "by day it does not matter", LightAt(day, full, clearDay).TotalLx/LightAt(day, noMoon, clearDay).TotalLx, 1, 1e-5)
}

// overSphere integrates what even sky, even ground and the beams send onto a receptor at the origin,
// weight being its answer to light from a unit vector.
func overSphere(l Light, albedo float64, weight func(d r3.Vec) float64) float64 {
	const n = 720
	sum := 0.0
	for i := range n {
		z := -1 + (float64(i)+0.5)*2/n // equal steps of height have equal solid angle
		radiance := l.SkyLx / math.Pi
		if z < 0 {
			radiance = albedo * l.TotalLx / math.Pi
		}
		for j := range n {
			s, c := math.Sincos((float64(j) + 0.5) * 2 * math.Pi / n)
			r := math.Sqrt(1 - z*z)
			sum += radiance * weight(r3.Vec{X: r * s, Y: r * c, Z: z}) * 4 * math.Pi / (n * n)
		}
	}
	sum += l.DirectNormalLx * weight(Direction(l.SunAzDeg, l.SunAltDeg))
	return sum + l.MoonNormalLx*weight(Direction(l.MoonAzDeg, l.MoonAltDeg))
}

// The closed form is the integral it claims to be.
func TestCardioidAgainstIntegration(t *testing.T) {
	l := LightAt(sunAt(25, 70), noMoon, clearDay)
	l.MoonNormalLx, l.MoonAltDeg, l.MoonAzDeg = 20000, 40, 310 // a second beam that counts
	for _, c := range []struct{ heading, pitch, albedo float64 }{
		{250, 0, 0.1}, {70, -20, 0.1}, {160, -60, 0.35}, {10, -90, 0.8}, {300, 25, 0.15}, {123, -37, 0},
	} {
		// From subject to camera: against the camera's forward direction.
		toCamera := r3.Scale(-1, Direction(c.heading, c.pitch))
		want := overSphere(l, c.albedo, func(d r3.Vec) float64 { return (1 + r3.Dot(d, toCamera)) / 2 })
		relative(t, fmt.Sprintf("cardioid %+v", c), l.CardioidLx(c.heading, c.pitch, c.albedo), want, 1e-5)
	}
}

// cloudClass is one of the five skies of Janiczek & DeYoung 1987 (US Naval Observatory Circular 171), which
// divide the clear total; how much of the beam's share is left is ours. An exposure guide speaks of such skies.
type cloudClass struct {
	name            string
	divisor, direct float64
}

var cloudClasses = []cloudClass{{"clear", 1, 1}, {"thin cloud", 2, 0.5}, {"bright cloud", 3, 0}, {"overcast", 5, 0}, {"dark cloud", 10, 0}}

// under is a clear sky's light under the class.
func (c cloudClass) under(l Light) Light {
	l.TotalLx /= c.divisor
	l.DirectNormalLx *= c.direct / c.divisor
	l.SkyLx = l.TotalLx - l.DirectNormalLx*math.Sin(l.SunAltDeg*rad)
	return l
}

// American National Standard PH2.7, photographic exposure guide, as publicly reproduced: front
// light EV 15 in full sun, 14 hazy, 13 cloudy bright, 12 overcast, at ISO 100; incident light EV =
// log2(100 E/340) with a dome (ISO 2720:1974). Clear sun agrees from 28° to 70°, the others from
// 38° to 49°, all within half a stop, ground of albedo 0.1.
func TestExposureGuide(t *testing.T) {
	ev := func(l Light, turn float64) float64 {
		return math.Log2(100 * l.CardioidLx(l.SunAzDeg+180+turn, 0, 0.1) / 340)
	}
	lo, hi := math.Inf(1), 0.0
	for h := 28.0; h <= 70; h++ {
		e := ev(LightAt(sunAt(h, 200), noMoon, clearDay), 0)
		lo, hi = min(lo, e), max(hi, e)
		near(t, fmt.Sprintf("full sun at %g°", h), e, 15, 0.5)
	}
	t.Logf("full sun, 28° to 70°: EV %.2f to %.2f", lo, hi)
	for i, want := range []float64{14, 13, 12} {
		for h := 38.0; h <= 49; h++ {
			c := cloudClasses[i+1]
			near(t, fmt.Sprintf("%s at %g°", c.name, h), ev(c.under(LightAt(sunAt(h, 200), noMoon, clearDay)), 0), want, 0.5)
		}
	}
	l := LightAt(sunAt(33, 200), noMoon, clearDay)
	if f, s, b := ev(l, 0), ev(l, 90), ev(l, 180); !(f > s+0.3 && s > b+0.3) {
		t.Errorf("front %.2f, side %.2f, back %.2f", f, s, b)
	}
	near(t, "left and right alike", ev(l, 70), ev(l, -70), 1e-9)
}

func FuzzLightAtIsFinite(f *testing.F) {
	f.Add(3.0, 200.0, 20.0, 0.5, 0.08, 1000.0, 0.3, 0.5)
	f.Add(1e300, -1e300, -0.55, 1.0, 1e300, 1e300, -1e300, 0.0)
	f.Add(210.0, 1400.0, 20.0, 150.5, -78.992, 1000.0, 0.3, 65.0)
	f.Add(-0.5483, 0.0, 90.0, 0.0, 0.0, 0.0, 1.0, 1e300)
	f.Fuzz(func(t *testing.T, h, az, moonH, lit, aod, pressure, cover, hidden float64) {
		for _, x := range []float64{h, az, moonH, lit, aod, pressure, cover, hidden} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return
			}
		}
		m := Moon{Position: sunAt(moonH, -az), LitFraction: lit}
		l := LightAt(sunAt(h, az), m, Air{AOD: aod, PressureHPa: pressure, Cloud: Cloud{cover, hidden}})
		for _, x := range []float64{l.TotalLx, l.SkyLx, l.DirectNormalLx, l.MoonNormalLx, l.CardioidLx(az, h, 0.5)} {
			if !(x >= -1e-9 && x < 1e6) {
				t.Fatalf("%+v", l)
			}
		}
	})
}

func BenchmarkLightAt(b *testing.B) {
	p := sunAt(12, 230)
	a := clearDay
	a.Cloud = Cloud{0.4, 0.3}
	moon := Moon{Position: sunAt(30, 100), LitFraction: 0.6, DistanceKm: moonMeanKm}
	for b.Loop() {
		sink += LightAt(p, moon, a).TotalLx
	}
}
