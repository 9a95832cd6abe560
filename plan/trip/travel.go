package trip

import (
	"math"
	"time"

	"example.org/skywedge/plan/shot"
)

// earthKm is the Earth's mean radius (IUGG).
const earthKm = 6371.0088

// roadFactor is how much longer a road is than the way a bird flies (ours).
const roadFactor = 1.3

// sameKm is how near two places are one: nobody gets into the car for that (ours).
const sameKm = 0.1

// GreatCircleKm returns the distance over a spherical Earth between two places in degrees, north and east positive
// (haversine formula, which is exact for near places too).
func GreatCircleKm(latA, lonA, latB, lonB float64) float64 {
	const rad = math.Pi / 180
	half := func(d float64) float64 { x := math.Sin(d * rad / 2); return x * x }
	h := half(latB-latA) + math.Cos(latA*rad)*math.Cos(latB*rad)*half(lonB-lonA)
	return 2 * earthKm * math.Asin(math.Sqrt(min(1, h)))
}

// travel returns the way from one shot to another by road, and how long it takes.
func travel(a, b *shot.Shot) (km float64, d time.Duration) {
	km = roadFactor * GreatCircleKm(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg)
	if km < sameKm || b.Settings.TravelKmh <= 0 {
		return km, 0
	}
	return km, shot.Seconds(3600 * km / b.Settings.TravelKmh)
}
