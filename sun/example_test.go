package sun_test

import (
	"fmt"
	"time"

	"example.org/skywedge/sun"
)

// The worked example of Reda & Andreas 2004 (NREL/TP-560-34302): 17 October 2003, 12:30:30, seven hours
// behind universal time, at 820 hPa and 11 °C. Published: zenith distance 50.11162°, azimuth 194.34024°.
func ExampleAt() {
	t := time.Date(2003, time.October, 17, 12, 30, 30, 0, time.FixedZone("", -7*3600))
	p := sun.At(t, 39.742476, -105.1786)
	apparent := p.GeometricDeg + sun.Refraction(p.GeometricDeg, 820, 11)

	fmt.Printf("zenith distance %.1f°, azimuth %.1f°\n", 90-apparent, p.AzimuthDeg)
	// Output:
	// zenith distance 50.1°, azimuth 194.3°
}

// A winter's day that the reference ephemeris of testdata has too: there the sun rises at 05:53:54
// universal time, passes the meridian at 11:07:49, 39.419° high, and sets at 16:21:56.
func ExampleDayOf() {
	zone := time.FixedZone("CET", 3600)
	d := sun.DayOf(2025, time.January, 16, zone, 29.7393, 15.5012)

	fmt.Println("low sun until", d.LowMorningEnd.Format("15:04"), "and from", d.LowEveningStart.Format("15:04"))
	fmt.Println("sunrise", d.Sunrise.Format("15:04"), "noon", d.Noon.Format("15:04"), "sunset", d.Sunset.Format("15:04 MST"))
	fmt.Printf("%.1f° high at noon\n", d.NoonAltitudeDeg)
	// Output:
	// low sun until 07:28 and from 16:46
	// sunrise 06:53 noon 12:07 sunset 17:21 CET
	// 39.4° high at noon
}

// Beyond the polar circle an event may be missing: its time is zero, and the day says what the sun does.
func ExampleDay() {
	d := sun.DayOf(2026, time.June, 21, time.UTC, 75, 0)

	fmt.Println(d.Sunset.IsZero(), d.Kind == sun.UpAllDay)
	fmt.Println(d.Note)
	// Output:
	// true true
	// The sun is up all day, stays above 6°.
}

// Sunset and the end of civil twilight. The Glossary of Meteorology of the American Meteorological Society
// has 585 to 410 lx and 3.5 to 2 lx for the two.
func ExampleClearIlluminance() {
	fmt.Printf("sunset %.0f lx, civil dusk %.1f lx\n",
		sun.ClearIlluminance(sun.HorizonDeg), sun.ClearIlluminance(sun.CivilDeg))
	// Output:
	// sunset 454 lx, civil dusk 3.4 lx
}

// An hour before sunset on a headland: where the sun is, and what falls on a subject that the
// camera sees with the sun at its back.
func ExampleLightAt() {
	const latDeg, lonDeg = 43.4, -8.4
	zone := time.FixedZone("CEST", 2*3600)
	day := sun.DayOf(2026, time.September, 18, zone, latDeg, lonDeg)
	at := day.Sunset.Add(-time.Hour)
	p := sun.At(at, latDeg, lonDeg)
	light := sun.LightAt(p, sun.MoonAt(at, latDeg, lonDeg), sun.ClearAir(40, 4))

	fmt.Println("sunset", day.Sunset.Format("15:04 MST"))
	fmt.Printf("sun %.0f° high at %.0f°\n", p.AltitudeDeg, p.AzimuthDeg)
	fmt.Printf("%.0f klx, of it sky %.0f klx\n", light.TotalLx/1000, light.SkyLx/1000)
	fmt.Printf("on the subject %.0f klx\n", light.CardioidLx(p.AzimuthDeg+180, 0, 0.15)/1000)
	// Output:
	// sunset 20:38 CEST
	// sun 10° high at 263°
	// 11 klx, of it sky 5 klx
	// on the subject 40 klx
}

// Broken cloud is two states: what a place gets while the sun shines through a gap, and what it gets while it
// does not. Published exposure guides put bright sun and cloud without shadows two stops apart.
func ExampleStates() {
	p := sun.Position{GeometricDeg: 45, AltitudeDeg: 45.02, AzimuthDeg: 180}
	air := sun.ClearAir(40, 0)
	for _, cover := range []float64{0, 0.3, 0.7, 1} {
		bright, dark := sun.States(cover, sun.ShineAuto)
		air.Cloud = bright
		b := sun.LightAt(p, sun.Moon{Position: sun.Position{GeometricDeg: -90}}, air)
		air.Cloud = dark
		d := sun.LightAt(p, sun.Moon{Position: sun.Position{GeometricDeg: -90}}, air)
		fmt.Printf("%3.0f %%: %2.0f and %2.0f klx, beam %2.0f and %2.0f klx\n", 100*cover,
			b.TotalLx/1000, d.TotalLx/1000, b.DirectNormalLx/1000, d.DirectNormalLx/1000)
	}
	// Output:
	//   0 %: 78 and 78 klx, beam 93 and 93 klx
	//  30 %: 84 and 37 klx, beam 93 and 27 klx
	//  70 %: 76 and 32 klx, beam 68 and  0 klx
	// 100 %: 15 and 15 klx, beam  0 and  0 klx
}

// The sky at a right angle to a sun in the west: how bright, how far polarised and along which direction.
func ExampleSky_At() {
	air := sun.ClearAir(40, 0)
	sky := sun.NewSky(270, 10, air, 550, 5528) // 5528 lx on the horizontal from the sky
	d := sun.Direction(0, 30)                  // north, 30° up
	ray := sky.At(d)
	low, high := sky.DegreeRange(d)

	fmt.Printf("%.0f cd/m²\n", ray.Luminance)
	fmt.Printf("%.0f %% polarised, from %.0f to %.0f %%\n", 100*ray.Degree, 100*low, 100*high)
	fmt.Printf("E leans %.0f° from the vertical\n", sun.EVectorDeg(d, ray.E))
	// Output:
	// 1308 cd/m²
	// 69 % polarised, from 47 to 80 %
	// E leans -8° from the vertical
}

// What haze does to the polarisation overhead, with the sun on the horizon.
func ExampleNewPattern() {
	for _, h := range sun.Hazes() {
		p := sun.NewPattern(270, 0, sun.ClearAir(h.VisibilityKm, 0), 550)
		degree, _ := p.Polarisation(sun.Direction(0, 90))
		fmt.Printf("%-10s %3.0f km: %.0f %%\n", h.Name, h.VisibilityKm, 100*degree)
	}
	// Output:
	// crystal    100 km: 83 %
	// clear       40 km: 75 %
	// light haze  20 km: 65 %
	// hazy        10 km: 51 %
	// murky        5 km: 36 %
}
