package walk

import (
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// A turn that goes the longer way, or is half a circle, says which way round.
func TestTheLongWayRoundIsSaid(t *testing.T) {
	s := plantest.SeaShot(shot.Water, 330, 0)
	leg := s.Legs[0]
	leg.Move = shot.Orbit
	for by, want := range map[float64]string{
		90: "330° to 60°", -90: "330° to 240°", 180: "330° to 150° clockwise", -180: "330° to 150° anticlockwise", -270: "330° to 60° anticlockwise",
	} {
		leg.Heading = shot.Sweep{From: 330, By: by}
		l := &plan.LegReport{Move: shot.Orbit, Purpose: shot.Video, Heading: [2]float64{330, 330 + by}}
		if got := headingWords(l, &leg, 0); got != want {
			t.Errorf("by %g°: %q, want %q", by, got, want)
		}
	}
}

// Magnetic north lies east of true north where the declination is positive: what is seen from it counts less (the
// definition of declination).
func TestMagneticHeadings(t *testing.T) {
	s := plantest.SeaShot(shot.Water, 0, 0)
	l := &plan.LegReport{Move: shot.Push, Purpose: shot.Video}
	for declination, want := range map[float64]string{0: "0°", 10: "350°", -10: "10°", 0.4: "0°", -1.2: "1°"} {
		if got := headingWords(l, &s.Legs[0], declination); got != want {
			t.Errorf("%g° east: %q, want %q", declination, got, want)
		}
	}
}
