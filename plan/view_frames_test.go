package plan

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// A direction is in the picture up to its edge and not beyond, on every side.
func TestViewFrames(t *testing.T) {
	v := NewView(kit.Generic().Cameras[0], kit.Mode{}, false, 140, -25)
	for _, c := range []struct {
		x, y float64
		in   bool
	}{{0, 0, true}, {.99, 0, true}, {-.99, .99, true}, {.5, -.99, true}, {1.01, 0, false}, {-1.01, 0, false}, {0, 1.01, false}, {0, -1.01, false}} {
		x, y, in := v.Frames(v.Ray(c.x, c.y))
		if in != c.in || math.Abs(x-c.x) > 1e-9 || math.Abs(y-c.y) > 1e-9 {
			t.Errorf("%g, %g: in the picture %v at %g, %g", c.x, c.y, in, x, y)
		}
	}
	if _, _, in := v.Frames(r3.Scale(-1, v.Forward)); in {
		t.Error("what is behind the camera is in the picture")
	}
}

// The horizon that is marked is where the picture's sky ends, with its dip: at 3000 m that is 1.76° below
// level, acos(R/(R+h)), and in a wide picture a shallow arc.
func TestHorizonIsWhereTheSkyEnds(t *testing.T) {
	for _, pitch := range []float64{-12, 0, 9} {
		r := seaShot(t, Grass, 350, pitch)
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
		v := NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, 350, pitch)
		dip := math.Acos(6371.0/(6371+3)) * 180 / math.Pi
		if _, y, _ := v.Project(sun.Direction(350, -dip)); math.Abs(y-p.Horizon[w/2]) > 1e-6 {
			t.Errorf("pitch %g: the middle of the horizon is at %.6f, %.2f° below level is at %.6f", pitch, p.Horizon[w/2], dip, y)
		}
	}
}

// Cloud leaves as much of the airlight's polarisation as of the clear sky's own, without what the cloud
// itself polarises.
func TestAirlightUnderCloud(t *testing.T) {
	d := sun.Direction(90, 40)
	clear := sun.NewPattern(0, 20, sun.Air{AOD: .08, Albedo: .15}, 550)
	own, _ := clear.Polarisation(d)
	for _, c := range []float64{0, .2, .5, .9, 1} {
		p := sun.NewPattern(0, 20, sun.Air{AOD: .08, Albedo: .15, Cloud: sun.Cloud{Cover: c}}, 550)
		degree, _ := p.Polarisation(d)
		want := (degree - c*math.Min(.16, .2*own)) / own
		if got := airlightUnder(c); math.Abs(got-want) > 1e-9 {
			t.Errorf("cloud %g: %.4f, the sky keeps %.4f", c, got, want)
		}
	}
}
