package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.org/skywedge/plan/ridge/ridgetest"
)

// ridgeClaims: the skyline that a card gets from elevation tiles, between its points too, against walls of which the height
// is worked out in space.
func ridgeClaims(t testing.TB) []claim {
	const lat, lon, posts = 43.4, -8.9, ridgetest.Coarse - 1
	var off tally
	for _, c := range []struct{ km, up float64 }{{0.4, 60}, {3, 200}, {25, 900}, {70, 2500}, {180, 8000}} {
		wall := math.Round((lon+c.km/(111.32*math.Cos(lat*rad)))*posts) / posts
		dir := t.TempDir()
		for west := 9; west >= 7; west-- {
			path := filepath.Join(dir, fmt.Sprintf("N43W%03d.hgt", west))
			if err := os.WriteFile(path, wallTile(path, []float64{0, wall, c.up}), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		answer := asksOf[skylineJSON](t, fmt.Sprintf(`skywedge: 1
name: a wall
place: {lat: %g, lon: %g, zone: Europe/Madrid}
take_off: 2026-06-21T12:00
camera: wide fixed 2.8
legs: [{move: hold, heading_deg: 90, seconds: 2}]
`, lat, lon), "skyline", "-", "--tiles", dir)
		for i := range 40 {
			la := math.Round((43+(float64(i)+0.5)/40)*posts) / posts
			alt, az, metres := ridgetest.Seen(lat, lon, 1.7, la, wall, c.up)
			if az < 30 || az > 150 || metres > 250e3 {
				continue
			}
			for k, p := range answer.Points[1:] {
				if q := answer.Points[k]; q.Bearing <= az && az < p.Bearing {
					off.add(q.Altitude + (az-q.Bearing)/(p.Bearing-q.Bearing)*(p.Altitude-q.Altitude) - alt)
				}
			}
		}
	}
	return []claim{off.largest("skyline: a wall one post thick, 0.4 to 180 km off", "skyline",
		"the triangle in space on the ellipsoid of WGS 84, light bent by k 0.13; posts every 3″", .2, "°", 2)}
}
