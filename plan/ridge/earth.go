package ridge

import (
	"math"

	"example.org/skywedge/plan/internal/wgs84"
)

// Refraction is the coefficient of refraction of the air near the ground: a ray of light is bent like a circle of the
// earth's radius over k. 0.13 is what surveyors calculate with; above ground heated by the sun it falls to nothing, and
// over cold water it grows several times.
const Refraction = 0.13

// No land is higher than the one or lower than the other (from memory: 8,849 m and −430 m). A tile that says so does not
// know: some write their voids like that.
const (
	SummitM = 9000
	abyssM  = -1000
)

// site is a place that lines of sight start from.
type site struct {
	lat, lon         float64 // radians
	pos              [3]float64
	east, north, up  [3]float64
	meridian, across float64 // radii of curvature, m
}

func siteAt(latDeg, lonDeg float64) *site {
	o := &site{lat: latDeg * math.Pi / 180, lon: lonDeg * math.Pi / 180}
	sinP, cosP := math.Sincos(o.lat)
	sinL, cosL := math.Sincos(o.lon)
	o.meridian, o.across = wgs84.Radii(o.lat)
	o.pos = [3]float64{o.across * cosP * cosL, o.across * cosP * sinL, o.across * (1 - wgs84.Eccent2) * sinP}
	o.east = [3]float64{-sinL, cosL, 0}
	o.north = [3]float64{-sinP * cosL, -sinP * sinL, cosP}
	o.up = [3]float64{cosP * cosL, cosP * sinL, sinP}
	return o
}

// radius returns the radius of the earth along an azimuth (Euler's formula).
func (o *site) radius(azDeg float64) float64 {
	sin, cos := math.Sincos(azDeg * math.Pi / 180)
	return 1 / (cos*cos/o.meridian + sin*sin/o.across)
}

// along returns the place that lies so many metres off over the ground in a direction, in degrees. What one sees in a
// direction lies in the upright plane through it, so the place is where that plane cuts the ellipsoid.
func (o *site) along(azDeg, metres float64) (latDeg, lonDeg float64) {
	sin, cos := math.Sincos(azDeg * math.Pi / 180)
	r := o.radius(azDeg)
	level := r * math.Sin(metres/r)
	// On the unit sphere of (x/a, y/a, z/b): |p + u·v| = 1, of which u is the root near 0.
	var p, v [3]float64
	for i, axis := range [3]float64{wgs84.MajorM, wgs84.MajorM, wgs84.MinorM} {
		p[i] = (o.pos[i] + level*(sin*o.east[i]+cos*o.north[i])) / axis
		v[i] = o.up[i] / axis
	}
	dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	a, b, c := dot(v, v), dot(p, v), dot(p, p)-1
	u := -c / (b + math.Sqrt(max(0, b*b-a*c)))
	for i, axis := range [3]float64{wgs84.MajorM, wgs84.MajorM, wgs84.MinorM} {
		p[i] = (p[i] + u*v[i]) * axis
	}
	return math.Atan2(p[2], (1-wgs84.Eccent2)*math.Hypot(p[0], p[1])) * 180 / math.Pi, math.Atan2(p[1], p[0]) * 180 / math.Pi
}
