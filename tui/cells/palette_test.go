package cells

import (
	"math"
	"testing"
)

// Oklab of the primaries, as its author's page lists them (Ottosson 2020, table of XYZ and Oklab pairs; from memory
// that white is 1, 0, 0): greys have no colour, and lightness goes from 0 to 1.
func TestLab(t *testing.T) {
	for v := 0; v < 256; v += 17 {
		c := labOf(RGB(uint8(v), uint8(v), uint8(v)))
		if c.chroma > 1e-4 {
			t.Errorf("grey %d has the colour %g, %g", v, c.a, c.b)
		}
	}
	if w, k := labOf(RGB(255, 255, 255)), labOf(RGB(0, 0, 0)); math.Abs(w.l-1) > 1e-4 || k.l != 0 {
		t.Errorf("white %+v, black %+v", w, k)
	}
	if b := labOf(RGB(0, 0, 255)); b.b > -.3 || b.a > 0 { // blue lies at negative b
		t.Errorf("blue %+v", b)
	}
}

func TestNearest256(t *testing.T) {
	var kept numbers
	for n := firstExact; n < 256; n++ {
		c := paletteColour(n)
		if got := paletteColour(int(nearest256(c))); got != c {
			t.Errorf("colour %d comes back as %x", n, got)
		}
		if got := paletteColour(int(kept.of(c))); got != c {
			t.Errorf("colour %d is kept as %x", n, got)
		}
	}
}

// The blues of the demo trip's own skies and water become blues or greys, never a violet or a green, and those that
// have much colour stay blue.
func TestABlueStaysBlue(t *testing.T) {
	for _, c := range []struct { // frames of examples/, developed, picked by hand
		colour Colour
		blue   bool
	}{
		{RGB(0x5c, 0x84, 0xbc), true}, {RGB(0x64, 0x8c, 0xc4), true}, {RGB(0x84, 0xac, 0xdc), true},
		{RGB(0x8c, 0xb0, 0xd8), true}, {RGB(0x40, 0x78, 0x94), true}, {RGB(0x2c, 0x60, 0x84), true},
		{RGB(0xa4, 0xb4, 0xc8), false}, {RGB(0xb4, 0xc4, 0xdc), false}, {RGB(0x20, 0x38, 0x50), false}, {RGB(0x18, 0x24, 0x34), false},
	} {
		n := nearest256(c.colour)
		want, got := labOf(c.colour), paletteLab[n]
		if got.chroma < 1e-3 {
			if c.blue {
				t.Errorf("%x becomes a grey, %d", c.colour, n)
			}
			continue
		}
		off := math.Abs(math.Remainder(math.Atan2(got.b, got.a)-math.Atan2(want.b, want.a), 2*math.Pi)) * 180 / math.Pi
		if off > 20 {
			t.Errorf("%x becomes %d, whose hue is %.0f° off", c.colour, n, off)
		}
	}
}
