package plan

import (
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// RoseRay is what the sky in the frame would do with the camera turned to a heading. Effects are stops
// against a density of the same loss, the mean over the sky in the frame, negative darkens.
type RoseRay struct {
	HeadingDeg float64
	InUse      float64 // effect at the ring in use
	Strongest  float64 // the darkest that the ring can make it there; never lighter than InUse
	RingDeg    float64 // where the mark stands for that, facing the lens
	Strength   float64 // stops between the weakest and the strongest ring, of any polariser
}

// turntable turns one frame about the vertical under one sky.
type turntable struct {
	study analysis
	leg   legAnalysis
	mo    shot.Moment
	sky   frame.Sky
	inUse *glass.Sheet // nil without a ring
	ring  float64
	rings []float64     // those on offer
	each  []glass.Sheet // and the filter's answer at each
}

// Turntable mounts a filter for the turn.
func (r *Report) Turntable(mo *shot.Moment, m mounting.Way) *turntable {
	leg := r.Shot.Legs[mo.Leg].WithDefaults(r.Shot.Camera)
	t := &turntable{study: analysis{s: r.Shot, shared: newShared(mo.AboveM)}, leg: legAnalysis{Leg: setting.Leg{Leg: &leg}}, mo: *mo}
	t.leg.halfW, t.leg.halfH = shot.HalfField(r.Shot.Camera, leg.Mode, leg.Purpose != shot.Video)
	pattern := r.PatternAt(mo)
	t.sky = &pattern
	if !m.Polarises() {
		return t
	}
	sheet := glass.SheetOf(m)
	t.inUse, t.ring, t.rings = &sheet, m.Ring, mounting.Rings(m.Filter)
	for _, deg := range t.rings {
		at := m
		at.Ring = deg
		t.each = append(t.each, glass.SheetOf(at))
	}
	return t
}

// Turn fills a ray from its heading and tells whether the frame holds enough sky.
func (t *turntable) Turn(ray *RoseRay) bool {
	y := &t.study
	t.mo.HeadingDeg = ray.HeadingDeg
	v := y.view(&t.leg, &t.mo)
	g := glass.Grid(t.leg.halfW, t.leg.halfH, frame.ThinningFor(frame.SkyRows(v), frame.EnoughSky))
	var f frame.Frame
	f.Fill(g, v, t.sky)
	if !f.Enough() {
		return false
	}
	ray.Strength = f.Strength(y.scratch())
	if t.inUse == nil {
		return true
	}
	effect := func(of *glass.Sheet) float64 {
		e, _ := f.Effect(of.Answers(g, false, 0, f.SkySamples), y.scratch())
		return e
	}
	ray.InUse = effect(t.inUse)
	ray.Strongest, ray.RingDeg = ray.InUse, t.ring
	for i := range t.each {
		if e := effect(&t.each[i]); e < ray.Strongest {
			ray.Strongest, ray.RingDeg = e, t.rings[i]
		}
	}
	return true
}
