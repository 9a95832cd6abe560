package measure

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/kit/photo/phototest"
)

// What is wrong with a set is said in words that tell what to do, of the picture that it is about.
func TestCheck(t *testing.T) {
	c := newCamera(phototest.SRGB)
	c.wall.Wide, c.wall.Tall = 144, 96
	bare, darker, through := c.take(t, "bare", -18, nil), c.take(t, "darker", -21, nil), c.take(t, "through", -9, glass(3, 3, 3))
	// with takes a picture by a camera that differs.
	with := func(name string, thirds int, filter func(u, v float64) [3]float64, change func(c *camera)) *Picture {
		other := *c
		change(&other)
		return other.take(t, name, thirds, filter)
	}
	same := func(*camera) {}
	for name, tt := range map[string]struct {
		set            Set
		fault, warning string // parts of what is said; "" nothing
	}{
		"all is well":    {Set{Bare: bare, Darker: darker, Through: through}, "", ""},
		"nothing yet":    {Set{}, "", ""},
		"bare alone":     {Set{Bare: bare}, "", ""},
		"twice":          {Set{Bare: bare, Through: bare}, "bare: the same picture twice", ""},
		"no exposure":    {Set{Bare: with("b", -18, nil, func(c *camera) { c.shot.ISO = 0 })}, "b: no exposure time or no ISO", ""},
		"none through":   {Set{Bare: bare, Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.ISO = 0; c.shot.Aperture = 0; c.wall.Light = [3]float64{13, 13, 13} })}, "t: no exposure time or no ISO is written in it; give the JPEG as the camera wrote it\n", ""},
		"none darker":    {Set{Bare: bare, Darker: with("d", -21, nil, func(c *camera) { c.shot.ISO = 0 })}, "d: no exposure time or no ISO is written in it; give the JPEG as the camera wrote it\n", ""},
		"another size":   {Set{Bare: bare, Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.wall.Wide = 168 })}, "t: 168 x 96 pixels, and bare has 144 x 96", ""},
		"no aperture":    {Set{Bare: bare, Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.Aperture = 0; c.wall.Light = [3]float64{13, 13, 13} })}, "t: of this and bare only one tells its aperture", ""},
		"stopped down":   {Set{Bare: bare, Through: with("t", -6, glass(3, 3, 3), func(c *camera) { c.shot.Aperture = 4 })}, "", "t: at another aperture than bare"},
		"zoomed":         {Set{Bare: with("b", -18, nil, func(c *camera) { c.shot.Focal35MM = 24 }), Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.Focal35MM = 28 })}, "t: at another focal length", ""},
		"other colours":  {Set{Bare: with("b", -18, nil, func(c *camera) { c.shot.ColorSpace = 65535 })}, "", "b: its colours are not sRGB"},
		"automatic":      {Set{Bare: bare, Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.WhiteBalance = ptr[uint16](0) })}, "", "white balance was automatic"},
		"other light":    {Set{Bare: with("b", -18, nil, func(c *camera) { c.shot.LightSource = 20 }), Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.LightSource = 17 })}, "", "t: its white balance was set to another light than that of b"},
		"hours apart":    {Set{Bare: bare, Through: with("t", -9, glass(3, 3, 3), func(c *camera) { c.shot.Clock = "2026:09:18 12:25:00" })}, "", "25 minutes between its pictures"},
		"swapped bares":  {Set{Bare: darker, Darker: bare}, "bare: exposed brighter than darker: are the two swapped?", ""},
		"not darker":     {Set{Bare: bare, Darker: with("d", -19, nil, same)}, "d: exposed ⅓ stop darker than bare; take it one stop darker", ""},
		"⅔ darker":       {Set{Bare: bare, Darker: with("d", -20, nil, same)}, "", "d: exposed ⅔ stop darker than bare; one stop tells most"},
		"brightened":     {Set{Bare: bare, Darker: with("d", -21, glass(-1, -1, -1), same), Through: through}, "d: 1 stop darker by its exposure, and under ⅓ stop by what it shows", ""},
		"swapped all":    {Set{Bare: through, Darker: darker, Through: bare}, "through: exposed 4 stops brighter than darker: are this and bare swapped?\n", ""},
		"bare as darker": {Set{Bare: bare, Darker: bare}, "bare: the same picture twice in one set; each picture has a place of its own\n", ""},
		"too bright":     {Set{Bare: bare, Darker: darker, Through: with("t", -9, glass(2.3, 2.3, 2.3), same)}, "", "t: ⅔ stop brighter than bare, more than the darker picture tells of the camera's curve: expose it so much shorter"},
		"swapped":        {Set{Bare: through, Darker: with("d", -12, glass(3, 3, 3), same), Through: bare}, "are the two swapped?", ""},
		"burnt out":      {Set{Bare: bare, Through: with("t", -9, glass(0, 0, 0), same)}, "t: burnt out in the middle; expose it darker", ""},
		"too dark":       {Set{Bare: bare, Through: with("t", -18, glass(7, 7, 7), same)}, "t: too dark in the middle; expose it longer", ""},
		"unlike":         {Set{Bare: bare, Darker: darker, Through: with("t", -9, glass(4.2, 4.2, 4.2), same)}, "", "t: 1⅓ stops darker than bare, more than the darker picture tells"},
		"curve unknown":  {Set{Bare: bare, Through: with("t", -9, glass(2.3, 2.3, 2.3), same)}, "", "t: ⅔ stop brighter than bare, and the camera's curve is not known: expose it so much shorter"},
		"something fell": {Set{Bare: bare, Darker: darker, Through: with("t", -9, shadow, same)}, "", "t: its brightness jumps from patch to patch against bare"},
		"burnt edge":     {Set{Bare: with("b", -18, window, same), Through: with("t", -9, func(u, v float64) [3]float64 { w := window(u, v); return [3]float64{w[0] / 8, w[1] / 8, w[2] / 8} }, same)}, "", "of 54 patches are burnt out or too dark"},
	} {
		faults, warnings := Check(4, tt.set)
		for what, x := range map[string]struct {
			got  []Note
			want string
		}{"faults": {faults, tt.fault}, "warnings": {warnings, tt.warning}} {
			said := ""
			for _, n := range x.got {
				said += n.String() + "\n"
				if n.Set != 4 {
					t.Errorf("%s: it is of set %d", name, n.Set)
				}
			}
			if !strings.Contains(said, x.want) || x.want == "" && said != "" || strings.HasSuffix(x.want, "\n") && said != x.want {
				t.Errorf("%s: the %s are %q, want %q", name, what, said, x.want)
			}
		}
		if tt.fault == "" || tt.set.Through == nil {
			continue
		}
		if r, faults := Measure(kit.Filter{Name: "x", Kind: kit.Density, Stops: 3}, []Set{tt.set}, Options{}); r != nil || len(faults) == 0 {
			t.Errorf("%s is measured all the same", name)
		}
	}
	if _, faults := Measure(kit.Filter{}, nil, Options{}); len(faults) != 1 {
		t.Error("no pictures are measured")
	}
	if _, faults := Measure(kit.Filter{}, []Set{{Bare: bare}}, Options{}); len(faults) != 1 {
		t.Error("half a set is measured")
	}
	if _, faults := Measure(kit.Filter{Kind: kit.Variable, Name: "v"}, []Set{{Bare: bare, Through: through}}, Options{}); len(faults) != 1 {
		t.Error("a variable that is set to nothing is measured")
	}
}

