package plan

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// FrameMeter is what a meter reads of the frame at one second of the flight, and what the call's exposure makes of it.
type FrameMeter struct {
	LandEV100       float64 // the incident reading, upright, in bare light
	FrameEV100      float64 // what the frame asks for, through the filter
	MeterStops      float64 // what the camera's own meter shows as the call sets it, stops over
	Clipped, Buried float64 // share of the frame that is white then, and black, but for the sun
}

// FrameMeter reads the frame of the options; their size does not count. Another filter than the call's is exposed for
// the same plain light.
func (r *Report) FrameMeter(o FrameOptions) (FrameMeter, error) {
	mt, err := r.mountFor(o)
	if err != nil {
		return FrameMeter{}, err
	}
	m, take := r.MomentAt(o.Second), o.take()
	y := newAnalysis(r.Shot, []shot.Moment{m}, everyMoment, newShared(m.AboveM))
	l := y.legs[m.Leg]
	take = min(take, y.takes()-1)
	meter := y.meterOf(l, mt)
	asks := meter.ev(0, take)
	f := FrameMeter{LandEV100: l.lightEV[0][take].land, FrameEV100: asks - mt.Loss()}
	set, ok := r.plainEV(m.Leg)
	if !ok {
		set = asks - setting.Compensation(l.Leg.Leg) - r.OwnOffset(m.Leg)
	}
	behind := glass.BehindOf(mt)
	for i := range l.read {
		if st := &l.read[i]; st.take == take {
			tones := y.tonesFor(1)[0]
			behind.Fill(tones, &st.Frame, st.lit)
			p := tones.Place(set, setting.HighlightStops(y.s.Camera, l.Leg.Leg))
			f.MeterStops, f.Clipped, f.Buried = p.Meter, p.Clipped, p.Buried
		}
	}
	return f, nil
}

// settingsEV returns the luminance that a leg's shutter, ISO and aperture make middle grey, as an exposure value at ISO
// 100 behind the call's filter.
func (r *Report) settingsEV(leg int) (ev float64, ok bool) {
	if leg >= len(r.Legs) {
		return 0, false
	}
	l, n := &r.Legs[leg], r.callFor(leg).Aperture
	if !(l.Shutter.Min > 0 && l.ISO.Min > 0 && n > 0) {
		return 0, false
	}
	return math.Log2(n*n/l.Shutter.Min) + math.Log2(100/l.ISO.Min), true
}

// PlannedEV100 returns what the plan exposes a leg for: the exposure value at ISO 100, through the filter and with the
// wanted over-exposure in it, before shutter and ISO are brought to marks. ok is false of a leg that is not flown.
func (r *Report) PlannedEV100(leg int) (ev float64, ok bool) {
	if leg < 0 || leg >= len(r.Legs) || !r.Legs[leg].FrameEV.OK {
		return 0, false
	}
	l := r.Shot.Legs[leg].WithDefaults(r.Shot.Camera)
	return setting.LockedAt(r.Legs[leg].FrameEV.Min, r.Legs[leg].FrameEV.Max) - setting.Compensation(&l), true
}

// plainEV returns what settingsEV does, in front of the filter, in plain light.
func (r *Report) plainEV(leg int) (ev float64, ok bool) {
	ev, ok = r.settingsEV(leg)
	return ev + r.callStops(leg) - r.OwnOffset(leg), ok
}

// OwnOffset returns the owner's own offset, of camera and filter together, that a leg is planned with: by how much more
// light there is, after what was learned from flights, than the model says. The picture stays what it is: it is set
// darker because it would come out brighter.
func (r *Report) OwnOffset(leg int) float64 {
	own := r.Shot.Camera.OffsetStops
	if f, ok := r.Bag.FilterByName(r.callFor(leg).Filter); ok {
		own += f.OffsetStops
	}
	return own
}

// ownOffsetNote says that one is used; "" where there is none.
func (r *Report) ownOffsetNote(leg int) string {
	switch own := r.OwnOffset(leg); {
	case own >= 1./6:
		return "set " + exposure.FormatStops(own) + " darker, by your own offset"
	case own <= -1./6:
		return "set " + exposure.FormatStops(-own) + " brighter, by your own offset"
	}
	return ""
}

// callStops returns what the call's filter takes from plain light on the flight of a leg.
func (r *Report) callStops(leg int) float64 {
	set := r.callFor(leg)
	if f, ok := r.Bag.FilterByName(set.Filter); ok {
		return f.TotalStops(set.SettingStops)
	}
	return 0
}
