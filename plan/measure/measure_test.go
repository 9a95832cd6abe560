package measure

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo/phototest"
	"gonum.org/v1/gonum/spatial/r3"
)

// exposures are marked times and the real ones behind them, in third stops.
var exposures = map[int][2]uint32{-9: {1, 8}, -12: {1, 15}, -15: {1, 30}, -18: {1, 60}, -19: {1, 80}, -20: {1, 100}, -21: {1, 125}, -6: {1, 4}, -5: {3, 10}, -7: {1, 5}, -3: {1, 2}, -8: {1, 6}, -4: {4, 10}}

// camera draws one wall with one curve.
type camera struct {
	wall phototest.Wall
	shot phototest.Shot
}

func newCamera(curve func(float64) float64) *camera {
	c := &camera{
		wall: phototest.Wall{Wide: 240, Tall: 160, Vignette: 0.7, Noise: 3, Curve: curve},
		shot: phototest.Shot{Clock: "2026:09:18 12:00:00", ISO: 100, Aperture: 2.8, ColorSpace: 1, WhiteBalance: ptr[uint16](1)},
	}
	for i, k := range []float64{1, 1.02, 0.97} { // a wall that is not quite grey
		c.wall.Light[i] = 0.2 * 64 * 8 * k // a middle grey at 1/60 and f/2.8
	}
	return c
}

func ptr[T any](v T) *T { return &v }

// take takes a picture.
func (c *camera) take(t *testing.T, name string, thirds int, filter func(u, v float64) [3]float64) *Picture {
	t.Helper()
	w, s := c.wall, c.shot
	w.Filter, w.Thirds = filter, thirds
	for _, b := range []byte(name) {
		w.Seed = w.Seed*31 + uint64(b)
	}
	if s.Shutter = exposures[thirds]; s.Shutter[1] == 0 {
		t.Fatalf("no mark for %d thirds", thirds)
	}
	p, err := Read(name, bytes.NewReader(w.JPEG(s)))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

// glass is a filter of known loss and colour, each channel's loss in stops.
func glass(r, g, b float64) func(u, v float64) [3]float64 {
	return func(u, v float64) [3]float64 { return [3]float64{math.Exp2(-r), math.Exp2(-g), math.Exp2(-b)} }
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.3f, want %.3f ±%g", what, got, want, within)
	}
}

var curves = map[string]func(float64) float64{"srgb": phototest.SRGB, "s-curve": phototest.SCurve}

// Known filters in front of cameras with known and unknown curves, up to half a stop apart, with noise and dark corners:
// the loss within a tenth of a stop, the cast within 10 mired, the corners within .15 stop, and all within the error told.
func TestKnownFilters(t *testing.T) {
	t.Parallel()
	for name, curve := range curves {
		c := newCamera(curve)
		bare, darker := c.take(t, "bare", -18, nil), c.take(t, "darker", -21, nil)
		for _, tt := range []struct {
			thirds  int
			r, g, b float64
		}{
			{-9, 3, 3, 3}, {-9, 2.9, 3, 3.15}, {-9, 3.1, 3, 2.9}, {-8, 3, 3, 3}, {-9, 2.6, 2.6, 2.6}, {-9, 3.45, 3.5, 3.5}, {-6, 3.7, 4, 4.3},
			{-5, 4.5, 4.5, 4.55}, {-18, 0.1, 0.1, 0.1}, {-9, 3.05, 2.95, 3.05},
		} {
			set := Set{Bare: bare, Darker: darker, Through: c.take(t, "through", tt.thirds, glass(tt.r, tt.g, tt.b))}
			r, faults := Measure(kit.Filter{Name: "x", Kind: kit.Density, Stops: tt.g}, []Set{set}, Options{})
			if faults != nil {
				t.Errorf("%s %v: %v", name, tt, faults)
				continue
			}
			passed := glass(tt.r, tt.g, tt.b)(0, 0)
			what := fmt.Sprintf("%s %v: ", name, tt)
			want := -math.Log2(luma(passed))
			mired, tint := cast(passed, 5500)
			g := r.Groups[0]
			near(t, what+"loss", g.Stops, want, 0.1)
			near(t, what+"loss, against its own error", g.Stops, want, g.StopsError)
			near(t, what+"cast", g.CastMired, mired, 10)
			near(t, what+"tint", g.Tint, tint, 6)
			for i, v := range g.Corners {
				near(t, fmt.Sprintf("%scorner %d", what, i), v, 0, 0.15)
			}
			if !r.ColourKnown || len(r.Warnings) > 0 || r.Sets[0].Steepness == 1 {
				t.Errorf("%s%+v", what, r)
			}
		}
	}
}

