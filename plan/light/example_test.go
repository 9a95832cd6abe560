package light_test

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// In haze that leaves 10 km of sight a far shore has little contrast left; a polariser crossed to the
// airlight, which is polarised across the sun, brings some of it back.
func ExampleDetailContrast() {
	perKm := light.ExtinctionPerKm(10)
	p := light.AirlightDegree(math.Cos(90*math.Pi/180), perKm)
	for _, km := range []float64{1, 3, 6} {
		bare, crossed := light.DetailContrast(km, 10, p, 1)
		fmt.Printf("%g km: %.0f %% of the contrast, %.0f %% with the air's light cut\n", km, 100*bare, 100*crossed)
	}
	// Output:
	// 1 km: 74 % of the contrast, 77 % with the air's light cut
	// 3 km: 41 % of the contrast, 45 % with the air's light cut
	// 6 km: 17 % of the contrast, 19 % with the air's light cut
}

// Grass lit from behind the camera by a low sun reads brighter than the same land seen against it.
func ExampleLandEV100() {
	s := &shot.Shot{LatDeg: 43.4, LonDeg: -8.4, Light: shot.Weather{VisibilityKm: 30}}
	low := sun.Position{AzimuthDeg: 260, AltitudeDeg: 15, GeometricDeg: 15}
	air := light.AirAt(s, 0, shot.Grass)
	l := light.OnGround(s, low, light.NoMoon, air)
	fmt.Printf("sun behind: EV %.1f\n", light.LandEV100(l, 80, -10, air.Albedo))
	fmt.Printf("sun ahead:  EV %.1f\n", light.LandEV100(l, 260, -10, air.Albedo))
	// Output:
	// sun behind: EV 14.0
	// sun ahead:  EV 12.0
}