// shadow lies over a part of the wall, window is a part of it that is too bright.
func shadow(u, v float64) [3]float64 {
	p := 0.125
	if u < -0.4 && v > 0 {
		p *= 0.5
	}
	return [3]float64{p, p, p}
}

func window(u, v float64) [3]float64 {
	if u > 0.7 {
		return [3]float64{20, 20, 20}
	}
	return [3]float64{1, 1, 1}
}

// Marks of the third-stop series count by their place in it, what is no mark as it is written.
func TestExposed(t *testing.T) {
	c := newCamera(phototest.SRGB)
	p := c.take(t, "x", -18, nil)
	for _, tt := range []struct{ seconds, iso, n, want float64 }{
		{1. / 60, 100, 2.8, -6 + math.Log2(100) - 3}, {0.01667, 100, 2.8, -6 + math.Log2(100) - 3}, {1. / 125, 200, 2.8, -7 + math.Log2(200) - 3},
		{1. / 64, 100, 2.8, -6 + math.Log2(100) - 3}, {0.3, 100, 4, -5./3 + math.Log2(100) - 4}, {45, 64, 1.7, math.Log2(45) + 6 - 2*math.Log2(1.7)},
	} {
		p.Data.ShutterS, p.Data.ISO, p.Data.Aperture = &tt.seconds, &tt.iso, &tt.n
		got, ok := p.Exposed()
		if near(t, fmt.Sprint(tt), got, tt.want, 1e-9); !ok {
			t.Error("it tells its exposure")
		}
	}
}