// Curves much steeper and much softer than that of sRGB, a bright wall, up to half a stop apart: what is measured lies within
// the error that is told.
func TestErrorsHold(t *testing.T) {
	t.Parallel()
	soft := func(light float64) float64 { return (1 - math.Exp(-3*math.Pow(light, 1/1.9))) / (1 - math.Exp(-3)) }
	for name, curve := range map[string]func(float64) float64{"steep": phototest.Steep, "soft": soft} {
		c := newCamera(curve)
		for i := range c.wall.Light {
			c.wall.Light[i] *= 1.5
		}
		bare, darker := c.take(t, "bare", -18, nil), c.take(t, "darker", -21, nil)
		for _, loss := range [][3]float64{{2.5, 2.5, 2.5}, {2.45, 2.5, 2.6}, {2.35, 2.5, 2.8}, {2.55, 2.5, 2.4}, {2.85, 3, 3.3}, {3.35, 3.5, 3.8}} {
			set := Set{Bare: bare, Darker: darker, Through: c.take(t, "through", -9, glass(loss[0], loss[1], loss[2]))}
			r, faults := Measure(kit.Filter{Name: "x", Kind: kit.Density, Stops: 3}, []Set{set}, Options{})
			if faults != nil {
				t.Fatal(name, faults)
			}
			passed := glass(loss[0], loss[1], loss[2])(0, 0)
			mired, _ := cast(passed, 5500)
			near(t, fmt.Sprintf("%s %v: loss", name, loss), r.Groups[0].Stops, -math.Log2(luma(passed)), r.Groups[0].StopsError)
			near(t, fmt.Sprintf("%s %v: cast", name, loss), r.Groups[0].CastMired, mired, r.Groups[0].CastError)
		}
	}
}

// The corners of a filter are found under those of the lens, and lie where the model has them.
func TestCorners(t *testing.T) {
	t.Parallel()
	f := kit.Filter{Name: "variable", Kind: kit.Variable, FromStops: 2, ToStops: 5, OpensCW: true}
	field := [2]float64{0.75, 0.5}
	mount := f.Mount(30, 5)
	lens := func(u, v float64) [3]float64 {
		p, _, _ := mount.Parts(r3.Unit(r3.Vec{X: u * field[0], Y: -v * field[1], Z: 1}))
		return [3]float64{p, p, p}
	}
	for name, curve := range curves {
		c := newCamera(curve)
		set := Set{Bare: c.take(t, "bare", -18, nil), Darker: c.take(t, "darker", -21, nil), Through: c.take(t, "through", -3, lens), SettingStops: 5}
		r, faults := Measure(f, []Set{set}, Options{Field: field, RingDeg: 30})
		if faults != nil {
			t.Fatal(name, faults)
		}
		g := r.Groups[0]
		near(t, name+" loss", g.Stops, 5, 0.1)
		for i := range g.Corners {
			near(t, fmt.Sprintf("%s corner %d", name, i), g.Corners[i], g.ModelCorners[i], 0.15)
		}
		if lo, hi := min(g.Corners[0], g.Corners[1]), max(g.Corners[0], g.Corners[1]); hi-lo < 0.2 {
			t.Errorf("%s: no diagonal: %v", name, g.Corners)
		}
	}
}

// Without the darker picture what differs counts half as error; with one it does not.
func TestWithoutTheDarkerPicture(t *testing.T) {
	c := newCamera(phototest.SCurve)
	set := Set{Bare: c.take(t, "bare", -18, nil), Through: c.take(t, "through", -9, glass(3.5, 3.5, 3.5))}
	r, faults := Measure(kit.Filter{Name: "x", Kind: kit.Density, Stops: 3}, []Set{set}, Options{})
	if faults != nil {
		t.Fatal(faults)
	}
	if g := r.Groups[0]; g.StopsError < 0.25 || math.Abs(g.Stops-3.5) > g.StopsError {
		t.Errorf("%+v", g)
	}
	if len(r.Warnings) != 1 || !strings.Contains(r.Warnings[0].String(), "through: ") || !strings.Contains(r.Warnings[0].Text, "stop darker than bare, and the camera's curve is not known") {
		t.Errorf("%v", r.Warnings)
	}
}

