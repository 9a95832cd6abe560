package picture

import (
	"math"
	"testing"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/light"
)

// plainPicture is an even grey of so many cd/m², all of it behind a filter that takes loss stops.
func plainPicture(w, h int, lum, loss float64) *Picture {
	p := &Picture{W: w, H: h}
	for range w * h {
		p.Bare = append(p.Bare, lum)
		p.Loss = append(p.Loss, loss)
		p.Colour = append(p.Colour, [3]float32{float32(lum), float32(lum), float32(lum)})
	}
	return p
}

// decode undoes the sRGB curve (IEC 61966-2-1).
func decode(b uint8) float64 {
	v := float64(b) / 255
	if v <= .04045 {
		return v / 12.92
	}
	return math.Pow((v+.055)/1.055, 2.4)
}

func TestMeter(t *testing.T) {
	p := plainPicture(4, 3, 100, 3)
	if ev := p.MeterEV(); math.Abs(ev-math.Log2(100*100/12.5)) > 1e-9 {
		t.Errorf("100 cd/m² meters EV %g (ISO 2720: L·S/K)", ev)
	}
	if l := p.MeanLoss(); l != 3 {
		t.Errorf("loss %g", l)
	}
}

// What is metered becomes middle grey, 18 % of white; three stops above it the sensor clips, and only
// there is the picture white. The curve rises all the way.
func TestToneCurve(t *testing.T) {
	p := plainPicture(1, 1, 100, 0)
	at := func(stops float64) uint8 {
		o := DevelopOptions{FromX: 1, Bare: ExposureSetting{EV100: p.MeterEV() - stops}}
		return p.Develop(o, nil)[0]
	}
	if v := decode(at(0)); math.Abs(v-.18) > .003 {
		t.Errorf("middle grey is %.4f", v)
	}
	if at(2.97) == 255 || at(3.01) != 255 {
		t.Errorf("white begins elsewhere: %d and %d", at(2.97), at(3.01))
	}
	if at(-20) != 0 || at(40) != 255 {
		t.Errorf("the ends are %d and %d", at(-20), at(40))
	}
	last := 0
	for s := -12.0; s <= 3; s += .01 {
		v := int(at(s))
		if v < last || v > last+2 {
			t.Fatalf("a step from %d to %d at %.2f stops", last, v, s)
		}
		last = v
	}
	tones := tonesFor(sensorStops)
	if r, g, b := tones.at(math.NaN()), tones.at(-1), tones.at(math.Inf(1)); r != 0 || g != 0 || b != 255 {
		t.Errorf("odd light gives %d %d %d", r, g, b)
	}
}

// White lies where the camera says, and only there: middle grey stays, the curve rises all the way, and what is
// marked as clipped is what is white.
func TestHighlightStops(t *testing.T) {
	p := plainPicture(1, 1, 100, 0)
	for _, highlights := range []float64{.5, 1.5, 1.9, 2, 2.5, 3, 3.5, 6, 10} {
		options := func(stops float64) DevelopOptions {
			return DevelopOptions{FromX: 1, HighlightStops: highlights, Bare: ExposureSetting{EV100: p.MeterEV() - stops}}
		}
		at := func(stops float64) uint8 { return p.Develop(options(stops), nil)[0] }
		if v := decode(at(0)); math.Abs(v-.18) > .004 {
			t.Errorf("white %g stops up: middle grey is %.4f", highlights, v)
		}
		if at(highlights+.01) != 255 || at(highlights-.1) == 255 && highlights < 4 {
			t.Errorf("white %g stops up begins elsewhere: %d and %d", highlights, at(highlights-.1), at(highlights+.01))
		}
		last := uint8(0)
		for s := -12.0; s <= highlights; s += .02 {
			if v := at(s); v < last {
				t.Fatalf("white %g stops up: darker at %.2f stops", highlights, s)
			} else {
				last = v
			}
		}
		for _, c := range []struct {
			stops float64
			want  PixelMark
		}{{highlights - .01, Fine}, {highlights + .01, Clipped}} {
			if m := p.Marks(options(c.stops), nil); m[0] != c.want {
				t.Errorf("white %g stops up: mark %d at %.2f stops", highlights, m[0], c.stops)
			}
		}
	}
}