func TestParseClock(t *testing.T) {
	for text, want := range map[string]float64{"12:00": 0, "0:00": 0, "1:30": 45, "9:00": 270, "10:30": 315, "5:59": 179.5, "12:30": 15} {
		if deg, ok := ParseClock(text); !ok || deg != want {
			t.Errorf("%s is %g, %v", text, deg, ok)
		}
	}
	for _, text := range []string{"", "9", "13:00", "9:60", "9:5", "-1:00", "a:bc", "9:00:00", "9: 0"} {
		if deg, ok := ParseClock(text); ok {
			t.Errorf("%q is taken for %g", text, deg)
		}
	}
}

// What no mark can be found from is said.
func TestMarkRefuses(t *testing.T) {
	c := newCamera(phototest.SRGB)
	c.wall.Wide, c.wall.Tall = 144, 96
	turn := func(ring, depth float64) Turn {
		return Turn{ring, c.take(t, fmt.Sprint(ring), -15, glare(ring, 20, depth))}
	}
	four := []Turn{turn(0, 0.7), turn(45, 0.7), turn(90, 0.7), turn(135, 0.7)}
	var mixed []Turn
	for i, ring := range []float64{60, 30, 0, 90, 150, 120} {
		mixed = append(mixed, Turn{30 * float64(i), c.take(t, fmt.Sprint("mixed", ring), -15, glare(ring, 65, 0.7))})
	}
	none := turn(10, 0.7)
	none.Picture.Data.ISO = nil
	for name, tt := range map[string]struct {
		turns []Turn
		want  string
	}{
		"three":     {four[:3], "3 different positions of the ring"},
		"the same":  {append(four[:3:3], Turn{180, c.take(t, "again", -15, glare(0, 20, 0.7))}), "3 different positions"},
		"a gap":     {[]Turn{turn(0, 0.7), turn(20, 0.7), turn(40, 0.7), turn(60, 0.7)}, "120° between two positions"},
		"twice":     {append(four[:4:4], four[0]), "the same picture twice"},
		"no data":   {append(four[:4:4], none), "no exposure time"},
		"no glare":  {[]Turn{turn(0, 0.02), turn(45, 0.02), turn(90, 0.02), turn(135, 0.02)}, " % only: no glare"},
		"burnt out": {append(four[:3:3], Turn{135, c.take(t, "bright", -9, glare(20, 20, 0.7))}), "bright: burnt out"},
		"mixed up":  {mixed, "the pictures agree badly with each other, the mark is found to ±"},
		"none":      {nil, "0 different positions"},
	} {
		_, _, faults := MeasureMark(tt.turns)
		if len(faults) == 0 || !strings.Contains(faults.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", name, faults, tt.want)
		}
	}
}

// Glare at one exposure is well; at several the camera's curve comes in.
func TestMarkAtOneExposure(t *testing.T) {
	c := newCamera(phototest.SRGB)
	c.wall.Wide, c.wall.Tall = 144, 96
	for _, last := range []int{-15, -18} {
		var turns []Turn
		for i, ring := range []float64{0, 45, 90, 135} {
			turns = append(turns, Turn{ring, c.take(t, fmt.Sprint(ring), [4]int{-15, -15, -15, last}[i], glare(ring, 20, 0.7))})
		}
		_, warnings, faults := MeasureMark(turns)
		if faults != nil || (last != -15) != (len(warnings) == 1 && strings.Contains(warnings[0].Text, "not all at one exposure")) {
			t.Errorf("%d: %v %v", last, warnings, faults)
		}
	}
}

