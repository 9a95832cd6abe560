package shot

import (
	"example.org/skywedge/kit/field"
)

// atSubject stands for a pitch that the camera finds by itself.
const atSubject = "at the subject"

// Derived returns what other fields make of a leg's field that is not written: the speed of an orbit, the
// height at which the leg before ended. It is "" where something is written, where nothing follows, and while
// what it follows from is wrong.
func (c *Card) Derived(path string) string {
	leg, key, ok := legKey(path)
	if !ok || c.Doc.At(path).Exists() {
		return ""
	}
	l := c.laidLeg(leg)
	if l == nil {
		return ""
	}
	moves := func(what float64, yes bool) string {
		if !yes || what == 0 {
			return ""
		}
		return field.Figure(what, 1)
	}
	switch key {
	case "speed_ms":
		if l.Move == Rise {
			return moves(max(l.Climb, -l.Climb), true)
		}
		return moves(l.SpeedMS, l.Move.uses(key) == derived)
	case "course_deg":
		goes := l.Move == Push || l.Move == Pull || l.Move == Slide || l.Move == Follow
		if goes && l.SpeedMS > 0 {
			return field.Figure(l.CourseDeg, 0)
		}
	case "turn":
		switch by := l.Heading.By; {
		case !turnsIn(c.Doc, leg) || by == 0:
		case by > 0:
			return "cw"
		default:
			return "ccw"
		}
	case "height_m":
		if l.Height[0] == l.Height[1] {
			return field.Figure(l.Height[0], 3)
		}
	case "pitch_deg":
		if l.PitchAuto {
			return atSubject
		}
	}
	return ""
}

// laidLeg returns a leg worked out as far as the card alone allows, nil where it is not sound. A card cannot
// change, so all of them are worked out once.
func (c *Card) laidLeg(leg int) *Leg {
	c.laidOnce.Do(func() {
		b := c.laid()
		c.laidLegs = make([]*Leg, len(b.shot.Legs))
		for i := range b.shot.Legs {
			if v := c.Doc.At(LegPath(i, "")); !b.unsound(v) {
				c.laidLegs[i] = &b.shot.Legs[i]
			}
		}
	})
	if leg < 0 || leg >= len(c.laidLegs) {
		return nil
	}
	return c.laidLegs[leg]
}

// Shows tells whether a leg's form has a field even when it is folded: what its move needs or derives, and
// what is written on it. means is false for a field that would be refused, and fixed is true for one that
// other fields say, so that nothing is to be typed there.
func (c *Card) Shows(path string) (folded, means, fixed bool) {
	leg, key, ok := legKey(path)
	if !ok {
		return true, true, false
	}
	if c.Doc.At(path).Exists() {
		return true, true, false
	}
	m := Move(c.Doc.At(LegPath(leg, "move")).Text())
	switch key {
	case "target.distance_m", "target.speed_ms":
		return m.uses("target") == needed, true, false
	case "target.toward_deg":
		moves := c.Doc.At(LegPath(leg, "target.speed_ms")).Float(0) > 0
		return m.uses("target") == needed && moves, true, false
	case "turn":
		means = turnsIn(c.Doc, leg)
		return m == Orbit && means, means && m.uses(key) != never, false
	}
	switch m.uses(key) {
	case never:
		return false, false, false
	case derived:
		return key == "speed_ms", true, true
	case drifting: // beside a course alone
		drifts := c.Doc.At(LegPath(leg, "course_deg")).Exists()
		return drifts || m == Rise, drifts || m == Rise, !drifts
	case needed, changing:
		return true, true, false
	}
	row := c.Doc.SpecAt(path)
	return row != nil && !row.More, true, false
}
