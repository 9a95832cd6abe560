package picture

import (
	"runtime"
	"slices"
	"testing"

	"example.org/skywedge/kit"
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

// A picture in the memory of another one is the same as one in fresh memory, wherever it is left black or has nothing on
// the lens; what a spent picture still knows stays.
func TestSpentLightIsWrittenOver(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1)) // so that the same bands are left
	s := plantest.SeaShot(shot.Water, 350, 0)
	m := s.MomentAt(5)
	v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
	sc := light.SceneAt(s, m, 0)
	for _, size := range [][2]int{{160, 90}, {33, 17}} {
		w, h := size[0], size[1]
		for _, mount := range []*kit.Mount{nil, through(t, "CPL", 30, 0), through(t, "ND16", 0, 0)} {
			for _, left := range []int{0, 1, 100} { // bands that are drawn before nobody waits any more; 0: all
				draw := func() *Picture {
					asked := 0
					return DrawUnless(func() bool { asked++; return left > 0 && asked > left }, sc, v, mount, w, h)
				}
				fresh := draw()
				for range 4 { // the pool may forget
					dirty := Draw(sc, v, through(t, "variable 1.6-5", 80, 5), 170, 100)
					for k := range dirty.Bare {
						dirty.Bare[k], dirty.Loss[k], dirty.Colour[k] = 1e9, 25, [3]float32{1, 2, 3}
					}
					dirty.Spend()
					if dirty.Bare != nil || dirty.Loss != nil || dirty.Colour != nil || len(dirty.Sky) != 170*100 || len(dirty.Horizon) != 170 {
						t.Fatal("a spent picture keeps its light, or forgets what stands in it")
					}
					again := draw()
					if !slices.Equal(again.Bare, fresh.Bare) || !slices.Equal(again.Loss, fresh.Loss) || !slices.Equal(again.Colour, fresh.Colour) {
						t.Fatalf("%v, %d bands: the light of another picture shows", size, left)
					}
				}
			}
		}
	}
}