// A cast of 12 mired at noon is undone by the white balance that goes with it (5600 K: 5250 K), a tint is
// not, and neither changes how bright a grey is.
func TestCastAndTint(t *testing.T) {
	p := plainPicture(1, 1, 100, 0)
	at := func(o DevelopOptions) (r, g, b uint8) {
		o.Filtered.EV100 = p.MeterEV()
		c := p.Develop(o, nil)
		return c[0], c[1], c[2]
	}
	if r, g, b := at(DevelopOptions{CastMired: 12}); r <= g || g <= b {
		t.Errorf("a warm cast: %d %d %d", r, g, b)
	}
	wb := exposure.WhiteBalanceK(light.NoonK, 12)
	if r, g, b := at(DevelopOptions{CastMired: 12, Filtered: ExposureSetting{WBK: wb}}); int(max(r, g, b))-int(min(r, g, b)) > 1 {
		t.Errorf("+12 mired at %.0f K: %d %d %d", wb, r, g, b)
	}
	if r, g, b := at(DevelopOptions{Tint: 10}); g >= r || g >= b || r != b {
		t.Errorf("a magenta tint: %d %d %d", r, g, b)
	}
	for _, c := range []light.RGB{light.CastGains(40, 0), light.CastGains(-40, 0), light.CastGains(0, 20), light.CastGains(25, 4)} {
		if l := c.Luminance(); math.Abs(l-1) > 1e-12 {
			t.Errorf("grey gets %.4f times as bright", l)
		}
	}
}

// A halo takes from the light that clips what it gives to its surroundings, and nothing is done where
// nothing clips.
func TestHaloKeepsTheLight(t *testing.T) {
	for _, size := range [][2]int{{400, 225}, {97, 54}, {60, 34}} {
		w, h := size[0], size[1]
		p := plainPicture(w, h, 100, 1)
		o := DevelopOptions{Scatter: .04, Filtered: ExposureSetting{EV100: p.MeterEV() - 1}}
		if p.haloOf(&o) != nil {
			t.Fatal("a halo without a light")
		}
		const lamp = 1e6
		k := h/2*w + w/2 - 3
		p.Bare[k], p.Colour[k] = lamp, [3]float32{lamp, lamp, lamp}
		o.FromX = w / 2 // the light of the bare part passes the layer as well
		glow := p.haloOf(&o)
		var sum float64
		var line haloLine
		for j := range h {
			glow.line(&line, j)
			for i := range w {
				sum += line.at(glow, i)[1]
			}
		}
		if want := lamp / 2 * .04; math.Abs(sum/want-1) > .02 {
			t.Errorf("%d by %d: %.0f of %.0f cd/m² scattered come back", w, h, sum, want)
		}
		glow.line(&line, h/2)
		near, far := line.at(glow, w/2+w/30), line.at(glow, w/2+w/5)
		if !(near[0] > 20*far[0]) {
			t.Errorf("the halo should be small: %g beside the light, %g further off", near[0], far[0])
		}
	}
	none := plainPicture(8, 1, 100, 0)
	if none.haloOf(&DevelopOptions{}) != nil {
		t.Error("a halo without a layer")
	}
}

// Round a light that clips the picture is brighter with the layer than without, and the light itself
// stays white.
func TestHaloShows(t *testing.T) {
	p := plainPicture(96, 54, 100, 0)
	k := 27*96 + 48
	p.Bare[k], p.Colour[k] = 1e7, [3]float32{1e7, 1e7, 1e7}
	o := DevelopOptions{Filtered: ExposureSetting{EV100: math.Log2(800)}}
	without := p.Develop(o, nil)
	o.Scatter = scatters["1/4"]
	with := p.Develop(o, nil)
	if with[3*(k+3)] <= without[3*(k+3)] || with[3*k] != 255 || with[0] != without[0] {
		t.Errorf("beside the light %d, without the layer %d; the light %d; a corner %d, %d",
			with[3*(k+3)], without[3*(k+3)], with[3*k], with[0], without[0])
	}
}

// Marks follow the exposure: three stops up clips, and above the clean ISO the shadows are noisy, by a
// stop of shadow for a stop of ISO.
func TestMarks(t *testing.T) {
	p := plainPicture(2, 1, 100, 2)
	ev := p.MeterEV()
	for _, c := range []struct {
		under, over float64 // of the exposure, and of the ISO
		want        PixelMark
	}{
		{0, 0, Fine}, {-2.9, 0, Fine}, {-3.1, 0, Clipped}, {4.9, 0, Fine}, {9, 0, Fine}, {9, -1, Fine},
		{4.9, .01, Fine}, {5.1, .01, Noisy}, {3.9, 1, Fine}, {4.1, 1, Noisy}, {.1, 20, Noisy}, {-.1, 20, Fine},
	} {
		o := DevelopOptions{FromX: 1, Bare: ExposureSetting{EV100: ev + c.under, OverClean: c.over},
			Filtered: ExposureSetting{EV100: ev - 2 + c.under, OverClean: c.over}}
		m := p.Marks(o, nil)
		if m[0] != c.want || m[1] != c.want {
			t.Errorf("%.1f stops under, ISO %.1f over the clean one: %v, want %d", c.under, c.over, m, c.want)
		}
	}
	if s := Share([]PixelMark{Fine, Clipped, Clipped, Noisy}, Clipped); s != .5 {
		t.Errorf("share %g", s)
	}
}
