package light_test

import (
	"fmt"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// Grass lit from behind the camera by a low sun reads brighter than the same land seen against it.
func ExampleLandEV100() {
	s := &shot.Shot{LatDeg: 43.4, LonDeg: -8.4, Light: shot.Weather{VisibilityKm: 30}}
	low := sun.Position{AzimuthDeg: 260, AltitudeDeg: 15, GeometricDeg: 15}
	air := light.AirAt(s, 0, shot.Grass)
	l := light.OnGround(s, low, light.NoMoon(), air)
	fmt.Printf("sun behind: EV %.1f\n", light.LandEV100(l, 80, -10, air.Albedo))
	fmt.Printf("sun ahead:  EV %.1f\n", light.LandEV100(l, 260, -10, air.Albedo))
	// Output:
	// sun behind: EV 14.0
	// sun ahead:  EV 12.0
}
