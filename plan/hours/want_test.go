package hours

import (
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// A sun behind the ridge is no sun for light that is to come from it, and costs as much as one on the wrong side; light
// that does without the sun loses nothing.
func TestASunBehindTheRidgeIsNotThere(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(200, 4, 30))
	itself := shot.Want{SunHeightDeg: [2]float64{0, 90}, Side: shot.SideAny, Itself: true}
	without := itself
	without.Itself = false
	if o := OffWantOf(itself, s, nil); o.Stops != 0 || o.Words(itself) != "" {
		t.Errorf("under an open sky %g stops, %q", o.Stops, o.Words(itself))
	}
	s.Skyline = [][2]float64{{0, 89}, {90, 89}, {180, 89}, {270, 89}}
	if o := OffWantOf(itself, s, nil); o.Stops != itself.Stops(0, false) || o.Stops == 0 || o.Words(itself) != "the sun behind the ridge" {
		t.Errorf("behind the ridge %g stops, %q", o.Stops, o.Words(itself))
	}
	if o := OffWantOf(without, s, nil); o.Stops != 0 {
		t.Errorf("without a wish for the sun %g stops", o.Stops)
	}
}
