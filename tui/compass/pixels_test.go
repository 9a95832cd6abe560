package compass

import (
	"math"
	"testing"

	"example.org/skywedge/tui/cells"
)

// The map in true pixels is the map in half blocks, finer: over every one of those lies its colour, but where lines are
// drawn, and nothing stands beyond the horizon.
func TestFinerMap(t *testing.T) {
	v, _ := open(t, 120, 36, nil)
	w := v.got.of
	for _, effect := range []bool{false, true} {
		const k = 6
		f := finer{w.base, w.second, w.n, effect}
		imgs, err := f.Draw(func() bool { return false }, []int{0}, k+1, 2*k)
		if err != nil {
			t.Fatal(err)
		}
		img := imgs[0]
		if img.Rect.Dx() != w.n*k || img.Rect.Dy() != w.n*k {
			t.Fatalf("%v for a map of %d", img.Rect, w.n)
		}
		far, most := 0, 0
		for y := range w.n * k {
			for x := range w.n * k {
				r := math.Hypot((2*float64(x)+1)/float64(w.n*k)-1, (2*float64(y)+1)/float64(w.n*k)-1)
				p := img.NRGBAAt(x, y)
				if (p.A > 0) != (r <= 1) {
					t.Fatalf("pixel %d, %d at %.3f of the horizon: alpha %d", x, y, r, p.A)
				}
				if i := y/k*w.n + x/k; x%k == k/2 && y%k == k/2 && !math.IsNaN(v.got.sky.Degree[i]) && p.A > 0 {
					c := rampAt(v.got.sky.Degree[i], v.got.sky.Effect[i], effect, cells.TrueColour)
					if most++; math.Abs(float64(c.Luma()-cells.RGB(p.R, p.G, p.B).Luma())) > 12 {
						far++
					}
				}
			}
		}
		if far > most/5 { // the lines
			t.Errorf("%d of %d points have another colour", far, most)
		}
	}
	if imgs, _ := (finer{w.base, w.second, w.n, false}).Draw(func() bool { return true }, nil, 4, 8); imgs != nil {
		t.Error("drawn for nobody")
	}
}
