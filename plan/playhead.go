package plan

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

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
func (r *Report) MountedOn(leg int) mounted {
	set := r.callFor(leg)
	f, ok := r.Bag.FilterByName(set.Filter)
	if !ok {
		return mounted{}
	}
	return mounted{filter: &f, setting: set.SettingStops, ring: set.RingDeg}
}

// Centre returns what a mounted filter does in the middle of the frame; nothing without a ring.
func (m mounted) Centre() kit.Answer {
	if !m.Polarises() {
		return kit.Answer{T: 1}
	}
	mount := m.filter.Mount(m.ring, m.setting)
	return mount.Answer(r3.Vec{Z: 1})
}
