package compass

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
)

// A letter of a stroke lies along the direction it stands for, and its mirror image along the mirrored
// one.
func TestStrokes(t *testing.T) {
	for deg, want := range map[float64]rune{0: '|', 10: '|', 170: '|', 30: '/', 45: '/', 60: '/', 90: '-', 80: '-', 100: '-', 135: '\\', 150: '\\', 180: '|'} {
		if got := stroke(deg); got != want {
			t.Errorf("%g°: %c, want %c", deg, got, want)
		}
	}
	mirror := map[rune]rune{'|': '|', '-': '-', '/': '\\', '\\': '/'}
	for deg := 0.5; deg < 180; deg++ {
		if stroke(180-deg) != mirror[stroke(deg)] {
			t.Errorf("%g° is %c, its mirror %c", deg, stroke(deg), stroke(180-deg))
		}
	}
}

func TestFiguresOfTheMap(t *testing.T) {
	for _, c := range []struct {
		degree, stops float64
		effect        bool
		want          string
	}{{0, 0, false, "0"}, {0.64, -1, false, "6"}, {0.66, 0, false, "7"}, {0.5, -1.3, true, "3"}, {0.5, 0.1, true, "0"}, {0.5, 0.6, true, "+"}} {
		if got := figure(c.degree, c.stops, c.effect); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

// The line of an outline is one pixel thin, without gaps, and stays on the map.
func TestOutlinesAreThinLines(t *testing.T) {
	v, _ := open(t, 120, 36, nil)
	for _, n := range []int{26, 50, 98} {
		for i := range v.got.prints {
			f := &v.got.prints[i]
			path := outlinePixels(f, n)
			for k, at := range path {
				if at[0] < 0 || at[1] < 0 || at[0] >= n || at[1] >= n {
					t.Fatalf("%v is not on a map of %d", at, n)
				}
				if k == 0 {
					continue
				}
				if d := max(absInt(at[0]-path[k-1][0]), absInt(at[1]-path[k-1][1])); d != 1 {
					t.Fatalf("leg %d: a step of %d pixels", f.Leg+1, d)
				}
				if k > 1 && absInt(at[0]-path[k-2][0]) == 1 && absInt(at[1]-path[k-2][1]) == 1 {
					t.Fatalf("leg %d: a corner where the line goes aslant", f.Leg+1)
				}
			}
			if len(path) < n/4 {
				t.Errorf("leg %d: only %d pixels on a map of %d", f.Leg+1, len(path), n)
			}
		}
	}
}

// find returns the cell of a letter on a row-by-row screen, −1 without.
func find(lines []string, letter string, cols int) (x, y int) {
	for y, l := range lines {
		r := []rune(l)
		for x := range min(cols, len(r)) {
			if string(r[x]) == letter {
				return x, y
			}
		}
	}
	return -1, -1
}

// On the screen as in the sky: north is up, east to the right, and the sun stands where its bearing and
// height are.
func TestTheMapOnTheScreen(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	body := strings.Split(b.Text(), "\n")[1:]
	n := v.got.of.n
	nx, ny := find(body, "N", 60)
	sx, sy := find(body, "S", 60)
	ex, ey := find(body, "E", 60)
	wx, wy := find(body, "W", 60)
	if nx != sx || sy-ny != n/2+1 || ey != wy || ex-wx != n+3 || absInt(2*ey-ny-sy) > 1 {
		t.Errorf("N %d,%d S %d,%d E %d,%d W %d,%d on a map of %d", nx, ny, sx, sy, ex, ey, wx, wy, n)
	}
	x, y := find(body, "*", 60)
	p := v.got.sky.Sun
	r := math.Tan((90-p.AltitudeDeg)/2*math.Pi/180) * float64(n) / 2 // Snyder 1987 eq. (21-33), from memory
	sin, cos := math.Sincos(p.AzimuthDeg * math.Pi / 180)
	if dx, dy := float64(x-nx)-r*sin, float64(y-ny)-0.5-float64(n)/4+r*cos/2; math.Abs(dx) > 1 || math.Abs(dy) > 1 {
		t.Errorf("the sun of %g°, %g° is off by %.1f columns and %.1f rows", p.AzimuthDeg, p.AltitudeDeg, dx, dy)
	}
	// The sector at the rim, drawn as a ground, lies outside the horizon at the sun's bearing.
	var marks int
	for y := range b.Canvas.H {
		for x := range 60 {
			if c := b.Canvas.At(x, y); c.Rune == '█' && c.Bg == cells.Bad {
				marks++
				if off := math.Abs(float64(x-nx) - (float64(n)/2+1)*sin); off > 1.5 {
					t.Errorf("the sector is %.1f columns off the sun's bearing", off)
				}
			}
		}
	}
	if marks < 1 || marks > 3 {
		t.Errorf("%d marks for a sweep of %.1f°", marks, v.got.track.SweptDeg)
	}
}

// The darkest pixels of the map of the degree lie around the sun, the brightest a right angle away.
func TestTheMapIsPaintedByTheModel(t *testing.T) {
	v, _ := open(t, 120, 36, nil)
	a := &v.got
	var sky compass.SkyMap = *a.sky
	var pic cells.Picture
	paintSky(&pic, &sky, false, cells.TrueColour, false)
	at := func(az, alt float64) cells.Colour {
		x, y := compass.Bearing{AzimuthDeg: az, AltitudeDeg: alt}.OnMap()
		i, j := mapPixel(x, y, a.of.n)
		return pic.Pix[j*a.of.n+i]
	}
	s := sky.Sun
	if at(s.AzimuthDeg, s.AltitudeDeg).Luma() >= at(s.AzimuthDeg+90, 40).Luma() {
		t.Error("the sky at the sun is brighter on the map than that at a right angle")
	}
	for k, c := range pic.Pix {
		x, y := sky.Place(k)
		if (c == cells.Default) != (x*x+y*y > 1) {
			t.Fatalf("pixel %d at %g, %g", k, x, y)
		}
	}
}
