package shot

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// draft is a leg as it was written, before anything is derived from it. Pointers are nil for what
// was not written.
type draft struct {
	leg      Leg // the plain fields: move, seconds, height, ground, target …
	heading  [2]writtenHeading
	rule     turnRule
	to       string   // of a slide
	speedMS  *float64 // over the ground
	course   *float64
	pitchSet bool
}

// problem is something about a leg that does not fit together, at one key of it.
type problem struct{ key, found, allowed string }

// How far two numbers for the same thing may lie apart before they contradict each other (ours:
// what rounding by hand leaves).
const (
	speedSlackMS    = 0.1
	speedSlackShare = 0.03
	courseSlackDeg  = 1.5
)

// maxSpeedMS is the fastest flight that is taken for meant (ours).
const maxSpeedMS = 60

// derive works a leg out: the turn of its heading, its speed, climb and course. azDeg is the sun's
// azimuth at the leg's start and end (of its first take), which a heading relative to the sun
// counts from. All problems are reported.
func (d draft) derive(azDeg [2]float64) (Leg, []problem) {
	l := d.leg
	var ps []problem
	say := func(key, allowed, found string, args ...any) {
		ps = append(ps, problem{key, fmt.Sprintf(found, args...), allowed})
	}
	d.turn(&l, azDeg, say)
	l.Climb = (l.Height[1] - l.Height[0]) / l.Seconds
	switch l.Move {
	case Push, Pull, Slide: // what else a move takes stands in moveFields
		d.straight(&l, say)
	case Follow:
		d.follow(&l, say)
	case Orbit:
		d.orbit(&l, say)
	default:
		d.still(&l, say)
	}
	if d.to != "" && l.Move.uses("to") == never {
		say("to", "this key only where the move is slide", "%s on a %s", d.to, l.Move)
	}
	if !d.pitchSet {
		l.PitchAuto = l.Target != nil
	}
	for i, end := range []string{"start", "end"} {
		if above := l.Height[i] - l.GroundM[i]; above < 0 {
			say("height_m", "a height above the ground, or the ground's own height in ground_m",
				"%s m at the %s, %s m below the ground there (%s m)", field.Figure(l.Height[i], 3), end, field.Figure(-above, 3), field.Figure(l.GroundM[i], 3))
			break
		}
	}
	return l, ps
}

// sayer notes a problem.
type sayer func(key, allowed, found string, args ...any)

// turn resolves the headings and the turn between them.
func (d draft) turn(l *Leg, azDeg [2]float64, say sayer) {
	h := d.heading
	l.HeadingSun = [2]bool{h[0].Sun, h[1].Sun}
	if d.rule.way != "" && !d.rule.pair && d.rule.turns == 0 {
		say("turn", "this key only beside a heading pair or turns", "%s with one heading", d.rule.way)
	}
	if h[0].Sun && h[1].Sun {
		// In the frame of the sun the turn is what was written; over the ground the sun's own
		// motion is added.
		by, found, allowed := sweepBy(h[0].Deg, h[1].Deg, d.rule)
		if found != "" {
			say("heading_deg", allowed, "%s", found)
		}
		l.HeadingOff = [2]float64{h[0].Deg, h[0].Deg + by}
		l.Heading = Sweep{From: angle.Wrap360(azDeg[0] + h[0].Deg), By: by + angle.Wrap180(azDeg[1]-azDeg[0])}
		return
	}
	var at [2]float64
	for i := range h {
		at[i] = h[i].Deg
		if h[i].Sun {
			at[i] = angle.Wrap360(azDeg[i] + h[i].Deg)
		}
	}
	by, found, allowed := sweepBy(at[0], at[1], d.rule)
	if found != "" {
		key := "heading_deg"
		if d.rule.turns > 0 {
			key = "turns"
		}
		say(key, allowed, "%s", found)
	}
	l.Heading = Sweep{From: angle.Wrap360(at[0]), By: by}
}

// wayDeg is the course of a push, pull or slide, clockwise from the heading.
func (l *Leg) wayDeg() float64 {
	switch {
	case l.Move == Pull:
		return 180
	case l.Move == Slide && l.SlideLeft:
		return -90
	case l.Move == Slide:
		return 90
	}
	return 0
}

