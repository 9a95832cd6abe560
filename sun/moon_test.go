package sun

import (
	"math"
	"testing"
	"time"
)

// fromPole turns the moon's place seen from the north pole into declination and hour angle at
// Greenwich, in degrees, with the parallax put back.
func fromPole(m Moon) (dec, hourAngle float64) {
	dec = m.GeometricDeg + math.Asin(earthRadiusKm/m.DistanceKm)*deg*math.Cos(m.GeometricDeg*rad)
	return dec, turn(m.AzimuthDeg - 180)
}

// Meeus, Astronomical Algorithms, examples 47.a and 48.a: the moon on 1992 April 12 at 0h dynamical
// time (values from memory). The tolerance is that of the plain orbit.
func TestMoonAgainstMeeus(t *testing.T) {
	at := time.Date(1992, 4, 11, 23, 59, 1, 0, time.UTC)
	m := MoonAt(at, 90, 0)
	dec, ha := fromPole(m)
	near(t, "declination", dec, 13.768368, 2.5)
	sidereal := plainSun(secondsOf(at)).siderealRad * deg
	near(t, "right ascension", across(sidereal-ha, 134.688470), 0, 2.5)
	near(t, "distance", m.DistanceKm/368409.7, 1, 0.03)
	near(t, "lit fraction", m.LitFraction, 0.6786, 0.03)
}

// almanacMoon is the low-precision series of the Astronomical Almanac, section D (0.3° in
// longitude, 0.2° in latitude; coefficients from memory), as an independent opinion.
func almanacMoon(s float64) (lonDeg, latDeg, parallaxDeg float64) {
	c := (s + ttMinusUTC) / (36525 * daySeconds)
	sin := func(a, b float64) float64 { return math.Sin((a + b*c) * rad) }
	cos := func(a, b float64) float64 { return math.Cos((a + b*c) * rad) }
	lonDeg = 218.32 + 481267.881*c + 6.29*sin(135.0, 477198.87) - 1.27*sin(259.3, -413335.36) +
		0.66*sin(235.7, 890534.22) + 0.21*sin(269.9, 954397.74) - 0.19*sin(357.5, 35999.05) - 0.11*sin(186.5, 966404.03)
	latDeg = 5.13*sin(93.3, 483202.02) + 0.28*sin(228.2, 960400.89) - 0.28*sin(318.3, 6003.15) - 0.17*sin(217.6, -407332.21)
	parallaxDeg = 0.9508 + 0.0518*cos(135.0, 477198.87) + 0.0095*cos(259.3, -413335.36) +
		0.0078*cos(235.7, 890534.22) + 0.0028*cos(269.9, 954397.74)
	return lonDeg, latDeg, parallaxDeg
}

// asStar returns the almanac's moon among the stars, with the sidereal time of the instant.
func asStar(s float64) equatorial {
	lon, lat, _ := almanacMoon(s)
	sl, cl := math.Sincos(lon * rad)
	sb, cb := math.Sincos(lat * rad)
	se, ce := math.Sincos(23.4393 * rad)
	e := equatorial{siderealRad: plainSun(s).siderealRad}
	e.rightAscension = math.Atan2(cb*sl*ce-sb*se, cb*cl)
	e.sinDec = sb*ce + cb*se*sl
	e.cosDec = math.Sqrt(1 - e.sinDec*e.sinDec)
	return e
}

// Every 7 h for six years, at four places: azimuth from north, altitude of the observer without
// refraction, lit fraction and distance.
func TestMoonAgainstAlmanac(t *testing.T) {
	var worst, worstLit, worstDistance, square float64
	n := 0
	for _, place := range [][2]float64{{60, 20}, {0, -100}, {-35, 150}, {89, 0}} {
		for k := 0; k < 6*1252; k += 4 {
			at := time.Date(2022, 1, 1, 7*k, 0, 0, 0, time.UTC)
			m := MoonAt(at, place[0], place[1])
			s := secondsOf(at)
			e := asStar(s)
			v := newSite(place[0], place[1]).plainLocal(e)
			_, _, parallax := almanacMoon(s)
			alt := math.Asin(v.Z) * deg
			alt -= parallax * math.Cos(alt*rad)
			az := turn(math.Atan2(v.X, v.Y) * deg)

			a, b := Direction(m.AzimuthDeg, m.GeometricDeg), Direction(az, alt)
			off := math.Acos(min(a.X*b.X+a.Y*b.Y+a.Z*b.Z, 1)) * deg
			worst = max(worst, off)
			square += off * off
			worstDistance = max(worstDistance, math.Abs(m.DistanceKm*math.Sin(parallax*rad)/earthRadiusKm-1))

			lonM, latM, _ := almanacMoon(s)
			elongation := math.Acos(math.Cos(latM*rad) * math.Cos(lonM*rad-plainSun(s).apparentLon))
			worstLit = max(worstLit, math.Abs(m.LitFraction-(1-math.Cos(elongation))/2))
			if m.AltitudeDeg < m.GeometricDeg {
				t.Fatalf("%v: refraction lowers the moon", at)
			}
			n++
		}
	}
	rms := math.Sqrt(square / float64(n))
	t.Logf("%d instants: worst %.2f°, rms %.2f°, lit %.3f, distance %.3f", n, worst, rms, worstLit, worstDistance)
	if worst > 3 || rms > 1.25 || worstLit > 0.03 || worstDistance > 0.02 {
		t.Errorf("worse than documented: %.2f°, rms %.2f°, lit %.3f, distance %.3f", worst, rms, worstLit, worstDistance)
	}
}

// Published phases of 2024 and 2025, to the hour (the eclipses of those days; common knowledge):
// total solar eclipse 2024-04-08 18 h, total lunar eclipse 2025-03-14 7 h.
func TestMoonAtEclipses(t *testing.T) {
	near(t, "new", MoonAt(time.Date(2024, 4, 8, 18, 20, 0, 0, time.UTC), 0, 0).LitFraction, 0, 0.005)
	near(t, "full", MoonAt(time.Date(2025, 3, 14, 7, 0, 0, 0, time.UTC), 0, 0).LitFraction, 1, 0.005)
}

func TestMoonRefractionIsTakenOff(t *testing.T) {
	for h := -1.5; h < 1.57; h += 0.001 {
		near(t, "altitude", withoutSuncalcRefraction(h+suncalcRefraction(h)), h, 1e-7)
	}
}

func FuzzMoonAtIsFinite(f *testing.F) {
	f.Add(int64(0), 45.0, 10.0)
	f.Add(int64(math.MaxInt64), 90.0, 1e300)
	f.Add(int64(math.MinInt64), -1e300, -180.0)
	f.Fuzz(func(t *testing.T, unix int64, lat, lon float64) {
		if math.IsNaN(lat+lon) || math.IsInf(lat, 0) || math.IsInf(lon, 0) {
			return
		}
		m := MoonAt(time.Unix(unix, 0), lat, lon)
		if e := moonIlluminance(m); !finite(m.Position) || !(m.LitFraction >= 0 && m.LitFraction <= 1) || !(e >= 0 && e < 1) {
			t.Errorf("MoonAt(%d, %g, %g) = %+v, %g lx", unix, lat, lon, m, e)
		}
	})
}

func BenchmarkMoonAt(b *testing.B) {
	at := time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC)
	for b.Loop() {
		sink += MoonAt(at, 43.4, -8.4).AltitudeDeg
	}
}
