package picture

import (
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
)

// A picture that the cores share is the one that a single core draws.
func TestBandsMakeTheSamePicture(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {700, 3}, {400, 400}, {3, 70000}} {
		w, h := size[0], size[1]
		rows := make([]int, h)
		inBands(w, h, 4, func(from, to int) {
			for j := from; j < to; j++ {
				rows[j]++ // the race detector tells when two bands share a row
			}
		})
		for j, n := range rows {
			if n != 1 {
				t.Fatalf("%d by %d: row %d is drawn %d times", w, h, j, n)
			}
		}
	}
	s := plantest.SeaShot(shot.Water, 350, 0)
	m := s.MomentAt(5)
	v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
	sc := light.SceneAt(s, m, 0)
	const w, h = 512, 289
	all := Draw(sc, v, nil, w, h)
	one := &Picture{W: w, H: h, Bare: make([]float64, w*h), Loss: make([]float64, w*h), Sky: make([]bool, w*h), Colour: make([][3]float32, w*h)}
	size := blockFor(v, w)
	for from := 0; from < h; from += size {
		l := lattice{eye: newEye(sc, v, nil, w, h), p: one, size: size}
		l.drawBand(from)
	}
	for k := range one.Bare {
		if one.Bare[k] != all.Bare[k] || one.Sky[k] != all.Sky[k] {
			t.Fatalf("pixel %d: %g and %g", k, one.Bare[k], all.Bare[k])
		}
	}
}
