package plan

import (
	"math"
	"slices"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/setting"
)

// One's own offset of a camera, or of the filter on the lens, moves the exposure that is planned by just as much, and nothing
// of the picture: meter, highlights and shadows are foretold as before. It is said.
func TestOnesOwnOffsetMovesTheExposureAlone(t *testing.T) {
	for _, filter := range []string{"none", "ND8"} {
		s, bag := plantest.Flight(16, 20, plantest.Push(285, 5, 30)), plantest.Bag()
		s.Filter = filter
		plain := Solve(s, bag, Options{SkipSureness: true})
		if plain.Call.Filter != filter || !plain.Legs[0].Feasible {
			t.Fatalf("%s: the call is %s, feasible %v", filter, plain.Call.Filter, plain.Legs[0].Feasible)
		}
		was, _ := plain.PlannedEV100(0)
		own := *s
		other := *bag
		other.Filters = slices.Clone(bag.Filters)
		if filter == "none" {
			own.Camera.OffsetStops = 1
		} else {
			for i := range other.Filters {
				if other.Filters[i].Name == filter {
					other.Filters[i].OffsetStops = 1
				}
			}
		}
		r := Solve(&own, &other, Options{SkipSureness: true})
		is, _ := r.PlannedEV100(0)
		if math.Abs(is-was-1) > 1e-9 || r.OwnOffset(0) != 1 || plain.OwnOffset(0) != 0 {
			t.Errorf("%s: planned %g after %g, offset %g", filter, is, was, r.OwnOffset(0))
		}
		a, b := &plain.Legs[0], &r.Legs[0]
		if math.Abs(a.MeterStops-b.MeterStops) > 1e-9 || math.Abs(a.Clipped-b.Clipped) > 1e-9 || math.Abs(a.Buried-b.Buried) > 1e-9 {
			t.Errorf("%s: the meter at %g after %g, white %g after %g, black %g after %g", filter, b.MeterStops, a.MeterStops, b.Clipped, a.Clipped, b.Buried, a.Buried)
		}
		set, setWas := math.Log2(b.Shutter.Max*b.ISO.Max), math.Log2(a.Shutter.Max*a.ISO.Max)
		if d := setWas - set; math.Abs(d-1) > 2*setting.StepSlack+1e-9 {
			t.Errorf("%s: set %g stops darker", filter, d)
		}
		if note := "set 1 stop darker, by your own offset"; !slices.Contains(b.Notes, note) || slices.Contains(a.Notes, note) {
			t.Errorf("%s: notes %q", filter, b.Notes)
		}
		x, err := plain.FrameMeter(FrameOptions{Second: 1})
		y, err2 := r.FrameMeter(FrameOptions{Second: 1})
		if err != nil || err2 != nil || math.Abs(y.FrameEV100-x.FrameEV100-1) > 1e-9 || math.Abs(y.MeterStops-x.MeterStops) > 2*setting.StepSlack {
			t.Errorf("%s: the frame's meter %+v after %+v", filter, y, x)
		}
	}
}
