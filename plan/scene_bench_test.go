package plan

import (
	"testing"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
)

// BenchmarkScene makes all the light around the aircraft anew, as when the sun or the wind change, but for what a frame
// first asks of a mirror.
func BenchmarkScene(b *testing.B) {
	for _, g := range []shot.Ground{shot.Water, shot.Grass, shot.Town} {
		b.Run(string(g), func(b *testing.B) {
			r := seaShot(g, 350, 0)
			m := r.Shot.MomentAt(5)
			for b.Loop() {
				m.Sun[0].AltitudeDeg += 1e-9 // no scene that is kept serves
				light.SceneAt(r.Shot, m, 0)
			}
		})
	}
}

// BenchmarkFrameStep is what a step of the ring or the heading costs: the scene is there already.
func BenchmarkFrameStep(b *testing.B) {
	r := seaShot(shot.Water, 350, 0)
	var scenes light.Scenes
	i := 0
	for b.Loop() {
		i++
		r.Shot.Legs[0].Heading.From = float64(340 + i%20)
		o := FrameOptions{Second: 5, Filter: "CPL", Ring: float64(i * 15 % 180), W: 160, H: 90, Scenes: &scenes}
		p, err := r.Frame(o)
		if err != nil {
			b.Fatal(err)
		}
		p.Spend() // as the workbench does
	}
}
