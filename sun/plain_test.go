package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// equatorial is the sun among the stars at one instant.
type equatorial struct {
	apparentLon    float64 // radians
	rightAscension float64 // radians
	sinDec, cosDec float64
	distanceAU     float64
	siderealRad    float64 // at Greenwich
}

// plainSun returns the sun's apparent geocentric place: Meeus, Astronomical Algorithms, 2nd ed.
// 1998, chapter 25, low accuracy (0.01°), with the mean obliquity of eq. 22.2 and the sidereal time
// of eq. 12.4. The sidereal time is the apparent one (nutation times the cosine of the obliquity
// added), since the right ascension is.
func plainSun(s float64) equatorial {
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
	lon := (meanLon + centre - 0.00569 + nutation) * rad
	obliquity := 23.4392911 - c*(46.8150+c*(0.00059-c*0.001813))/3600 + 0.00256*cosNode

	sinLon, cosLon := math.Sincos(lon)
	sinObl, cosObl := math.Sincos(obliquity * rad)

	days := s / daySeconds // universal time
	cu := days / 36525
	sidereal := 280.46061837 + math.Mod(360.98564736629*days, 360) + cu*cu*(0.000387933-cu/38710000)

	sinDec := sinObl * sinLon
	return equatorial{
		apparentLon:    lon,
		rightAscension: math.Atan2(cosObl*sinLon, cosLon),
		sinDec:         sinDec,
		cosDec:         math.Sqrt(max(1-sinDec*sinDec, 0)),
		distanceAU:     1.000001018 * (1 - ecc*ecc) / (1 + ecc*math.Cos(anomaly+centre*rad)),
		siderealRad:    (sidereal + nutation*cosObl) * rad,
	}
}

// plainLocal turns a place among the stars into East-North-Up.
func (p site) plainLocal(e equatorial) r3.Vec {
	sinH, cosH := math.Sincos(e.siderealRad + p.lonRad - e.rightAscension)
	return r3.Vec{
		X: -e.cosDec * sinH,
		Y: e.sinDec*p.cosLat - e.cosDec*cosH*p.sinLat,
		Z: e.sinDec*p.sinLat + e.cosDec*cosH*p.cosLat,
	}
}

// plainGeometric returns the altitude in degrees with the parallax taken off: the observer stands on the
// surface, up to 8.794″ of the sun's sky away from the centre of the earth.
func (p site) plainGeometric(s float64) float64 {
	e := plainSun(s)
	return topocentric(p.plainLocal(e), e.distanceAU)
}

// plainHourAngle returns how far the sun has passed the meridian, in degrees, −180..180.
func (p site) plainHourAngle(s float64) float64 {
	e := plainSun(s)
	return math.Remainder(e.siderealRad+p.lonRad-e.rightAscension, 2*math.Pi) * deg
}

// plainAt is [At] by way of right ascension and hour angle, as the book goes.
func plainAt(t time.Time, latDeg, lonDeg float64) Position {
	p := newSite(latDeg, lonDeg)
	e := plainSun(secondsOf(t))
	v := p.plainLocal(e)
	h := topocentric(v, e.distanceAU)
	return Position{
		GeometricDeg: h,
		AltitudeDeg:  h + Refraction(h, StandardHPa, StandardTempC),
		AzimuthDeg:   turn(math.Atan2(v.X, v.Y) * deg),
	}
}

const (
	// sampleStep is the coarse step that finds the turning points of the altitude. Over a day there
	// are at most one high and one low, hours apart.
	sampleStep = 3600.0
	// rootStep is how closely a crossing is found, in seconds.
	rootStep = 0.05
)

// plainCourse is the sun's altitude over a span of time, cut into pieces that only rise or only fall.
type plainCourse struct {
	place site
	knots []float64 // seconds after J2000
	alts  []float64 // geometric altitude at the knots
}

func plainCourseOf(p site, a, b float64) plainCourse {
	c := plainCourse{place: p, knots: []float64{a}}
	// One sample beyond each end, or a turning point within the first or the last step is missed:
	// the day's window ends at midnight, next to the lowest point.
	n := int(math.Ceil((b - a) / sampleStep))
	step := (b - a) / float64(n)
	before, here := p.plainGeometric(a-step), p.plainGeometric(a)
	for i := 0; i <= n; i++ {
		t := a + float64(i)*step
		after := p.plainGeometric(t + step)
		switch {
		case here > before && here >= after:
			c.add(p.plainTurningPoint(t-step, t+step, 1), a, b)
		case here < before && here <= after:
			c.add(p.plainTurningPoint(t-step, t+step, -1), a, b)
		}
		before, here = here, after
	}
	c.knots = append(c.knots, b)
	for _, t := range c.knots {
		c.alts = append(c.alts, p.plainGeometric(t))
	}
	return c
}

