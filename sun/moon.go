package sun

import (
	"math"
	"time"

	"github.com/sixdouglas/suncalc"
)

const (
	earthRadiusKm    = 6378.14
	moonMeanKm       = 384400.0
	moonMeanParallax = 0.951 // degrees
)

// MoonAt returns the moon's place seen from a latitude and an east longitude in degrees, its distance
// and how much of it is lit. The place comes from suncalc's orbit with one term for each
// coordinate: within 3°, mostly 1.2°; the distance within 2 %, the lit fraction within 0.03. That
// is enough for the light the moon gives, not for aiming at it. Unlike there, the azimuth counts
// from north, and the altitude is that of an observer on the surface, who sees the moon up to 1°
// lower than the centre of the earth does. Years outside 1700..2250 count as the nearest of those.
func MoonAt(t time.Time, latDeg, lonDeg float64) Moon {
	const first, last = -8520336000, 8836128000 // the years 1700 and 2250 on the Unix clock
	if u := t.Unix(); u < first || u > last {
		t = time.Unix(min(max(u, first), last), 0)
	}
	latDeg = min(max(latDeg, -90), 90)
	p := suncalc.GetMoonPosition(t, latDeg, math.Mod(lonDeg, 360))
	h := withoutSuncalcRefraction(p.Altitude) * deg
	parallax := math.Asin(earthRadiusKm/p.Distance) * deg
	h -= parallax * math.Cos(h*rad)
	return Moon{
		Position: Position{
			GeometricDeg: h,
			AltitudeDeg:  h + Refraction(h, StandardHPa, StandardTempC),
			AzimuthDeg:   turn(p.Azimuth*deg + 180),
		},
		LitFraction: suncalc.GetMoonIllumination(t).Fraction,
		DistanceKm:  p.Distance,
	}
}

// suncalcRefraction is the formula that suncalc adds to the moon's altitude, radians (Meeus 1998,
// eq. 16.4); below the horizon it adds the value at the horizon.
func suncalcRefraction(h float64) float64 {
	h = max(h, 0)
	return 0.0002967 / math.Tan(h+0.00312536/(h+0.08901179))
}

// withoutSuncalcRefraction takes it off again, both in radians. The correction changes by less than
// a sixth of a change in altitude, so each round gains most of a digit.
func withoutSuncalcRefraction(apparent float64) float64 {
	h := apparent
	for range 12 {
		h = apparent - suncalcRefraction(h)
	}
	return h
}
