package water_test

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Reflectances of water from Fresnel's equations (Born & Wolf, Principles of Optics, section 1.5.2): at
// 53.12°, Brewster's angle, what lies in the plane of incidence is not mirrored at all.
func ExampleFresnel() {
	for _, deg := range []float64{0, 53.12, 80} {
		rs, rp := water.Fresnel(math.Cos(deg*math.Pi/180), water.Index)
		fmt.Printf("%5.2f° %.4f %.4f\n", deg, rs*rs, rp*rp)
	}
	// Output:
	//  0.00° 0.0204 0.0204
	// 53.12° 0.0783 0.0000
	// 80.00° 0.4570 0.2388
}

// How much of the mirrored sky an upright polariser takes from flat water 90° off a sun at 30°: all of
// it at Brewster's angle, a third nearer to the horizon. The sky is one of single scattering (Rayleigh
// 1871) that is polarised by ¾ at most.
func ExampleSurface_Reflect() {
	toSun := sun.Direction(0, 30)
	sky := func(d r3.Vec) sun.Ray {
		cos := r3.Dot(d, toSun)
		return sun.Ray{Luminance: 1, Degree: .75 * (1 - cos*cos) / (1 + cos*cos), E: r3.Unit(r3.Cross(d, toSun))}
	}
	calm := water.NewSurface(0, 0)
	for _, pitch := range []float64{-37, -20} {
		d := sun.Direction(90, pitch)
		right, up := water.Axes(d)
		fmt.Printf("%g°: %.3f\n", pitch, calm.Reflect(d, sky).Cut(up, right, up))
	}
	// Output:
	// -37°: 1.000
	// -20°: 0.346
}
