package ridge

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/ridge/ridgetest"
)

// lookAt is the skyline of a place on a land.
func lookAt(t testing.TB, l *ridgetest.Land, from From) *Line {
	t.Helper()
	f, err := Open(l)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	line, err := f.Look(context.Background(), from)
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// at returns the altitude of a line in a direction.
func (l *Line) at(azDeg float64) float64 {
	x := math.Mod(azDeg+360, 360) / StepDeg
	i := int(x)
	return l.Deg[i%count] + (x-float64(i))*(l.Deg[(i+1)%count]-l.Deg[i%count])
}

// The slope of a line of sight is that of the triangle at the earth's centre, of a radius over 1−k, as far as land is seen.
func TestTheFormulaIsTheTriangle(t *testing.T) {
	const r = 6371e3 / (1 - Refraction)
	worst, steep := 0.0, 0.0
	for s := 100.0; s < 400e3; s *= 1.1 {
		for _, h := range []float64{0, 100, 1000, 3000, 8800} {
			for _, eye := range []float64{1.7, 500, 4000} {
				theta := s / r
				want := math.Atan2((r+h)*math.Cos(theta)-(r+eye), (r+h)*math.Sin(theta)) * 180 / math.Pi
				got := math.Atan((h-eye-s*s/(2*r))/s) * 180 / math.Pi
				switch off := math.Abs(got - want); {
				case want < -1 || want > 45:
				case want < 10:
					worst = max(worst, off)
				default:
					steep = max(steep, off)
				}
			}
		}
	}
	if t.Logf("%.4f°, above 10° %.4f°", worst, steep); worst > 0.015 || steep > 0.04 {
		t.Errorf("off by %.4f°, above 10° by %.4f°", worst, steep)
	}
}

// A line of sight runs where it is looked for: its points are seen in its direction and at their distance.
func TestAlongRunsInItsDirection(t *testing.T) {
	for _, lat := range []float64{-87, -43.2, 0, 0.001, 21, 43.3672, 67, 88} {
		for az := 3.0; az < 360; az += 31 {
			for _, s := range []float64{50, 3000, 40e3, 370e3} {
				la, lo := siteAt(lat, 179.99).along(az, s)
				_, gotAz, gotS := ridgetest.Seen(lat, 179.99, 0, la, lo, 0)
				if off := math.Remainder(gotAz-az, 360); math.Abs(off) > 1e-4 || math.Abs(gotS/s-1) > 0.006 {
					t.Errorf("from %v° towards %v°, %v m: seen at %v°, %v m", lat, az, s, gotAz, gotS)
				}
			}
		}
	}
}

// A wall of one row of posts, near and far, on both kinds of tiles: each of its posts is seen where the triangle in space
// has it. It is never lower, and further out no higher than the cells taken together allow.
func TestWall(t *testing.T) {
	for _, c := range []struct {
		posts int
		km    float64
		up    float64 // m
	}{
		{coarsePosts, 0.4, 60}, {coarsePosts, 3, 200}, {coarsePosts, 25, 900}, {coarsePosts, 70, 2500}, {coarsePosts, 180, 8000},
		{finePosts, 0.1, 20}, {finePosts, 5, 300}, {finePosts, 60, 3000},
	} {
		t.Run(fmt.Sprintf("%d posts, %g km", c.posts, c.km), func(t *testing.T) {
			t.Parallel()
			const lat, lon = 43.4, -8.9
			n := float64(c.posts - 1)
			wall := math.Round((lon+c.km/(111.32*math.Cos(lat*math.Pi/180)))*n) / n
			l := ridgetest.Of(c.posts, func(_, lo float64) float64 {
				if math.Abs(lo-wall) < 0.5/n {
					return c.up
				}
				return 0
			}, "N43W009 N43W008 N43W007")
			line := lookAt(t, l, From{LatDeg: lat, LonDeg: lon, EyeM: 1.7})
			low, high := 0.0, 0.0
			for i := 1; i < 200; i++ {
				la := math.Round((43+float64(i)/200)*n) / n
				alt, az, s := ridgetest.Seen(lat, lon, 1.7, la, wall, c.up)
				if az < 30 || az > 150 || s > 250e3 {
					continue
				}
				low, high = min(low, line.at(az)-alt), max(high, line.at(az)-alt)
			}
			if t.Logf("%+.4f to %+.4f°", low, high); low < -0.02 || high > 0.05 {
				t.Errorf("off by %.3f to %.3f°", low, high)
			}
		})
	}
}

// cone is a hill on a plain: its height falls by slope from a summit.
func cone(lat0, lon0, up, slope float64) func(lat, lon float64) float64 {
	reach := 1.01 * up / slope / 110e3
	return func(lat, lon float64) float64 {
		if math.Abs(lat-lat0) > reach || math.Abs(math.Remainder(lon-lon0, 360))*math.Cos(lat*math.Pi/180) > reach {
			return 0
		}
		_, _, d := ridgetest.Seen(lat0, lon0, 0, lat, lon, 0)
		return max(0, up-slope*d)
	}
}

// A cone is seen as its outline: on either side of its summit the altitude is that of the steepest of its flank, which a
// search along the line of sight in closed form finds.
func TestCone(t *testing.T) {
	const lat, lon = 43.5, -8.5
	for _, c := range []struct{ az, km, up, slope float64 }{{70, 6, 700, 0.5}, {200, 12, 900, 0.3}, {310, 30, 2000, 0.35}} {
		la, lo := siteAt(lat, lon).along(c.az, 1000*c.km)
		la, lo = math.Round(1200*la)/1200, math.Round(1200*lo)/1200 // the summit is a post
		_, az, metres := ridgetest.Seen(lat, lon, 0, la, lo, 0)
		c.az, c.km = az, metres/1000
		line := lookAt(t, ridgetest.Of(coarsePosts, cone(la, lo, c.up, c.slope), "N43W009"), From{LatDeg: lat, LonDeg: lon, EyeM: 1.7})
		worst := 0.0
		wide := math.Atan(c.up/c.slope/(1000*c.km)) * 180 / math.Pi
		for off := -0.9 * wide; off <= 0.9*wide; off += wide / 20 {
			want := math.Inf(-1)
			for s := 100.0; s < 2000*c.km; s += 5 {
				d := math.Sqrt(s*s + 1e6*c.km*c.km - 2000*c.km*s*math.Cos(off*math.Pi/180))
				if h := c.up - c.slope*d; h > 0 {
					want = max(want, math.Atan((h-1.7-s*s*(1-0.13)/(2*6371e3))/s)*180/math.Pi)
				}
			}
			worst = max(worst, math.Abs(line.at(c.az+off)-want))
		}
		if t.Logf("towards %v°, %v km: %.3f°", c.az, c.km, worst); worst > 0.1 {
			t.Errorf("towards %v°, %v km: off by %.3f°", c.az, c.km, worst)
		}
	}
}

// Over the seams between tiles, the equator, Greenwich and the date line, a hill is seen as it is inside of one tile.
func TestSeams(t *testing.T) {
	for _, c := range []struct {
		lat, lon float64
		names    string
	}{
		{43.5, -8.5, "N43W009"},
		{43.003, -8.003, "N43W009 N42W009 N43W008 N42W008"},
		{0.003, 0.003, "N00E000 S01E000 N00W001 S01W001"},
		{-42.997, 179.997, "S43E179 S44E179 S43W180 S44W180"},
		{-42.997, -179.997, "S43E179 S44E179 S43W180 S44W180"},
	} {
		for az := 10.0; az < 360; az += 130 {
			la, lo := siteAt(c.lat, c.lon).along(az, 8000)
			line := lookAt(t, ridgetest.Of(coarsePosts, cone(la, lo, 600, 0.4), c.names), From{LatDeg: c.lat, LonDeg: c.lon, EyeM: 1.7})
			want, _, _ := ridgetest.Seen(c.lat, c.lon, 1.7, la, lo, 600)
			// A summit between the posts is cut off by half a post's width of flank.
			if got := line.at(az); got > want+0.01 || got < want-0.2 {
				t.Errorf("from %v, %v towards %v°: %.3f°, want %.3f°", c.lat, c.lon, az, got, want)
			}
			if got := line.at(az + 180); math.Abs(got) > 0.1 {
				t.Errorf("from %v, %v, away from the hill: %.3f°", c.lat, c.lon, got)
			}
		}
	}
}

// A coarse tile beside a fine one: the ridge that runs over the seam is seen on both sides, and it is said.
func TestMixedTiles(t *testing.T) {
	l := ridgetest.Of(coarsePosts, func(lat, _ float64) float64 { return max(0, 300-math.Abs(lat-43.6)*111e3*0.2) }, "N43W009")
	l.Tiles["N43W008.HGT"] = finePosts
	line := lookAt(t, l, From{LatDeg: 43.5, LonDeg: -8.01, EyeM: 1.7})
	if a, b := line.at(20), line.at(340); math.Abs(a-b) > 0.03 || a < 1 {
		t.Errorf("on the fine side %.3f°, on the coarse one %.3f°", a, b)
	}
	if !line.Mixed {
		t.Error("it is not said")
	}
}

// Land turned by a quarter about the take-off turns its skyline.
func TestTurnedLandTurnsTheSkyline(t *testing.T) {
	const lat, lon = 0.5, 0.5 // where a degree is as long both ways, to half a percent
	hills := func(e, n float64) float64 {
		return 400 + 300*math.Sin(e/2300)*math.Cos(n/1700) + 200*math.Sin((e+2*n)/5000)
	}
	look := func(turned bool) *Line {
		return lookAt(t, ridgetest.Of(coarsePosts, func(la, lo float64) float64 {
			e, n := (lo-lon)*111320, (la-lat)*110574
			if turned { // what lay north lies east
				e, n = -n, e
			}
			return hills(e, n)
		}, "N00E000"), From{LatDeg: lat, LonDeg: lon, EyeM: 40})
	}
	a, b := look(false), look(true)
	worst := 0.0
	for az := 0.0; az < 360; az += 0.5 {
		worst = max(worst, math.Abs(a.at(az)-b.at(az+90)))
	}
	if t.Logf("%.3f°", worst); worst > 0.2 {
		t.Errorf("off by %.3f°", worst)
	}
}

// From higher up nothing stands higher, and the level sea lies lower by the dip: √(2h(1−k)/R).
func TestHigherEyes(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	a, b := rng.Float64(), rng.Float64()
	rough := ridgetest.Of(coarsePosts, func(la, lo float64) float64 {
		return 500 + 400*math.Sin(la*300+9*a)*math.Cos(lo*250+9*b)
	}, "N43W009")
	sea := ridgetest.Of(coarsePosts, func(_, _ float64) float64 { return 0 }, "N43W009")
	var before *Line
	for _, eye := range []float64{1.7, 30, 120, 900} {
		line := lookAt(t, rough, From{LatDeg: 43.4, LonDeg: -8.4, EyeM: eye})
		for i := range line.Deg {
			if before != nil && line.Deg[i] > before.Deg[i]+1e-9 {
				t.Fatalf("from %v m, towards %v°: %v° after %v°", eye, float64(i)/perDegree, line.Deg[i], before.Deg[i])
			}
		}
		before = line
		dip := -math.Sqrt(2*eye*(1-0.13)/6371e3) * 180 / math.Pi
		for i, deg := range lookAt(t, sea, From{LatDeg: 43.4, LonDeg: -8.4, EyeM: eye}).Deg {
			if math.Abs(deg-dip) > 0.005 {
				t.Fatalf("from %v m over the sea, towards %v°: %v°, want %v°", eye, float64(i)/perDegree, deg, dip)
			}
		}
	}
}

// The answer is the same with one worker as with four.
func TestWorkersAgree(t *testing.T) {
	l := ridgetest.Of(coarsePosts, func(la, lo float64) float64 { return 300 + 290*math.Sin(la*90)*math.Sin(lo*80) }, "N43W009 N42W009")
	one := lookAt(t, l, From{LatDeg: 43.1, LonDeg: -8.4, EyeM: 2, Workers: 1})
	four := lookAt(t, l, From{LatDeg: 43.1, LonDeg: -8.4, EyeM: 2, Workers: 4})
	for i := range one.Deg {
		if one.Deg[i] != four.Deg[i] || one.Km[i] != four.Km[i] {
			t.Fatalf("towards %v°: %v and %v", float64(i)/perDegree, one.Deg[i], four.Deg[i])
		}
	}
}

// Posts taken together keep the highest of each cell and whether one of them is a void, those on its edges counted; against the
// plain way, post by post.
func TestCellsAgainstTheirPosts(t *testing.T) {
	const posts = 41
	rng := rand.New(rand.NewPCG(7, 8))
	for _, size := range []int{2, 4, 16} {
		for _, tall := range []int{17, 33, 9} {
			raw := make([]byte, 2*posts*tall)
			at := func(x, y int) int16 { return postAt(raw, y*posts+x) }
			for i := range len(raw) / 2 {
				h := int16(rng.IntN(9000) - 400)
				if rng.IntN(60) == 0 {
					h = []int16{void, 32767, -20000}[rng.IntN(3)]
				}
				raw[2*i], raw[2*i+1] = byte(uint16(h)>>8), byte(uint16(h))
			}
			side := (posts - 1 + size - 1) / size
			var b band
			b.reduce(raw, posts, side, size)
			for k, got := range b.height {
				want, hole := int16(void), false
				for y := k / side * size; y <= min(k/side*size+size, tall-1); y++ {
					for x := k % side * size; x <= min(k%side*size+size, posts-1); x++ {
						want, hole = max(want, at(x, y)), hole || at(x, y) == void
					}
				}
				if got != want || b.voids != nil && b.voids[k] != hole || b.voids == nil && hole {
					t.Fatalf("cells of %d, %d rows, the %d.: %d, want %d; a void: %v", size, tall, k, got, want, hole)
				}
			}
		}
	}
}