// straight derives a push, pull or slide. A written course wins, but not where it leads the other
// way: a push that backs away is a pull.
func (d draft) straight(l *Leg, say sayer) {
	if l.Move.uses("to") == needed {
		if d.to == "" {
			say("to", "left or right, seen from behind the camera", "nothing")
		}
		l.SlideLeft = d.to == "left"
	}
	if d.speedMS == nil || *d.speedMS <= 0 {
		say("speed_ms", fmt.Sprintf("a speed above 0, which a %s needs", l.Move), "%s", written(d.speedMS))
	} else {
		l.SpeedMS = *d.speedMS
	}
	l.CourseDeg = angle.Wrap360(l.Heading.From + l.wayDeg())
	if d.course == nil {
		return
	}
	if off := math.Abs(angle.Wrap180(*d.course - l.CourseDeg)); off > 90 {
		say("course_deg", fmt.Sprintf("a course within 90° of %s°, where a %s goes, or another move", field.Figure(l.CourseDeg, 3), l.Move),
			"%s, which is %s° off the way of a %s", field.Figure(*d.course, 3), field.Figure(off, 3), l.Move)
	}
	l.CourseDeg, l.CourseSet = *d.course, true
}

// follow takes the subject's speed and course.
func (d draft) follow(l *Leg, say sayer) {
	switch {
	case l.Target == nil:
		say("target", "a target with distance_m, speed_ms and toward_deg, which a follow needs", "no subject that moves")
		return
	case l.Target.SpeedMS <= 0:
		say("target.speed_ms", "the speed of the subject, above 0, which a follow needs", "a subject that does not move")
		return
	}
	l.SpeedMS, l.CourseDeg, l.CourseSet = l.Target.SpeedMS, l.Target.TowardDeg, true
	if d.speedMS != nil {
		sameSpeed("speed_ms", *d.speedMS, l.Target.SpeedMS, "the subject's speed", say)
	}
	if d.course != nil {
		if off := math.Abs(angle.Wrap180(*d.course - l.CourseDeg)); off > courseSlackDeg {
			say("course_deg", fmt.Sprintf("the subject's course (%s°), or leave it out", field.Figure(l.CourseDeg, 3)),
				"%s, which is %s° off the subject's course", field.Figure(*d.course, 3), field.Figure(off, 3))
		}
	}
}

// orbit derives the speed round the target from its distance, the turn and the time.
func (d draft) orbit(l *Leg, say sayer) {
	if d.course != nil && l.Move.uses("course_deg") == never {
		say("course_deg", "no course on an orbit: the circle gives it", "%s", field.Figure(*d.course, 3))
	}
	if l.Target == nil || l.Target.DistanceM < leastTargetM {
		key := "target"
		if l.Target != nil {
			key = "target.distance_m"
		}
		say(key, "a target with a distance_m of 1 or more, which an orbit goes round", "nothing to go round")
		return
	}
	if l.Heading.By == 0 {
		say("heading_deg", "two headings, from and to, or turns: 1 for a whole circle", "a heading that does not turn")
		return
	}
	l.SpeedMS = l.Target.DistanceM * math.Abs(l.Heading.By) * math.Pi / 180 / l.Seconds
	l.CourseDeg = angle.Wrap360(l.Heading.From - math.Copysign(90, l.Heading.By))
	if l.SpeedMS > maxSpeedMS {
		say("seconds", fmt.Sprintf("at least %s s, which is %d m/s", field.Figure(math.Ceil(l.Seconds*l.SpeedMS/maxSpeedMS), 3), maxSpeedMS),
			"%s s, in which %s° round %s m takes %s m/s", field.Figure(l.Seconds, 3), field.Figure(math.Abs(l.Heading.By), 3), field.Figure(l.Target.DistanceM, 3), field.Figure(math.Round(l.SpeedMS), 3))
	}
	if d.speedMS != nil {
		sameSpeed("speed_ms", *d.speedMS, l.SpeedMS,
			fmt.Sprintf("what %s° round %s m in %s s gives", field.Figure(math.Abs(l.Heading.By), 3), field.Figure(l.Target.DistanceM, 3), field.Figure(l.Seconds, 3)), say)
	}
}

