package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"

	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/words"
)

// FrameOptions say which frame is drawn, through which filter.
type FrameOptions struct {
	Second   float64 // of flight time: one take a leg, no transit
	LastTake bool    // the light of the last take instead of the first
	Filter   string  // a name of the bag, "none", or "" for what the call puts on that leg's flight
	Setting  float64 // stops of a variable; 0 takes the call's or its lightest
	Ring     float64 // where the mark stands, facing the lens; NaN takes the call's or 0
	W, H     int     // any size samples the same field

	Scenes *light.Scenes // where the light is kept for the next frame; nil: nowhere
	Stop   func() bool   // nobody waits for the frame any more, and what is drawn of it is of no use; nil: never
}

func (o *FrameOptions) take() int {
	if o.LastTake {
		return 1
	}
	return 0
}

// Frame draws the frame through the lens at one second of the flight. It fails for a size that cannot
// be drawn and for a filter that is not in the bag.
func (r *Report) Frame(o FrameOptions) (*picture.Picture, error) {
	if o.W < 1 || o.H < 1 || o.W > 8192 || o.H > 8192 {
		return nil, fmt.Errorf("a picture of %d by %d is not drawn: each side goes from 1 to 8192", o.W, o.H)
	}
	mt, err := r.mountFor(o)
	if err != nil {
		return nil, err
	}
	m := r.MomentAt(o.Second)
	leg := r.Shot.Legs[m.Leg]
	sc := o.Scenes.At(r.Shot, m, o.take())
	v := shot.NewView(r.Shot.Camera, leg.Mode, leg.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
	var mount *kit.Mount
	if mt.Filter != nil {
		f := mt.Filter.Mount(mt.Ring, mt.Setting)
		mount = &f
	}
	p := picture.DrawUnless(o.Stop, sc, v, mount, o.W, o.H)
	p.Places = picture.PlacesOf(r.Shot, &m, v, sc)
	return p, nil
}

// callFor returns what is set on the flight of a leg.
func (r *Report) callFor(leg int) *Call {
	if f := r.FlightOf(leg); f != nil {
		return &f.Set
	}
	return &r.Call
}

// mountFor puts a filter before the lens: the one named, or the call's. Bare has none.
func (r *Report) mountFor(o FrameOptions) (mounting.Way, error) {
	m := r.MountedOn(r.Shot.MomentAt(o.Second).Leg)
	if o.Filter != "" && o.Filter != m.Name() {
		m = mounting.Way{}
		if o.Filter != words.Bare {
			f, ok := r.Bag.FilterByName(o.Filter)
			if !ok {
				return m, fmt.Errorf("there is no filter %q in the bag", o.Filter)
			}
			m = mounting.Way{Filter: &f, Setting: f.Settings()[0]}
		}
	}
	if m.Filter == nil {
		return m, nil
	}
	if o.Setting != 0 {
		m.Setting = o.Setting
	}
	if !math.IsNaN(o.Ring) {
		m.Ring = o.Ring
	}
	return m, nil
}

// PatternAt returns the sky of a moment on the first take, as the measures see it.
func (r *Report) PatternAt(mo *shot.Moment) sun.Pattern {
	p := mo.Sun[0]
	return sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, light.AirAt(r.Shot, max(0, mo.AboveM), r.Shot.Legs[mo.Leg].Ground), light.MeasureNM)
}

// MomentAt returns the moment at a second of the flight as the report has it: legs after a landing are
// flown later than the card alone says.
func (r *Report) MomentAt(second float64) shot.Moment {
	m := r.Shot.MomentAt(second)
	for i := range r.Path {
		if r.Path[i].Leg == m.Leg {
			return m.Later(r.Shot, r.Path[i].Time[0].Sub(r.Shot.Times().Legs[m.Leg].First))
		}
	}
	return m
}

// MountedOn returns the filter that a leg is flown with, as it is mounted.
func (r *Report) MountedOn(leg int) mounting.Way {
	set := r.callFor(leg)
	f, ok := r.Bag.FilterByName(set.Filter)
	if !ok {
		return mounting.Way{}
	}
	return mounting.Way{Filter: &f, Setting: set.SettingStops, Ring: set.RingDeg}
}
