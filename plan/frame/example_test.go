package frame_test

import (
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// A look north with a low sun in the west, whose sky is polarised upright: a sheet that passes the upright E
// leaves it brighter than it leaves plain light, one turned a quarter darkens it. The frame is filled once;
// each ring costs its own answers only.
func ExampleFrame_Effect() {
	s := plantest.SeaShot(shot.Water, 0, 10)
	m := s.MomentAt(5)
	leg := &s.Legs[0]
	v := shot.NewView(s.Camera, leg.Mode, false, m.HeadingDeg, m.PitchDeg)
	w, h := shot.HalfField(s.Camera, leg.Mode, false)
	grid := frame.NewGrid(w, h, 1)

	sky := sun.NewPattern(m.Sun[0].AzimuthDeg, m.Sun[0].AltitudeDeg, light.AirAt(s, m.AboveM, leg.Ground), light.MeasureNM)
	var f frame.Frame
	f.Fill(grid, v, &sky)

	sheet := kit.Filter{Name: "CPL", Kind: kit.Polariser, LossStops: 1.5}
	for _, ring := range []float64{0, 45, 90} {
		mount := sheet.Mount(ring, 0)
		var known *frame.Answers
		mean, uneven := f.Effect(known.Covering(grid, mount.Answer, 0, frame.GridW*frame.GridH), nil)
		fmt.Printf("mark at %s: %+.1f stops on the sky, uneven by %.1f\n", kit.Clock(ring), mean, uneven)
	}
	// Output:
	// mark at 12:00 or 6:00: +0.5 stops on the sky, uneven by 0.3
	// mark at 1:30 or 7:30: -0.7 stops on the sky, uneven by 0.5
	// mark at 3:00 or 9:00: -0.8 stops on the sky, uneven by 0.8
}
