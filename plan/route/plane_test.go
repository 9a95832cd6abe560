package route

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The plane agrees with geodesics (testdata/geodesics.csv says where they are from) as far as its comment says. The
// bearing is off by the meridians' convergence: half of what they turn over the distance.
func TestPlaneAgainstGeodesics(t *testing.T) {
	f, err := os.Open("testdata/geodesics.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n, worst := 0, map[float64]float64{}
	for in := bufio.NewScanner(f); in.Scan(); {
		if strings.HasPrefix(in.Text(), "#") {
			continue
		}
		var lat, lon, az, s, lat2, lon2 float64
		if _, err := fmt.Sscanf(in.Text(), "%g, %g, %g, %g, %g, %g", &lat, &lon, &az, &s, &lat2, &lon2); err != nil {
			t.Fatalf("%s: %v", in.Text(), err)
		}
		n++
		g := NewPlane(lat, lon)
		at := g.Metres(lat2, lon2)
		allowed := 0.001
		if s > 2000 {
			allowed = 0.2
		}
		off := math.Abs(math.Hypot(at.X, at.Y) - s)
		worst[s] = max(worst[s], off)
		if off > allowed {
			t.Errorf("%s: %.3f m on the plane", in.Text(), math.Hypot(at.X, at.Y))
		}
		turn := math.Abs(math.Remainder(lon2-lon, 360)*math.Sin((lat+lat2)/2*rad)) / 2
		if off := math.Abs(math.Remainder(bearing(r3.Vec{}, at)-az, 360)); off > turn+0.002 {
			t.Errorf("%s: bearing %.4f, off by more than %.4f", in.Text(), bearing(r3.Vec{}, at), turn)
		}
		backLat, backLon := g.Degrees(at)
		if !samePlace(Point{LatDeg: backLat, LonDeg: backLon}, Point{LatDeg: lat2, LonDeg: lon2}) || backLon >= 180 || backLon < -180 {
			t.Errorf("%s: and back %.9f, %.9f", in.Text(), backLat, backLon)
		}
	}
	if n != 90 {
		t.Errorf("%d geodesics", n)
	}
	t.Logf("farthest off, by distance: %.4f", worst)
}
