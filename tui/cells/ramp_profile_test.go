package cells

import "testing"

// What 256 colours show of a ramp never falls in lightness, and has its eight steps.
func TestRampInAProfile(t *testing.T) {
	for name, r := range map[string]*Ramp{"cividis": &Cividis, "viridis": &Viridis} {
		last, steps := -1.0, map[uint8]bool{}
		for i := 0; i <= 400; i++ {
			v := float64(i) / 400
			if r.In(TrueColour, v) != r.At(v) || r.In(Sixteen, v) != r.At(v) {
				t.Fatalf("%s at %g: another colour than the ramp's", name, v)
			}
			n := nearest256(r.In(TwoFiftySix, v)) // what the pen writes
			l := lightness(paletteColour(int(n)))
			if l < last {
				t.Fatalf("%s at %g: lightness falls from %.1f to %.1f", name, v, last, l)
			}
			last, steps[n] = l, true
		}
		if len(steps) != 8 {
			t.Errorf("%s has %d steps in 256 colours", name, len(steps))
		}
	}
}

func TestMix(t *testing.T) {
	a, b := RGB(10, 200, 0), RGB(110, 0, 40)
	for share, want := range map[float64]Colour{0: a, 1: b, 0.5: RGB(60, 100, 20)} {
		if got := Mix(a, b, share); got != want {
			t.Errorf("%g: %x, want %x", share, got, want)
		}
	}
}
