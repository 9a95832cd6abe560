package plan

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
)

// A frame that is read for itself, ray by ray, asks for what the leg's own reading of that moment does, which looks up
// tables of whole degrees of the sun: to a tenth of a stop, on every leg of a flight over dark and bright ground.
func TestASingleFrameIsReadLikeTheLeg(t *testing.T) {
	var legs []shot.Leg
	for _, g := range []shot.Ground{shot.Snow, shot.Water, shot.Forest} {
		l := plantest.Push(280, 5, 30)
		l.Ground, l.Pitch = g, [2]float64{-15, -15}
		legs = append(legs, l)
	}
	for _, hour := range []int{12, 18} {
		s := plantest.Flight(hour, 15, legs...)
		y := newAnalysis(s, shot.Path(s, 8), turnKeys(roughTurnDeg, roughMost), newShared(30))
		for i, l := range y.legs {
			r := y.meterOf(l, mounting.Way{})
			at := &y.path[r.darkAt]
			if got := y.readAt(mounting.Way{}, l, at, at.Time[r.darkTake]); math.Abs(got-r.dark) > .1 {
				t.Errorf("at %d h, leg %d: EV %.3f, the leg's own reading is %.3f", hour, i+1, got, r.dark)
			}
		}
	}
}