func (c *plainCourse) add(t, a, b float64) {
	if t > a && t < b {
		c.knots = append(c.knots, t)
	}
}

// plainTurningPoint finds the highest (sign 1) or lowest (sign −1) point between two instants by golden
// section.
func (p site) plainTurningPoint(a, b, sign float64) float64 {
	const g = 0.6180339887498949
	x, y := b-g*(b-a), a+g*(b-a)
	fx, fy := sign*p.plainGeometric(x), sign*p.plainGeometric(y)
	for b-a > 0.5 {
		if fx > fy {
			b, y, fy = y, x, fx
			x = b - g*(b-a)
			fx = sign * p.plainGeometric(x)
		} else {
			a, x, fx = x, y, fy
			y = a + g*(b-a)
			fy = sign * p.plainGeometric(y)
		}
	}
	return (a + b) / 2
}

func (c plainCourse) crossings(altDeg float64) []crossing {
	var out []crossing
	for i := 1; i < len(c.knots); i++ {
		up0, up1 := c.alts[i-1] >= altDeg, c.alts[i] >= altDeg
		if up0 == up1 {
			continue
		}
		a, b := c.knots[i-1], c.knots[i]
		for b-a > rootStep {
			m := (a + b) / 2
			if (c.place.plainGeometric(m) >= altDeg) == up0 {
				a = m
			} else {
				b = m
			}
		}
		out = append(out, crossing{instant((a + b) / 2), up1})
	}
	return out
}

// The quick ways say what the plain ones do: the sun's place to 1e-9 of a degree, and the passages of a day to a tenth of
// a second, where it passes steeply, or to what 3e-6 of a degree are in time.
func TestQuickIsPlain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	var place, day float64
	for range 200000 {
		at := instant(float64(r.Int64N(3200000000)) - 1600000000) // 1949 to 2050
		lat, lon := 180*r.Float64()-90, 360*r.Float64()-180
		a, b := At(at, lat, lon), plainAt(at, lat, lon)
		place = max(place, math.Abs(a.GeometricDeg-b.GeometricDeg)*math.Cos(b.GeometricDeg*rad), math.Abs(across(a.AzimuthDeg, b.AzimuthDeg))*math.Cos(b.GeometricDeg*rad))
	}
	for range 1000 {
		p, s := newSite(45, 360*r.Float64()-180), 1e9*r.Float64()
		if a, b := p.hourAngle(s), p.plainHourAngle(s); math.Abs(across(a, b)) > 1e-9 {
			t.Fatalf("%v: hour angle %.12f°, plainly %.12f°", instant(s), a, b)
		}
	}
	if place > 1e-9 {
		t.Errorf("the sun is up to %.3g° off", place)
	}
	n := 0
	for i := range 4000 {
		lat, lon := 180*r.Float64()-90, 360*r.Float64()-180
		if i%2 == 0 {
			lat = math.Copysign(60+30*r.Float64(), lat) // grazing
		}
		p := newSite(lat, lon)
		noon := float64(r.Int64N(1600000000))
		c, plain := courseOf(p, noon-daySeconds/2, noon+daySeconds/2), plainCourseOf(p, noon-daySeconds/2, noon+daySeconds/2)
		for _, level := range []float64{HorizonDeg, CivilDeg, NauticalDeg, LowSunDeg} {
			got, want := c.crossings(nil, level), plain.crossings(level)
			if len(got) != len(want) {
				t.Errorf("%.3f %.3f, noon %v: %d passages of %g°, plainly %d", lat, lon, instant(noon), len(got), level, len(want))
				continue
			}
			for k := range got {
				s := secondsOf(want[k].Time)
				speed := math.Abs(p.plainGeometric(s+1)-p.plainGeometric(s-1)) / 2
				off := math.Abs(secondsOf(got[k].Time) - s)
				if off > 0.1+3e-6/speed || got[k].Rising != want[k].Rising {
					t.Errorf("%.3f %.3f: passes %g° at %v, plainly %v", lat, lon, level, got[k].Time, want[k].Time)
				}
				day, n = max(day, off), n+1
			}
		}
	}
	t.Logf("the sun's place to %.2g°, %d passages to %.2g s", place, n, day)
}
