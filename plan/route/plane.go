package route

import (
	"math"

	"example.org/skywedge/plan/internal/wgs84"
	"gonum.org/v1/gonum/spatial/r3"
)

// Plane lays a piece of the earth out flat: metres east and north of its middle. North counts along the meridian and
// east along the parallel half way between, with the ellipsoid's own radii there (the rule of the mean latitude). Up to
// 75° of latitude distances are right to 1 mm within 2 km of the middle and to 20 cm within 20 km, as the tests hold
// against geodesics.
type Plane struct{ latDeg, lonDeg float64 }

const rad = math.Pi / 180

// NewPlane returns the plane around a place.
func NewPlane(latDeg, lonDeg float64) Plane { return Plane{latDeg, lonDeg} }

// perDegree returns how many metres a degree of latitude and of longitude has.
func perDegree(latDeg float64) (north, east float64) {
	meridian, across := wgs84.Radii(latDeg * rad)
	return meridian * rad, across * math.Cos(latDeg*rad) * rad
}

// Metres returns where a place lies; its height is left at 0.
func (g Plane) Metres(latDeg, lonDeg float64) r3.Vec {
	north, east := perDegree((g.latDeg + latDeg) / 2)
	return r3.Vec{X: math.Remainder(lonDeg-g.lonDeg, 360) * east, Y: (latDeg - g.latDeg) * north}
}

// Degrees is the way back; the longitude lies from −180 to below 180.
func (g Plane) Degrees(at r3.Vec) (latDeg, lonDeg float64) {
	latDeg = g.latDeg
	for range 4 { // each round leaves less than a thousandth of the error before
		north, _ := perDegree((g.latDeg + latDeg) / 2)
		latDeg = g.latDeg + at.Y/north
	}
	_, east := perDegree((g.latDeg + latDeg) / 2)
	lonDeg = math.Remainder(g.lonDeg+at.X/east, 360)
	if lonDeg >= 180 {
		lonDeg -= 360
	}
	return latDeg, lonDeg
}
