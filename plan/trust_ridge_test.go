package plan_test

import (
	"context"
	"math"
	"testing"

	"example.org/skywedge/plan/ridge"
	"example.org/skywedge/plan/ridge/ridgetest"
)

// ridgeClaims: the skyline that is worked out from elevation tiles.
func ridgeClaims(t testing.TB) []claim {
	const lat, lon, n = 43.4, -8.9, ridgetest.Coarse - 1
	var full, thinned tally
	for _, c := range []struct{ km, up float64 }{{0.4, 60}, {3, 200}, {25, 900}, {70, 2500}, {180, 8000}} {
		wall := math.Round((lon+c.km/(111.32*math.Cos(lat*rad)))*n) / n
		land := ridgetest.Of(ridgetest.Coarse, func(_, lo float64) float64 {
			if math.Abs(lo-wall) < 0.5/n {
				return c.up
			}
			return 0
		}, "N43W009 N43W008 N43W007")
		f, err := ridge.Open(land)
		if err != nil {
			t.Fatal(err)
		}
		line, err := f.Look(context.Background(), ridge.From{LatDeg: lat, LonDeg: lon, EyeM: 1.7})
		if err != nil {
			t.Fatal(err)
		}
		for i := range 40 {
			la := math.Round((43+(float64(i)+0.5)/40)*n) / n
			alt, az, s := ridgetest.Seen(lat, lon, 1.7, la, wall, c.up)
			if az < 30 || az > 150 || s > 250e3 {
				continue
			}
			x := az / ridge.StepDeg
			k := int(x)
			full.add(line.Deg[k] + (x-float64(k))*(line.Deg[k+1]-line.Deg[k]) - alt)
		}
		_, within := line.Thin()
		thinned.add(within)
		f.Close()
	}
	const truth = "the triangle in space on the ellipsoid of WGS 84, light bent by k 0.13; posts every 3″"
	return []claim{
		heading("The ridge"),
		full.worst("altitude of a wall one post thick, 0.4 to 180 km off", truth, 0.2, "°", 3),
		thinned.worst("what thinning to a card's points adds", "the full line", 0.1, "°", 2),
	}
}
