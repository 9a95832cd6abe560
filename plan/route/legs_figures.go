package route

import (
	"math"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// stay makes a leg that goes nowhere.
func (d *drafter) stay(l *leg, r *run) {
	switch {
	case r.looks != nil && r.looks.HasHeading:
	case l.subject != nil:
		l.heading = bearing(d.at, l.subject.at)
	default:
		l.heading = d.heading
	}
	l.places = 1
	if math.Abs(l.by) <= stillDeg { // a heading by the sun, which goes on
		l.heading, l.by = l.heading+l.by/2, 0
	}
	l.heading, l.by = turned(l.heading, 1), round(l.by, 1)
	switch {
	case l.hasHeight && l.height[0] != l.height[1]:
		l.move = shot.Rise
	case l.by != 0:
		l.move = shot.Pan
	case l.hasPitch && l.pitch[0] != l.pitch[1]:
		l.move = shot.Tilt
	default:
		l.move = shot.Hold
	}
	d.aim(l)
}

// fly makes a leg that leads to a place, with as few decimals as bring it there.
func (d *drafter) fly(l *leg, r *run, goal r3.Vec, turn float64) {
	course := angle.Wrap360(bearing(d.at, goal) - turn/2)
	length := flatM(d.at, goal) * halfArc(turn)
	said := r.looks != nil && r.looks.HasHeading
	if !said {
		l.heading, l.by = course, turn
		if s := l.subject; s != nil && turn == 0 {
			l.heading = bearing(d.at, s.at)
			l.by = angle.Wrap180(bearing(goal, s.after(l.seconds)) - l.heading)
			if flatM(d.at, s.at) < leastRoundM { // it begins over the subject
				l.heading, l.by = course, 0
			}
		}
	}
	way, square := squareWay(l.heading, course)
	endWay, endSquare := squareWay(l.heading+l.by, course+turn)
	square = square && endSquare && way == endWay || said && turn != 0
	if said && turn != 0 { // the arc was held against the heading already, where the places were exact
		way = math.Round(angle.Wrap180(course-l.heading)/90) * 90
	}
	l.move = shot.Push
	switch s := l.subject; {
	case s != nil && s.speedMS == 0 && turn != 0 && d.rounds(s, course, turn, length):
		l.move, l.distance = shot.Orbit, flatM(d.at, s.at)
		l.heading, l.by = bearing(d.at, s.at), turn
	case square:
		l.move, l.left = moveOf(way)
		if said && d.asSaid(l, length, goal) {
			d.aim(l)
			return
		}
		l.heading, l.by = course-way, turn
	default:
		l.hasCourse = true
		l.move, l.left = moveOf(course - l.heading)
	}
	exact := *l
	for places := 0; places <= mostPlaces; places++ {
		*l = exact
		l.places, l.courseIn, l.distIn, l.speedIn = places, places, places, max(places, 1)
		if l.hasCourse { // which alone says where it goes: the heading is the camera's
			l.course, l.places = turned(course, places), 1
		}
		l.heading, l.by = turned(l.heading, l.places), round(l.by, l.places)
		if l.move == shot.Orbit {
			l.distance = round(l.distance, places)
		} else {
			l.speed = round(length/l.seconds, l.speedIn)
		}
		end := toward(course + turn)
		off := r3.Sub(r3.Add(d.at, l.goes(1)), goal)
		side, ahead := off.X*end.Y-off.Y*end.X, off.X*end.X+off.Y*end.Y
		if math.Abs(side) <= roundShare*d.withM && math.Abs(ahead) <= alongShare*d.withM && (l.speed > 0 || l.move == shot.Orbit) {
			break
		}
	}
	d.aim(l)
}

// asSaid flies a leg with just the headings that the file gives, and tells whether that leads to the place.
func (d *drafter) asSaid(l *leg, length float64, goal r3.Vec) bool {
	exact := *l
	for places := range 3 {
		*l = exact
		l.places, l.speedIn = places, places+1
		l.heading, l.by = turned(l.heading, places), round(l.by, places)
		l.speed = round(length/l.seconds, l.speedIn)
		if math.Abs(angle.Wrap180(l.heading-exact.heading)) < 0.06 && math.Abs(l.by-exact.by) < 0.06 && l.speed > 0 &&
			flatM(r3.Add(d.at, l.goes(1)), goal) <= saidShare*d.withM {
			return true
		}
	}
	*l = exact
	return false
}

// rounds tells whether an arc from where the legs have led goes round a subject.
func (d *drafter) rounds(s *subject, course, turn, length float64) bool {
	radius := length / (math.Abs(turn) * rad)
	return radius >= leastRoundM && flatM(r3.Add(d.at, r3.Scale(radius, toward(course+math.Copysign(90, turn)))), s.at) <= d.withM
}

// moveOf returns the move that goes a way, which counts clockwise from the heading.
func moveOf(way float64) (move shot.Move, left bool) {
	switch way = angle.Wrap180(way); {
	case math.Abs(way) < 45:
		return shot.Push, false
	case math.Abs(way) > 135:
		return shot.Pull, false
	}
	return shot.Slide, way < 0
}

// aim writes how far the subject is.
func (d *drafter) aim(l *leg) {
	if l.subject == nil {
		return
	}
	if l.move != shot.Orbit {
		l.distIn = 1
		l.distance = round(flatM(d.at, l.subject.at), 1)
	}
}

// turned rounds a direction, which stays below 360.
func turned(deg float64, places int) float64 { return angle.Wrap360(round(angle.Wrap360(deg), places)) }

func round(v float64, places int) float64 {
	f := math.Pow10(places)
	return math.Round(v*f) / f
}

// mostRoundDeg is as far as a card lets a leg turn.
const mostRoundDeg = 7200

// join makes one orbit of the last leg and the next, where the next only goes on: an arc is found by its chord, so that a
// whole circle comes in two.
func (d *drafter) join(l *leg) {
	n := len(d.legs) - 1
	if n < d.first || l.move != shot.Orbit || d.legs[n].move != shot.Orbit {
		return
	}
	a := d.legs[n]
	one := a
	one.by, one.seconds = round(a.by+l.by, max(a.places, l.places)), round(a.seconds+l.seconds, 1)
	one.places = max(a.places, l.places)
	one.height[1], one.ground[1], one.pitch[1] = l.height[1], l.ground[1], l.pitch[1]
	share := a.seconds / one.seconds
	steady := func(whole, first [2]float64, most float64) bool {
		return math.Abs(whole[0]+(whole[1]-whole[0])*share-first[1]) <= most
	}
	goesOn := a.by*l.by > 0 && math.Abs(one.by) <= mostRoundDeg && one.seconds <= mostLegS &&
		math.Abs(a.distance-l.distance) <= roundShare*d.withM &&
		math.Abs(one.by*share-a.by)*rad*a.distance <= alongShare*d.withM
	level := steady(one.height, a.height, roundShare*d.withM) && steady(one.ground, a.ground, roundShare*d.withM) &&
		a.hasPitch == l.hasPitch && steady(one.pitch, a.pitch, steadyDeg)
	if goesOn && level {
		d.at = r3.Sub(d.at, a.goes(1))
		d.legs = d.legs[:n]
		*l = one
	}
}