// still derives the moves that stay over one place, unless a course says otherwise.
func (d draft) still(l *Leg, say sayer) {
	if d.course != nil {
		if d.speedMS == nil {
			say("speed_ms", "the speed that goes with course_deg", "nothing")
		} else {
			l.SpeedMS = *d.speedMS
		}
		l.CourseDeg, l.CourseSet = *d.course, true
	}
	d.ends(l, say)
	switch {
	case d.course != nil || d.speedMS == nil:
	case l.Move == Rise:
		if l.Height[0] != l.Height[1] {
			sameSpeed("speed_ms", *d.speedMS, math.Abs(l.Climb),
				fmt.Sprintf("what %s m in %s s gives", field.Figure(math.Abs(l.Height[1]-l.Height[0]), 3), field.Figure(l.Seconds, 3)), say)
		}
	case *d.speedMS != 0:
		say("speed_ms", fmt.Sprintf("no speed on a %s, or course_deg with it", l.Move), "%s m/s that go nowhere", field.Figure(*d.speedMS, 3))
	}
}

// ends checks what a move must change from its start to its end, and what it must keep.
func (d draft) ends(l *Leg, say sayer) {
	switch use := l.Move.uses("heading_deg"); {
	case use == changing && d.rule.turns == 0 && (!d.rule.pair || l.Heading.By == 0):
		say("heading_deg", "two different headings, from and to, or turns: 1 for a whole circle", "a heading that does not turn")
	case use == steady && (d.rule.turns > 0 || d.heading[0] != d.heading[1]):
		say("heading_deg", fmt.Sprintf("one heading on a %s, or the move pan", l.Move), "a turn of %s°", field.Figure(math.Abs(l.Heading.By), 3))
	}
	tips := d.pitchSet && l.Pitch[0] != l.Pitch[1]
	switch use := l.Move.uses("pitch_deg"); {
	case use == changing && !tips:
		say("pitch_deg", fmt.Sprintf("two different pitches, from and to, which a %s needs", l.Move), "a pitch that does not change")
	case use == steady && tips:
		say("pitch_deg", fmt.Sprintf("one pitch on a %s, or the move tilt", l.Move), "a change of %s°", field.Figure(math.Abs(l.Pitch[1]-l.Pitch[0]), 3))
	}
	climbs := l.Height[0] != l.Height[1]
	switch use := l.Move.uses("height_m"); {
	case use == changing && !climbs:
		say("height_m", fmt.Sprintf("two different heights, from and to, which a %s needs", l.Move), "%s", field.Figure(l.Height[0], 3))
	case use == steady && climbs:
		say("height_m", fmt.Sprintf("one height on a %s, or the move rise", l.Move), "a change of %s m", field.Figure(math.Abs(l.Height[1]-l.Height[0]), 3))
	}
}

// sameSpeed holds a written speed against the one that other numbers give.
func sameSpeed(key string, wrote, gives float64, whence string, say sayer) {
	off := math.Abs(wrote - gives)
	if off <= math.Max(speedSlackMS, speedSlackShare*gives) {
		return
	}
	say(key, fmt.Sprintf("%s m/s, %s, or leave it out", field.Figure(round2(gives), 3), whence),
		"%s m/s, which is %s m/s off", field.Figure(wrote, 3), field.Figure(round2(off), 3))
}

func round2(x float64) float64 { return math.Round(x*100) / 100 }

// written prints an optional number.
func written(x *float64) string {
	if x == nil {
		return "nothing"
	}
	return field.Figure(*x, 3)
}

// WithDefaults fills in what a leg made by hand may lack.
func (l Leg) WithDefaults(c kit.Camera) Leg {
	iso := &l.Mode.ISO
	if iso.Base <= 0 {
		iso.Base = max(c.ISO.Base, 1)
	}
	if iso.Clean < iso.Base {
		iso.Clean = max(c.ISO.Clean, iso.Base)
	}
	if iso.Limit < iso.Clean {
		iso.Limit = max(c.ISO.Limit, iso.Clean)
	}
	return l
}