// A polariser in front of a wall whose light is polarised by a tenth: two positions of the ring tell the truth, one does not.
func TestTwoPositionsOfARing(t *testing.T) {
	c := newCamera(phototest.SRGB)
	sheet := func(share float64) func(u, v float64) [3]float64 {
		return func(u, v float64) [3]float64 { p := math.Exp2(-1.4) * share; return [3]float64{p, p, p} }
	}
	bare, darker := c.take(t, "bare", -18, nil), c.take(t, "darker", -21, nil)
	sets := []Set{{Bare: bare, Darker: darker, Through: c.take(t, "level", -15, sheet(1.1))}, {Bare: bare, Darker: darker, Through: c.take(t, "upright", -15, sheet(0.9))}}
	f := kit.Filter{Kind: kit.Polariser, LossStops: 1.5}
	r, faults := Measure(f, sets, Options{})
	if faults != nil || len(r.Warnings) > 0 {
		t.Fatal(faults, r.Warnings)
	}
	near(t, "loss", r.Groups[0].Stops, 1.4, 0.03)
	near(t, "its error", r.Groups[0].StopsError, floorStops, 0.03)
	if _, faults = Measure(f, []Set{sets[0], sets[0]}, Options{}); len(faults) != 1 || !strings.Contains(faults.Error(), "level: the same picture through the filter twice") {
		t.Errorf("one position given twice: %v", faults)
	}
	if r, faults = Measure(f, sets[:1], Options{}); faults != nil || len(r.Warnings) != 1 || r.Groups[0].StopsError < wallStops {
		t.Errorf("%v %+v", faults, r)
	}
}

// Several sets: their mean, and an error that grows with how far they lie apart.
func TestSeveralSets(t *testing.T) {
	c := newCamera(phototest.SRGB)
	bare, darker := c.take(t, "bare", -18, nil), c.take(t, "darker", -21, nil)
	var sets []Set
	for i, loss := range []float64{2.8, 3, 3.2} {
		sets = append(sets, Set{Bare: bare, Darker: darker, Through: c.take(t, fmt.Sprint("through", i), -9, glass(loss, loss, loss))})
	}
	r, faults := Measure(kit.Filter{Name: "x", Kind: kit.Density, Stops: 3}, sets, Options{})
	if faults != nil {
		t.Fatal(faults)
	}
	near(t, "mean", r.Groups[0].Stops, 3, 0.03)
	near(t, "error", r.Groups[0].StopsError, math.Hypot(0.2/math.Sqrt(3), floorStops), 0.01)
}

// glare draws light of which a part comes and goes with the ring.
func glare(ring, brightest, depth float64) func(u, v float64) [3]float64 {
	p := 0.4 * (1 + depth*math.Cos(2*(ring-brightest)*math.Pi/180))
	return func(u, v float64) [3]float64 { return [3]float64{p, p, p} }
}

// The mark is found within two degrees when its positions are exact, whatever they are, the curve and the exposure.
func TestMark(t *testing.T) {
	t.Parallel()
	for name, curve := range curves {
		for _, positions := range [][]float64{{270, 315, 0, 45}, {0, 30, 60, 90, 120, 150}, {0, 60, 120, 150, 180}} {
			for _, brightest := range []float64{0, 12, 77, 133, 179} {
				c := newCamera(curve)
				c.wall.Wide, c.wall.Tall = 144, 96
				var turns []Turn
				for i, ring := range positions {
					if i == 4 && ring == 180 { // a second picture of the first position
						ring = 210
					}
					p := glare(ring, brightest, 0.7)(0, 0)[0]
					thirds := -15 // about as bright every time, as a camera would
					for _, at := range []int{-18, -15, -9} {
						if math.Abs(math.Log2(p)+float64(at+18)/3) < math.Abs(math.Log2(p)+float64(thirds+18)/3) {
							thirds = at
						}
					}
					turns = append(turns, Turn{ring, c.take(t, fmt.Sprint(ring), thirds, glare(ring, brightest, 0.7))})
				}
				m, _, faults := MeasureMark(turns)
				if faults != nil {
					t.Fatalf("%s %v %g: %v", name, positions, brightest, faults)
				}
				want := math.Mod(90-brightest+180, 180)
				off := math.Remainder(m.Deg-want, 180)
				if math.Abs(off) > 2 || m.Deg < 0 || m.Deg >= 180 || m.ErrorDeg < handDeg/math.Sqrt(6) {
					t.Errorf("%s %v: brightest at %g: %+v, want %g", name, positions, brightest, m, want)
				}
			}
		}
	}
}