// Whatever the curve, no more than all of the light comes and goes, and at one exposure the mark is found within two degrees.
func TestMarkUnderASteepCurve(t *testing.T) {
	t.Parallel()
	c := newCamera(phototest.Steep)
	c.wall.Wide, c.wall.Tall = 144, 96
	var turns []Turn
	for _, ring := range []float64{0, 30, 60, 90, 120, 150} {
		turns = append(turns, Turn{ring, c.take(t, fmt.Sprint(ring), -18, glare(ring, 65, 0.75))})
	}
	m, _, faults := MeasureMark(turns)
	if faults != nil || m.Depth > 1 || m.Depth < 0.75 {
		t.Errorf("%+v %v", m, faults)
	}
	near(t, "mark", m.Deg, 25, 2)
}

// A file that is too long is refused before it is read.
func TestReadRefuses(t *testing.T) {
	if _, err := Read("x", bytes.NewReader(nil)); !errors.Is(err, ErrEmpty) {
		t.Error(err)
	}
	if _, err := Read("x", long{}); !errors.Is(err, ErrMany) {
		t.Error(err)
	}
	if _, err := Read("x", strings.NewReader("\x89PNG\r\n\x1a\n")); err == nil || !strings.Contains(err.Error(), "not a JPEG") {
		t.Error(err)
	}
}

// long is a file of a gigabyte that must not be read.
type long struct{}

func (long) Read([]byte) (int, error) { panic("it is read") }

func (long) Seek(int64, int) (int64, error) { return 1 << 30, nil }

// The steps name each picture that the filter needs, none that it does not, and power off before a hand is at it.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		f          kit.Filter
		wall, mark int
		has, hasNo string
	}{
		{kit.Filter{Kind: kit.Density}, 3, 0, "one picture as bright as the first", "turn the ring"},
		{kit.Filter{Kind: kit.Variable}, 3, 0, "At each of its marks", "turn the ring"},
		{kit.Filter{Kind: kit.Polariser}, 4, 3, "turn the ring by 90°", "each of its marks"},
		{kit.Filter{Kind: kit.Hybrid}, 4, 3, "turn the ring by 90°", "each of its marks"},
		{kit.Filter{Kind: kit.Hybrid, Ring: kit.RingFixed}, 3, 0, "one picture as bright as the first", "turn the ring"},
	} {
		wall, mark := WallSteps(c.f), MarkSteps(c.f)
		text := strings.Join(wall, "\n")
		if len(wall) != c.wall || len(mark) != c.mark || !strings.Contains(text, c.has) || strings.Contains(text, c.hasNo) {
			t.Errorf("%+v: %q, %q", c.f, wall, mark)
		}
		for _, step := range append(wall[2:], mark...) {
			if touches := strings.Contains(step, "put the filter on") || strings.Contains(step, "turn the ring") || strings.Contains(step, "ring is turned"); touches && !strings.Contains(step, "ower off") {
				t.Errorf("a hand at the lens with the power on: %q", step)
			}
		}
		if len(mark) > 0 {
			for _, turn := range OfferedTurns {
				if !strings.Contains(mark[2], turn) {
					t.Errorf("no picture at %s: %q", turn, mark[2])
				}
			}
		}
	}
}

// How wide a picture sees is what it says itself, before what the bag has of the camera: half its width over the focal length,
// 36 mm wide for the equivalent one (CIPA DC-008).
func TestFieldOf(t *testing.T) {
	p := &Picture{Light: &photo.Light{Wide: 6000, Tall: 4000}}
	if _, ok := FieldOf(p, kit.Camera{}); ok {
		t.Error("nobody told it")
	}
	camera := kit.Camera{SensorMM: [2]float64{13.2, 8.8}, FocalMM: 8.8}
	if f, ok := FieldOf(p, camera); !ok || math.Abs(f[0]-0.75) > 1e-9 || math.Abs(f[1]-0.5) > 1e-9 {
		t.Errorf("by the camera: %v", f)
	}
	p.Data.Focal35MM = ptr(18.)
	if f, ok := FieldOf(p, camera); !ok || f[0] != 1 || math.Abs(f[1]-2./3) > 1e-9 {
		t.Errorf("by the picture: %v", f)
	}
}
