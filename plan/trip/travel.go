package trip

import (
	"time"

	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
)

// roadFactor is how much longer a road is than the way a bird flies (ours).
const roadFactor = 1.3

// sameKm is how near two places are one: nobody gets into the car for that (ours).
const sameKm = 0.1

// travel returns the way from one shot to another by road, and how long it takes.
func travel(a, b *shot.Shot) (km float64, d time.Duration) {
	km = roadFactor * placeOf(a).KmTo(placeOf(b))
	if km < sameKm || b.Settings.TravelKmh <= 0 {
		return km, 0
	}
	return km, shot.Seconds(3600 * km / b.Settings.TravelKmh)
}

func placeOf(s *shot.Shot) place.Point { return place.Point{LatDeg: s.LatDeg, LonDeg: s.LonDeg} }
