package walk

import (
	"strings"
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
		90: "330° to 60°, ", -90: "330° to 240°, ", 180: "330° to 150° clockwise, ", -180: "330° to 150° anticlockwise, ", -270: "330° to 60° anticlockwise, ",
	} {
		leg.Heading = shot.Sweep{From: 330, By: by}
		l := &plan.LegReport{Move: shot.Orbit, Purpose: shot.Video, Heading: [2]float64{330, 330 + by}}
		if got := legWords(l, &leg, 1); !strings.Contains(got, want) {
			t.Errorf("by %g°: %q, want %q", by, got, want)
		}
	}
}
