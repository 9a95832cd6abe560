package compass

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
)

// Rose is the effect against heading, at one moment of the flight and for the pitch and the height
// above the ground that the leg has there.
type Rose struct {
	Leg      int
	PitchDeg float64
	Sun      sun.Position
	Filter   string         // of the leg's flight; "none" for bare
	HasRing  bool           // it acts on polarised light; without, effects are nought
	SkyOK    bool           // enough sky in the frame to say anything; else Rays hold noughts
	Rays     []plan.RoseRay // clockwise from north, StepDeg apart
	StepDeg  float64
}

// RoseAt turns the camera of a second of the flight (counted as [Shot.MomentAt] counts) through all
// headings, stepDeg apart (1 to 90; others count as the nearest, and the step is made to divide the
// circle), at the sun of the first take. The report must have legs.
func RoseAt(r *plan.Report, second, stepDeg float64) *Rose {
	n := int(math.Round(360 / min(max(stepDeg, 1), 90)))
	mo := r.MomentAt(second)
	m := r.MountedOn(mo.Leg)
	rose := &Rose{
		Leg: mo.Leg, PitchDeg: mo.PitchDeg, Sun: mo.Sun[0], Filter: m.Name(), HasRing: m.Polarises(),
		Rays: make([]plan.RoseRay, n), StepDeg: 360 / float64(n),
	}
	t := r.Turntable(&mo, m)
	for i := range rose.Rays {
		ray := &rose.Rays[i]
		ray.HeadingDeg = float64(i) * rose.StepDeg
		rose.SkyOK = t.Turn(ray)
	}
	return rose
}

// best returns the heading that the ring in use darkens most, and the one that any ring does.
func (o *Rose) best() (inUse, strongest *plan.RoseRay) {
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

// At returns the ray nearest to a heading.
func (o *Rose) At(headingDeg float64) *plan.RoseRay {
	return &o.Rays[int(math.Round(angle.Wrap360(headingDeg)/o.StepDeg))%len(o.Rays)]
}
