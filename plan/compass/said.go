package compass

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Words says what the ring does with the camera at a heading, and where it would do most: a sentence a
// line.
func (o *Rose) Words(headingDeg float64) []string {
	if !o.SkyOK {
		return []string{fmt.Sprintf("Leg %d has too little sky in the frame to say.", o.Leg+1)}
	}
	if !o.HasRing {
		name := "Bare"
		if o.Filter != words.Bare {
			name = o.Filter + " has no ring"
		}
		most := o.strongest()
		return []string{
			name + ": turning the aircraft changes nothing.",
			fmt.Sprintf("A polariser would find most to work on looking %s: %s between its rings.", toward(most.HeadingDeg), words.AboutStops(most.Strength)),
		}
	}
	ray := o.At(headingDeg)
	list := []string{fmt.Sprintf("Looking %s the sky is %s.", toward(headingDeg), words.EffectOnSky(ray.InUse))}
	if ray.InUse-ray.Strongest > ringWorth {
		list = append(list, fmt.Sprintf("With the mark at %s it would be %s.", kit.Clock(ray.RingDeg), words.EffectOnSky(ray.Strongest)))
	} else {
		list = append(list, "No other ring darkens it by a third of a stop more.")
	}
	inUse, best := o.best()
	if inUse.InUse < -ringWorth/2 {
		list = append(list, fmt.Sprintf("This ring bites most looking %s: %s.", toward(inUse.HeadingDeg), words.EffectOnSky(inUse.InUse)))
	} else {
		list = append(list, "This ring darkens the sky at no heading.")
	}
	if inUse.InUse-best.Strongest > ringWorth {
		list = append(list, fmt.Sprintf("Any ring bites most looking %s: %s.", toward(best.HeadingDeg), words.EffectOnSky(best.Strongest)))
	}
	return list
}

// ringWorth is the gain in stops from which another ring is spoken of (ours): what [words.AboutStops] can tell
// apart.
const ringWorth = 1.0 / 3

// strongest returns the heading at which polarisers differ most.
func (o *Rose) strongest() *plan.RoseRay {
	best := &o.Rays[0]
	for i := range o.Rays {
		if o.Rays[i].Strength > best.Strength {
			best = &o.Rays[i]
		}
	}
	return best
}

// toward writes a heading with its point of the compass.
func toward(deg float64) string {
	return fmt.Sprintf("%s, %d°", shot.Compass(deg), int(math.Round(angle.Wrap360(deg)))%360)
}

// Words says what the map shows: where the sun stands, where the sky is most polarised, and what is not
// known.
func (m *SkyMap) Words() []string {
	var list []string
	if m.Sun.AltitudeDeg > -0.8 {
		list = append(list, fmt.Sprintf("Sun %.0f° up in the %s.", max(m.Sun.AltitudeDeg, 0), shot.Compass(m.Sun.AzimuthDeg)))
	} else {
		list = append(list, "The sun is down.")
	}
	switch {
	case !m.Useful:
		return append(list, "Overcast: a polariser does nothing useful here.")
	case !m.Vouched:
		return append(list, "Twilight: nothing is claimed of this sky.")
	}
	at := m.Most.At
	where := "overhead"
	if at.AltitudeDeg < overheadDeg {
		where = fmt.Sprintf("%.0f° up in the %s", at.AltitudeDeg, shot.Compass(at.AzimuthDeg))
	}
	return append(list, fmt.Sprintf("Most polarised %s: %.0f%%.", where, 100*m.Most.Degree))
}

// overheadDeg is the altitude from which a bearing says nothing (ours).
const overheadDeg = 85
