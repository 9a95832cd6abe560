package sun_test

import (
	"fmt"
	"time"

	"example.org/skywedge/sun"
)

// An hour before sunset on a headland: where the sun is, and what falls on a subject that the
// camera sees with the sun at its back.
func ExampleLightAt() {
	const latDeg, lonDeg = 43.4, -8.4
	zone := time.FixedZone("CEST", 2*3600)
	day := sun.DayOf(2026, time.September, 18, zone, latDeg, lonDeg)
	at := day.Sunset.Add(-time.Hour)
	p := sun.At(at, latDeg, lonDeg)
	air := sun.Air{AOD: sun.AerosolDepth(40, 0), PressureHPa: sun.PressureAt(4)}
	light := sun.LightAt(p, sun.MoonAt(at, latDeg, lonDeg), air)

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
