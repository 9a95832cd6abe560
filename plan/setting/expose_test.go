package setting

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// film is a leg at 25 frames a second that wants 1/50 and takes anything from 1/100 to 1/33, with a camera at f/2.8.
func film() *Leg {
	l := &Leg{Leg: &shot.Leg{Purpose: shot.Video, FPS: 25}, BlurWish: 1}
	l.Mode.ISO = kit.ISO{Base: 100, Clean: 400, Limit: 6400}
	l.Bounds = Bounds{WantedS: 1. / 50, FastestS: 1. / 8000, LowS: 1. / 100, HighS: 1. / 50, SlowestS: 1. / 25, LookS: 1. / 50}
	return l
}

// The exposure value at which f/2.8, 1/50 and an ISO belong together (ISO 2720: N²/t = 2^EV · ISO/100).
func evAt(iso float64) float64 { return math.Log2(2.8*2.8*50) - math.Log2(iso/100) }

// One stop of light less is one stop of ISO more, until the limit; one more than the base takes is a shutter half as long.
// What the light may still fall is counted to the clean ISO.
func TestSetFor(t *testing.T) {
	for _, c := range []struct {
		iso                                                 float64 // that the light asks for at 1/50
		shutter, set, headroom, noise, fast, beyond, bright float64
	}{
		{iso: 100, shutter: 1. / 50, set: 100, headroom: 2},
		{iso: 400, shutter: 1. / 50, set: 400},
		{iso: 800, shutter: 1. / 50, set: 800, headroom: -1, noise: 1},
		{iso: 6400, shutter: 1. / 50, set: 6400, headroom: -4, noise: 4},
		{iso: 12800, shutter: 1. / 25, set: 6400, headroom: -5, noise: 4},
		{iso: 51200, shutter: 1. / 25, set: 6400, headroom: -7, noise: 4, beyond: 2},
		{iso: 50, shutter: 1. / 100, set: 100, headroom: 3},
		{iso: 12.5, shutter: 1. / 400, set: 100, headroom: 5, fast: 2},
		{iso: 100. / 320, shutter: 1. / 8000, set: 100, headroom: math.Log2(1280), fast: math.Log2(80), bright: 1},
	} {
		l := film()
		e := l.SetFor(&l.Bounds, evAt(c.iso), 2.8, 0)
		for _, x := range []struct {
			what      string
			got, want float64
		}{
			{"shutter", e.ShutterS, c.shutter}, {"ISO", e.ISO, c.set}, {"headroom", e.Headroom, c.headroom}, {"noise", e.Noise, c.noise},
			{"too fast", e.Fast, c.fast}, {"too dark", e.Beyond, c.beyond}, {"too bright", e.Bright, c.bright},
		} {
			if math.Abs(x.got-x.want) > 1e-9*(1+math.Abs(x.want)) {
				t.Errorf("light for ISO %g: %s %g, want %g", c.iso, x.what, x.got, x.want)
			}
		}
	}
}

// A film's shutter is never longer than its frame, not even by the mark that lies nearest.
func TestMarkedStaysWithinTheFrame(t *testing.T) {
	l := film()
	l.FPS = 27
	c := &kit.Camera{FastestS: 1. / 8000, SlowestS: 8}
	shutter, iso := l.Marked(c, Setting{ShutterS: 1. / 27}, evAt(100)-1, 2.8, 0)
	if shutter != 1./30 || iso != 125 {
		t.Errorf("1/%.0f, ISO %g", 1/shutter, iso)
	}
}

// Up to a stop of drift the brightest is what is locked; of what is more, half goes to the dark end.
func TestLockedAt(t *testing.T) {
	for _, c := range [][3]float64{{10, 10, 10}, {10, 10.5, 10.5}, {10, 11, 11}, {10, 12, 11.5}, {10, 14, 12.5}} {
		if got := LockedAt(c[0], c[1]); got != c[2] {
			t.Errorf("from EV %g to %g it is locked at %g, want %g", c[0], c[1], got, c[2])
		}
	}
}

// Twice the f-number is two stops outside the range where the lens is sharpest.
func TestSoftStops(t *testing.T) {
	c := &kit.Camera{Sharpest: [2]float64{2.8, 5.6}}
	for n, want := range map[float64]float64{1.4: 2, 2.8: 0, 4: 0, 5.6: 0, 11.2: 2} {
		if got := SoftStops(c, n); math.Abs(got-want) > 1e-9 {
			t.Errorf("f/%g: %g stops, want %g", n, got, want)
		}
	}
	if got := SoftStops(new(kit.Camera), 22); got != 0 {
		t.Errorf("of a lens that nobody knows: %g", got)
	}
}

// What a pilot does when the meter shows a stop less than planned: ISO, first to its clean end; behind a filter one lands
// then, bare one takes the noise; at the limit there is nothing left.
func TestDarker(t *testing.T) {
	c := &kit.Camera{FastestS: 1. / 8000, SlowestS: 8}
	for _, x := range []struct {
		iso  float64
		bare bool
		want string
	}{
		{100, false, "ISO 200, then ISO to 400, then land"},
		{100, true, "ISO 200, then ISO to 400"},
		{400, false, "ISO 800, then land"},
		{400, true, "ISO 800, then noise: ISO to 6400"},
		{3200, true, "ISO 6400"},
		{6400, false, "no more ISO: land"},
	} {
		if got := film().Darker(c, x.bare, 1./50, x.iso); got != x.want {
			t.Errorf("ISO %g, bare %v: %q, want %q", x.iso, x.bare, got, x.want)
		}
	}
}
