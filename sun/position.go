package sun

import (
	"math"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	rad = math.Pi / 180
	deg = 180 / math.Pi

	// j2000Unix is 2000-01-01 12:00 UTC, the origin of time in this package.
	j2000Unix  = 946728000
	daySeconds = 86400.0

	// ttMinusUTC is the difference between the even time of dynamics and the clock. It was 64.2 s
	// in 2000 and is 69.2 s since 2017; the sun moves 0.001° in 90 s, so a constant will do.
	ttMinusUTC = 70.0

	// spanSeconds bounds the instants computed, 2000 years either side of 2000: the polynomials mean
	// nothing beyond, and must not overflow.
	spanSeconds = 2000 * 365.25 * daySeconds
)

// Standard air for the refraction of [At].
const (
	StandardHPa   = 1010.0
	StandardTempC = 10.0
)

// refractionFloorDeg is the geometric altitude below which no refraction is applied: the disc is
// then below the horizon and is not seen.
const refractionFloorDeg = -0.8333

// secondsOf returns an instant in seconds after J2000.
func secondsOf(t time.Time) float64 {
	s := float64(t.Unix()-j2000Unix) + float64(t.Nanosecond())*1e-9
	return min(max(s, -spanSeconds), spanSeconds)
}

// instant is the inverse of secondsOf.
func instant(s float64) time.Time {
	whole := math.Floor(s)
	return time.Unix(int64(whole)+j2000Unix, int64((s-whole)*1e9))
}

// Obliquity of the ecliptic at J2000, degrees (Meeus 1998, eq. 22.2), and its sine and cosine.
const (
	obliquity2000Deg = 23.4392911
	sinObliquity2000 = 0.39777715575399053
	cosObliquity2000 = 0.917482062146321
)

// siderealDegPerDay is by how much the earth turns under the stars in a day of the clock.
const siderealDegPerDay = 360.98564736629

// geocentric is the sun among the stars at one instant, as a unit vector: x towards the equinox, z towards the north
// pole.
type geocentric struct {
	x, y, z     float64
	distanceAU  float64
	siderealRad float64 // at Greenwich
}

// sunAmongStars returns the sun's apparent geocentric place: Meeus, Astronomical Algorithms, 2nd ed.
// 1998, chapter 25, low accuracy (0.01°), with the mean obliquity of eq. 22.2 and the sidereal time
// of eq. 12.4. The sidereal time is the apparent one (nutation times the cosine of the obliquity
// added), since the right ascension is.
//
// Everything asks for the sun all the time, so this is quick: a vector needs no right ascension, the sine of what is small
// or moves slowly is a short series. It is what plainSun in the tests writes out, to 1e-9 of a degree.
func sunAmongStars(s float64) geocentric {
	c := (s + ttMinusUTC) / (36525 * daySeconds) // Julian centuries of dynamical time

	meanLon := 280.46646 + c*(36000.76983+c*0.0003032)
	anomaly := (357.52911 + c*(35999.05029-c*0.0001537)) * rad
	ecc := 0.016708634 - c*(0.000042037+c*0.0000001267)

	// Double and triple angles by identity: a third of the sines.
	s1, c1 := math.Sincos(anomaly)
	s2 := 2 * s1 * c1
	s3 := s1 * (3 - 4*s1*s1)
	centre := (1.914602-c*(0.004817+c*0.000014))*s1 + (0.019993-c*0.000101)*s2 + 0.000289*s3

	sinNode, cosNode := math.Sincos((125.04 - 1934.136*c) * rad)
	nutation := -0.00478 * sinNode
	sinLon, cosLon := math.Sincos((meanLon + centre - 0.00569 + nutation) * rad)
	sinC, cosC := smallSincos(centre * rad)

	// The obliquity stays within .3° of its value of 2000 for as long as the polynomials hold.
	sinO, cosO := smallSincos((0.00256*cosNode - c*(46.8150+c*(0.00059-c*0.001813))/3600) * rad)
	sinObl := sinObliquity2000*cosO + cosObliquity2000*sinO
	cosObl := cosObliquity2000*cosO - sinObliquity2000*sinO

	days := s / daySeconds // universal time
	cu := days / 36525
	turned := siderealDegPerDay * days
	sidereal := 280.46061837 + (turned - 360*math.Floor(turned/360)) + cu*cu*(0.000387933-cu/38710000)

	return geocentric{
		x: cosLon, y: cosObl * sinLon, z: sinObl * sinLon,
		distanceAU:  1.000001018 * (1 - ecc*ecc) / (1 + ecc*(c1*cosC-s1*sinC)),
		siderealRad: (sidereal + nutation*cosObl) * rad,
	}
}

// smallSincos returns sine and cosine of a small angle in radians, to 1e-11 under .04.
func smallSincos(x float64) (sin, cos float64) {
	q := x * x
	return x * (1 - q/6*(1-q/20)), 1 - q/2*(1-q/12*(1-q/30))
}

