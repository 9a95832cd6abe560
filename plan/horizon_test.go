package plan

import (
	"math"
	"testing"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// The horizon that is marked is where the picture's sky ends, with its dip: at 3000 m that is 1.76° below
// level, acos(R/(R+h)), and in a wide picture a shallow arc.
func TestHorizonIsWhereTheSkyEnds(t *testing.T) {
	for _, pitch := range []float64{-12, 0, 9} {
		r := seaShot(shot.Grass, 350, pitch)
		r.Shot.Legs[0].Height = [2]float64{3000, 3000}
		const w, h = 9, 1800
		p := drawn(t, r, "none", 0, w, h)
		for i := range w {
			rows := 0
			for j := range h {
				if p.Sky[j*w+i] {
					rows++
				}
			}
			if y := 1 - 2*float64(rows)/h; math.Abs(y-p.Horizon[i]) > 2.0/h {
				t.Errorf("pitch %g, column %d: the sky ends at %.4f, the horizon is marked at %.4f", pitch, i, y, p.Horizon[i])
			}
		}
		v := shot.NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, 350, pitch)
		dip := math.Acos(6371.0/(6371+3)) * 180 / math.Pi
		if _, y, _ := v.Project(sun.Direction(350, -dip)); math.Abs(y-p.Horizon[w/2]) > 1e-6 {
			t.Errorf("pitch %g: the middle of the horizon is at %.6f, %.2f° below level is at %.6f", pitch, p.Horizon[w/2], dip, y)
		}
	}
}
