package plan

import (
	"math"

	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// RoseRay is what the sky in the frame would do with the camera turned to a heading. Effects are stops
// against a density of the same loss, the mean over the sky in the frame, negative darkens.
type RoseRay struct {
	HeadingDeg float64
	InUse      float64 // Effect at the ring in use
	Strongest  float64 // the darkest that the ring can make it there; never lighter than InUse
	RingDeg    float64 // where the mark stands for that, facing the lens
	Strength   float64 // stops between the weakest and the strongest ring, of any polariser
}

// Rose is the effect against heading, at one moment of the flight and for the pitch and the height
// above the ground that the leg has there.
type Rose struct {
	Leg      int
	PitchDeg float64
	Sun      sun.Position
	Filter   string    // of the leg's flight; "none" for bare
	HasRing  bool      // it acts on polarised light; without, effects are nought
	SkyOK    bool      // Enough sky in the frame to say anything; else Rays hold noughts
	Rays     []RoseRay // clockwise from north, StepDeg apart
	StepDeg  float64
}

// Rose turns the camera of a second of the flight (counted as [Shot.MomentAt] counts) through all
// headings, stepDeg apart (1 to 90; others count as the nearest, and the step is made to divide the
// circle), at the sun of the first take. The report must have legs.
func (r *Report) Rose(second, stepDeg float64) *Rose {
	n := int(math.Round(360 / min(max(stepDeg, 1), 90)))
	mo := r.momentAt(second)
	m := r.mountedOn(mo.Leg)
	rose := &Rose{
		Leg: mo.Leg, PitchDeg: mo.PitchDeg, Sun: mo.Sun[0], Filter: m.name(), HasRing: m.polarises(),
		Rays: make([]RoseRay, n), StepDeg: 360 / float64(n),
	}
	t := r.turntable(&mo, m)
	for i := range rose.Rays {
		ray := &rose.Rays[i]
		ray.HeadingDeg = float64(i) * rose.StepDeg
		rose.SkyOK = t.turn(ray)
	}
	return rose
}

// turntable turns one frame about the vertical under one sky.
type turntable struct {
	study study
	leg   legStudy
	mo    shot.Moment
	sky   frame.Sky
	inUse sheeter // nil without a ring
	ring  float64
	rings []float64 // those on offer
	each  []sheeter // and the filter's answer at each
}

// turntable mounts a filter for the turn.
func (r *Report) turntable(mo *shot.Moment, m mounted) *turntable {
	leg := sound(r.Shot.Legs[mo.Leg], r.Shot.Camera)
	t := &turntable{study: study{s: r.Shot, lenses: newLenses()}, leg: legStudy{Leg: &leg}, mo: *mo}
	t.leg.halfW, t.leg.halfH = shot.HalfField(r.Shot.Camera, leg.Mode, leg.Purpose != shot.Video)
	pattern := r.patternAt(mo)
	t.sky = &pattern
	if !m.polarises() {
		return t
	}
	t.inUse, t.ring, t.rings = t.study.sheetsOf(m), m.ring, rings(m.filter)
	for _, deg := range t.rings {
		at := m
		at.ring = deg
		t.each = append(t.each, t.study.sheetsOf(at))
	}
	return t
}

// turn fills a ray from its heading and tells whether the frame holds enough sky.
func (t *turntable) turn(ray *RoseRay) bool {
	y := &t.study
	t.mo.HeadingDeg = ray.HeadingDeg
	v := y.view(&t.leg, &t.mo)
	g := y.grid(&t.leg, frame.ThinningFor(frame.SkyRows(v), frame.EnoughSky))
	var f frame.Frame
	f.Fill(g, v, t.sky)
	if !f.Enough() {
		return false
	}
	ray.Strength = f.Strength(y.scratch())
	if t.inUse == nil {
		return true
	}
	effect := func(of sheeter) float64 {
		e, _ := f.Effect(of(g, false, 0, f.SkySamples), y.scratch())
		return e
	}
	ray.InUse = effect(t.inUse)
	ray.Strongest, ray.RingDeg = ray.InUse, t.ring
	for i, of := range t.each {
		if e := effect(of); e < ray.Strongest {
			ray.Strongest, ray.RingDeg = e, t.rings[i]
		}
	}
	return true
}

// Best gives the heading that the ring in use darkens most, and the one that any ring does.
func (o *Rose) Best() (inUse, strongest *RoseRay) {
	for i := range o.Rays {
		ray := &o.Rays[i]
		if inUse == nil || ray.InUse < inUse.InUse {
			inUse = ray
		}
		if strongest == nil || ray.Strongest < strongest.Strongest {
			strongest = ray
		}
	}
	return inUse, strongest
}

// At gives the ray nearest to a heading.
func (o *Rose) At(headingDeg float64) *RoseRay {
	return &o.Rays[int(math.Round(angle.Wrap360(headingDeg)/o.StepDeg))%len(o.Rays)]
}
