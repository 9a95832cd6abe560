package shot

import (
	"math"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// What a move begins with where its leg says nothing of it (all ours: a calm flight at a height that is
// commonly allowed).
const (
	usualSpeedMS = 4
	usualTargetM = 60
	usualPanDeg  = 45
	usualTiltDeg = 30
	usualRiseM   = 20
	usualTopM    = 120 // a rise ends below, where its leg stands below
	orbitStepDeg = 15
	mostOrbitDeg = 165 // less than half a turn: the shorter way is clear
	calmOrbitMS  = 15  // of an orbit that would be faster than is flown
	leastTargetM = 1   // nothing nearer can be gone round
	usualSlide   = "right"
	leastUnderM  = 10 // a rise does not begin nearer to the ground
)

// fillForMove writes into a leg what its new move cannot do without and the leg does not have: so that
// choosing a move always gives one that can be flown, and the author changes figures instead of finding
// out which are missing.
func (e *edit) fillForMove(leg int, to Move) {
	b := (&Card{Doc: e.doc}).laid()
	if leg >= len(b.shot.Legs) {
		return
	}
	l := &b.shot.Legs[leg]
	if to.uses("speed_ms") == needed && e.at(leg, "speed_ms").Float(0) <= 0 {
		e.give(leg, "speed_ms", field.Figure(e.speedBefore(leg), 2))
	}
	if to.uses("to") == needed && !e.at(leg, "to").Exists() {
		e.give(leg, "to", usualSlide)
	}
	if to.uses("target") == needed {
		if e.at(leg, "target").Get("distance_m").Float(0) < leastTargetM {
			e.give(leg, "target.distance_m", field.Figure(usualTargetM, 0))
		}
		if to == Follow && e.at(leg, "target").Get("speed_ms").Float(0) <= 0 {
			e.give(leg, "target.speed_ms", field.Figure(usualSpeedMS, 0))
			if !e.at(leg, "target").Get("toward_deg").Exists() {
				e.give(leg, "target.toward_deg", field.Figure(angle.Wrap360(math.Round(l.Heading.From)), 0))
			}
		}
	}
	if to.uses("heading_deg") == changing && !e.turns(leg) {
		e.turnBy(leg, e.usualTurn(leg, to, l.Seconds))
	}
	if to.uses("height_m") == changing && l.Height[0] == l.Height[1] {
		from, top := l.Height[0], l.Height[0]+usualRiseM
		if top > usualTopM && from <= usualTopM && from-usualRiseM-l.GroundM[0] >= leastUnderM {
			from, top = from-usualRiseM, from
		}
		e.give(leg, "height_m", field.Figure(from, 3)+" "+field.Figure(top, 3))
	}
	if from, end := e.at(leg, "pitch_deg").Pair(0); to.uses("pitch_deg") == changing && from == end {
		if end -= usualTiltDeg; end < -90 {
			from, end = from+usualTiltDeg, from
		}
		e.give(leg, "pitch_deg", field.Figure(from, 3)+" "+field.Figure(end, 3))
	}
	if to == Orbit {
		e.slowDown(leg)
	}
}

// dropFilled takes out again what choosing the old move has written and nobody has changed since: who looks
// through the moves one by one is not left with a subject or a climb of a move in between.
func (e *edit) dropFilled(leg int, from, to Move) {
	if l := e.from.laidLeg(leg); from == Follow && l != nil {
		t := e.at(leg, "target")
		toward := field.Figure(angle.Wrap360(math.Round(l.Heading.From)), 0)
		if t.Get("speed_ms").Float(0) == usualSpeedMS && t.Get("toward_deg").Text() == toward {
			e.clear(leg, "target.speed_ms")
			e.clear(leg, "target.toward_deg")
		}
	}
	if t := e.at(leg, "target"); from.uses("target") == needed && to.uses("target") != needed &&
		t.Get("distance_m").Float(0) == usualTargetM && !t.Get("speed_ms").Exists() && !t.Get("height_m").Exists() {
		e.clear(leg, "target")
	}
	start := func(key string) string { from, _ := e.at(leg, key).Texts(); return from }
	if heading := e.at(leg, "heading_deg"); from.uses("heading_deg") == changing && heading.IsPair() && !e.at(leg, "turn").Exists() {
		was, is := heading.Texts()
		if usual, err := nudgeHeading(was, e.usualTurn(leg, from, e.at(leg, "seconds").Float(0))); err == nil && usual == is {
			e.give(leg, "heading_deg", was)
		}
	}
	if was, is := e.at(leg, "height_m").Pair(0); from.uses("height_m") == changing && is-was == usualRiseM {
		e.give(leg, "height_m", start("height_m"))
	}
	if was, is := e.at(leg, "pitch_deg").Pair(0); from.uses("pitch_deg") == changing && was-is == usualTiltDeg {
		if was == 0 {
			e.clear(leg, "pitch_deg")
		} else {
			e.give(leg, "pitch_deg", start("pitch_deg"))
		}
	}
}

// give writes a field of a leg where the table takes it.
func (e *edit) give(leg int, key, text string) {
	if e.faults != nil {
		return
	}
	if d, faults := e.doc.Set(LegPath(leg, key), text); d != nil && len(faults) == 0 {
		e.doc = d
	}
}

// speedBefore returns the speed that a leg was flown with before the edit, where it had one of its own.
func (e *edit) speedBefore(leg int) float64 {
	was := e.from.Doc.At(LegPath(leg, ""))
	for _, v := range []field.Value{was.Get("speed_ms"), was.Get("target").Get("speed_ms")} {
		if speed := v.Float(0); speed > 0 {
			return min(speed, maxSpeedMS)
		}
	}
	return usualSpeedMS
}

// turns tells whether a leg's heading leads somewhere else.
func (e *edit) turns(leg int) bool {
	if e.at(leg, "turns").Float(0) > 0 {
		return true
	}
	from, to := e.at(leg, "heading_deg").Texts()
	return from != to || e.at(leg, "heading_deg").IsPair() && e.at(leg, "turn").Exists()
}

// turnBy makes a pair of a leg's heading, in the form that it is written in.
func (e *edit) turnBy(leg int, deg float64) {
	from, _ := e.at(leg, "heading_deg").Texts()
	if to, err := nudgeHeading(from, deg); err == nil {
		e.give(leg, "heading_deg", from+" "+to)
	}
}

// usualTurn is how far a move turns by itself: an orbit as far as a calm flight comes in its time.
func (e *edit) usualTurn(leg int, to Move, seconds float64) float64 {
	if to != Orbit {
		return usualPanDeg
	}
	away := max(e.at(leg, "target").Get("distance_m").Float(usualTargetM), leastTargetM)
	deg := usualSpeedMS * seconds / away * 180 / math.Pi
	return min(max(math.Round(deg/orbitStepDeg), 1)*orbitStepDeg, mostOrbitDeg)
}

// slowDown gives an orbit the time for a way that would be too fast for any drone.
func (e *edit) slowDown(leg int) {
	b := (&Card{Doc: e.doc}).laid()
	l := &b.shot.Legs[leg]
	if l.Target == nil || l.SpeedMS <= maxSpeedMS {
		return
	}
	if seconds := math.Ceil(l.SpeedMS * l.Seconds / calmOrbitMS); seconds <= maxLegS {
		e.give(leg, "seconds", field.Figure(seconds, 0))
	} else {
		e.give(leg, "seconds", field.Figure(maxLegS, 0))
	}
}
