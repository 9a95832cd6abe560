package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
)

// FrameOptions say which frame is drawn, through which filter.
type FrameOptions struct {
	Second   float64 // of flight time: one take a leg, no transit
	LastTake bool    // the light of the last take instead of the first
	Filter   string  // a name of the bag, "none", or "" for the call's
	Setting  float64 // stops of a variable; 0 takes the call's or its lightest
	Ring     float64 // where the mark stands, facing the lens; NaN takes the call's or 0
	W, H     int     // any size samples the same field
}

// Frame draws the frame through the lens at one second of the flight. It gives nil when the filter
// is not in the bag.
func (r *Report) Frame(o FrameOptions) (*Picture, error) {
	if o.W < 1 || o.H < 1 || o.W > 8192 || o.H > 8192 {
		return nil, fmt.Errorf("a picture of %d by %d is not drawn: each side goes from 1 to 8192", o.W, o.H)
	}
	mount, err := r.mountFor(o)
	if err != nil {
		return nil, err
	}
	m := r.Shot.MomentAt(o.Second)
	leg := r.Shot.Legs[m.Leg]
	take := 0
	if o.LastTake {
		take = 1
	}
	sc := r.Shot.Scene(m, take)
	v := NewView(r.Shot.Camera, leg.Mode, leg.Purpose != Video, m.HeadingDeg, m.PitchDeg)
	return sc.draw(v, mount, o.W, o.H), nil
}

// mountFor puts a filter before the lens: the one named, or the call's. Bare gives nil.
func (r *Report) mountFor(o FrameOptions) (*kit.Mount, error) {
	name, setting, ring := o.Filter, o.Setting, o.Ring
	if name == "" || name == r.Call.Filter {
		name = r.Call.Filter
		if setting == 0 {
			setting = r.Call.SettingStops
		}
		if math.IsNaN(ring) {
			ring = r.Call.RingDeg
		}
	}
	if name == "none" || name == "" {
		return nil, nil
	}
	f, ok := r.Bag.FilterByName(name)
	if !ok {
		return nil, fmt.Errorf("there is no filter %q in the bag", name)
	}
	if math.IsNaN(ring) {
		ring = 0
	}
	if setting == 0 {
		setting = f.Settings()[0]
	}
	mount := f.Mount(ring, setting)
	return &mount, nil
}
