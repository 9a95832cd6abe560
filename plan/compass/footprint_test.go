package compass

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// footprintOf is that of a level or tilted hold.
func footprintOf(headingDeg, pitchDeg float64) (Footprint, *shot.Shot) {
	s := plantest.Flight(16, 40, plantest.StillOf(headingDeg, pitchDeg, 40))
	m := s.MomentAt(0)
	return footprint(s, &m), s
}

// A level camera has the horizon in the middle of the frame: its footprint stands on the horizon, as
// wide as the lens, and the point ahead is on its edge.
func TestFootprintOfALevelCamera(t *testing.T) {
	for _, heading := range []float64{0, 5, 200, 355} {
		f, s := footprintOf(heading, 0)
		hw, hh := shot.HalfField(s.Camera, s.Legs[0].Mode, true)
		if math.Abs(f.Share-0.5) > 1e-12 || f.Centre != (Bearing{heading, 0}) {
			t.Errorf("%g°: share %g, centre %+v", heading, f.Share, f.Centre)
		}
		ahead, top, least, most := math.Inf(1), 0.0, 0.0, 0.0
		for _, b := range f.Outline {
			off := angle.Wrap180(b.AzimuthDeg - heading)
			if b.AltitudeDeg == 0 {
				ahead = min(ahead, math.Abs(off))
			}
			if math.Abs(off) < 1e-9 {
				top = max(top, b.AltitudeDeg)
			}
			least, most = min(least, off), max(most, off)
		}
		if ahead > 1e-9 {
			t.Errorf("%g°: the outline passes the point ahead on the horizon by %g°", heading, ahead)
		}
		if want := math.Atan(hh) * 180 / math.Pi; math.Abs(top-want) > 1e-9 {
			t.Errorf("%g°: %g° high, the lens sees %g° up", heading, top, want)
		}
		if want := math.Atan(hw) * 180 / math.Pi; math.Abs(most-want) > 1e-9 || math.Abs(least+want) > 1e-9 {
			t.Errorf("%g°: from %g° to %g°, the lens sees %g° to each side", heading, least, most, want)
		}
	}
}

// Every point of an outline lies on the edge of the picture or on the horizon, and none below it.
func TestFootprintIsThePicturesEdge(t *testing.T) {
	for _, pitch := range []float64{-40, -25, -10, 0, 15, 45, 80, 90} {
		f, s := footprintOf(300, pitch)
		v := shot.NewView(s.Camera, s.Legs[0].Mode, true, 300, pitch)
		if len(f.Outline) == 0 {
			if _, hh := shot.HalfField(s.Camera, s.Legs[0].Mode, true); math.Atan(hh)*180/math.Pi > -pitch {
				t.Errorf("pitch %g has sky, and no footprint", pitch)
			}
			continue
		}
		for _, b := range f.Outline {
			x, y, ok := v.Project(sun.Direction(b.AzimuthDeg, b.AltitudeDeg))
			if !ok || b.AltitudeDeg < 0 {
				t.Fatalf("pitch %g: %+v is not in front of the lens, above the horizon", pitch, b)
			}
			edge := math.Min(math.Abs(math.Abs(x)-1), math.Abs(math.Abs(y)-1))
			if edge > 1e-6 && b.AltitudeDeg > 1e-6 || math.Abs(x) > 1+1e-6 || math.Abs(y) > 1+1e-6 {
				t.Fatalf("pitch %g: %+v is at %g, %g of the picture", pitch, b, x, y)
			}
		}
	}
}

// The share is that of the sky's pixels in the picture, and straight down has none.
func TestFootprintShareIsThePictures(t *testing.T) {
	for _, pitch := range []float64{-90, -60, -20, -5, 0, 10, 20} {
		r := &plan.Report{Shot: plantest.SeaShot(shot.Grass, 350, pitch), Bag: kit.Generic()}
		r.Shot.Legs[0].Height = [2]float64{1, 1} // where the horizon has next to no dip, which a footprint leaves out
		p, err := r.Frame(plan.FrameOptions{Second: 5, Filter: "none", Ring: 0, W: 8, H: 720})
		if err != nil {
			t.Fatal(err)
		}
		sky := 0
		for _, s := range p.Sky {
			if s {
				sky++
			}
		}
		f := FootprintAt(r, 5)
		if math.Abs(f.Share-float64(sky)/float64(len(p.Sky))) > 1.0/720 {
			t.Errorf("pitch %g: share %g, in the picture %d of %d", pitch, f.Share, sky, len(p.Sky))
		}
		if pitch == -90 && len(f.Outline) != 0 {
			t.Error("straight down there is sky")
		}
	}
}

// Every leg has two, at its ends, in the order of the flight; a lens cropped by its mode has a smaller
// one.
func TestFootprintsOfAFlight(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30), plantest.Turning(340, 60, 40), plantest.StillOf(90, -90, 40))
	r := plan.Solve(s, kit.Generic(), plan.Options{PerLeg: 5, SkipSureness: true})
	list := Footprints(r)
	if len(list) != 6 {
		t.Fatalf("%d footprints of three legs", len(list))
	}
	for i, f := range list {
		if f.Leg != i/2 || f.End != (i%2 == 1) {
			t.Errorf("footprint %d is of leg %d, end %v", i, f.Leg, f.End)
		}
	}
	if c := list[3].Centre.AzimuthDeg; math.Abs(angle.Wrap180(c-40)) > 1e-9 {
		t.Errorf("the turn from 340° by 60° ends at %g°", c)
	}
	if len(list[4].Outline) != 0 || len(list[5].Outline) != 0 {
		t.Error("straight down there is sky")
	}
}