// site is a place with its latitude's sine and cosine at hand.
type site struct{ sinLat, cosLat, lonRad float64 }

func newSite(latDeg, lonDeg float64) site {
	if lonDeg < -360 || lonDeg > 360 {
		lonDeg = math.Mod(lonDeg, 360)
	}
	s, c := math.Sincos(min(max(latDeg, -90), 90) * rad)
	return site{s, c, lonDeg * rad}
}

// local turns a place among the stars into East-North-Up.
func (p site) local(e geocentric) r3.Vec {
	sin, cos := math.Sincos(e.siderealRad + p.lonRad)
	west, up := e.x*sin-e.y*cos, e.x*cos+e.y*sin // of the meridian, in the plane of the equator
	return r3.Vec{X: -west, Y: e.z*p.cosLat - up*p.sinLat, Z: e.z*p.sinLat + up*p.cosLat}
}

// geometric returns the altitude in degrees with the parallax taken off: the observer stands on the
// surface, up to 8.794″ of the sun's sky away from the centre of the earth.
func (p site) geometric(s float64) float64 {
	e := sunAmongStars(s)
	return topocentric(p.local(e), e.distanceAU)
}

func topocentric(v r3.Vec, distanceAU float64) float64 {
	sinAlt := min(max(v.Z, -1), 1)
	return math.Asin(sinAlt)*deg - parallaxDeg/distanceAU*math.Sqrt(1-sinAlt*sinAlt)
}

// parallaxDeg is the sun's equatorial horizontal parallax at a distance of one astronomical unit.
const parallaxDeg = 8.794 / 3600

// hourAngle returns how far the sun has passed the meridian, in degrees, −180..180.
func (p site) hourAngle(s float64) float64 {
	e := sunAmongStars(s)
	sin, cos := math.Sincos(e.siderealRad + p.lonRad)
	return math.Atan2(e.x*sin-e.y*cos, e.x*cos+e.y*sin) * deg
}

// At returns the sun's place in the sky at an instant, seen from a latitude (−90..90, beyond which it
// counts as the pole) and an east longitude in degrees, within 0.02° from 2000 to 2050 (Meeus,
// Astronomical Algorithms, 2nd ed. 1998, chapters 12, 13, 25). The apparent altitude is that in
// air of 1010 hPa and 10 °C; for other air take the geometric one and [Refraction]. Instants more
// than 2000 years from 2000 count as the last of those.
func At(t time.Time, latDeg, lonDeg float64) Position {
	p := newSite(latDeg, lonDeg)
	e := sunAmongStars(secondsOf(t))
	v := p.local(e)
	h := topocentric(v, e.distanceAU)
	azimuth := math.Atan2(v.X, v.Y) * deg
	if azimuth < 0 {
		if azimuth += 360; azimuth >= 360 { // a tiny negative angle rounds up to the full turn
			azimuth = 0
		}
	}
	return Position{GeometricDeg: h, AltitudeDeg: h + Refraction(h, StandardHPa, StandardTempC), AzimuthDeg: azimuth}
}

// turn brings an angle in degrees to 0 <= a < 360.
func turn(a float64) float64 {
	a = math.Mod(a, 360)
	if a < 0 {
		a += 360
	}
	if a >= 360 { // a tiny negative angle rounds up to the full turn
		return 0
	}
	return a
}

// Refraction returns by how many degrees the air lifts a body at a geometric altitude, at a pressure in hPa
// and a temperature in °C (Sæmundsson's formula, Meeus 1998 eq. 16.4; as eq. 42 of Reda & Andreas
// 2004). It is 0 below −0.8333°, where the disc is out of sight. Good to 0.1′ above 5° in
// standard air; near the horizon the real air differs by several minutes of arc from day to day.
func Refraction(geometricDeg, pressureHPa, tempC float64) float64 {
	if geometricDeg < refractionFloorDeg {
		return 0
	}
	h := min(geometricDeg, 90)
	r := 1.02 / math.Tan((h+10.3/(h+5.11))*rad) / 60
	air := max(pressureHPa, 0) / 1010 * 283 / (273 + max(tempC, -150))
	return max(r, 0) * air // the formula goes 0.00003° negative at the zenith
}

// Shadow returns the bearing in degrees and the length, per metre of height on level ground, of the
// shadow of an upright thing. It is not ok when the sun is not above the horizon.
func Shadow(p Position) (bearingDeg, perHeight float64, ok bool) {
	if p.AltitudeDeg <= 0 || p.AltitudeDeg > 90 {
		return 0, 0, false
	}
	sin, cos := math.Sincos(p.AltitudeDeg * rad)
	return turn(p.AzimuthDeg + 180), max(cos, 0) / sin, true
}
