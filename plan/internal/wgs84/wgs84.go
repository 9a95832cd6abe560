// Package wgs84 is the ellipsoid that places are counted on.
package wgs84

import "math"

// The ellipsoid of WGS 84 (NGA.STND.0036, as NIMA TR8350.2: a = 6378137 m, 1/f = 298.257223563).
const (
	MajorM     = 6378137.0
	flattening = 1 / 298.257223563
	MinorM     = MajorM * (1 - flattening)
	Eccent2    = flattening * (2 - flattening) // the first eccentricity, squared
)

// Radii returns how strongly the ellipsoid is curved at a latitude: along the meridian, and across it (metres). A parallel
// there has the radius across it times the latitude's cosine.
func Radii(latRad float64) (meridianM, acrossM float64) {
	sin := math.Sin(latRad)
	w := 1 - Eccent2*sin*sin
	acrossM = MajorM / math.Sqrt(w)
	return acrossM * (1 - Eccent2) / w, acrossM
}
