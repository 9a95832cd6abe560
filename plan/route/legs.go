package route

import (
	"errors"
	"math"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// leg is one leg of the draft, with its figures already rounded as they will be written.
type leg struct {
	move      shot.Move
	left      bool // of a slide
	heading   float64
	by        float64 // the turn of the heading
	places    int     // decimals of heading and turn
	seconds   float64
	speed     float64 // 0: none is written
	speedIn   int     // its decimals
	course    float64
	hasCourse bool
	courseIn  int
	height    [2]float64
	hasHeight bool
	ground    [2]float64
	pitch     [2]float64
	hasPitch  bool
	subject   *subject
	distance  float64
	distIn    int
	spot      int     // of the run, where it begins,
	since     float64 // and the seconds there
}

// subject is what a camera looks at.
type subject struct {
	name      string
	at        r3.Vec
	hasHeight bool
	speedMS   float64
	towardDeg float64
}

// after returns where a subject is some seconds on.
func (s *subject) after(seconds float64) r3.Vec {
	return r3.Add(s.at, r3.Scale(s.speedMS*seconds, toward(s.towardDeg)))
}

// goes is the way of a leg over the ground, as package shot flies it.
func (l *leg) goes(share float64) r3.Vec {
	far := l.speed * l.seconds * share
	switch {
	case l.move == shot.Orbit:
		return r3.Scale(l.distance, r3.Sub(toward(l.heading), toward(l.heading+l.by*share)))
	case l.hasCourse:
		return r3.Scale(far, toward(l.course))
	case l.move == shot.Push, l.move == shot.Pull, l.move == shot.Slide:
		return arcWay(far, l.heading+l.way(), l.by*share)
	}
	return r3.Vec{}
}

// way is where a move goes, clockwise from the heading.
func (l *leg) way() float64 {
	switch {
	case l.move == shot.Pull:
		return 180
	case l.move == shot.Slide && l.left:
		return -90
	case l.move == shot.Slide:
		return 90
	}
	return 0
}

// drafter makes legs of pieces, one after the other. It keeps where the legs written so far really lead: what rounding
// leaves of one is put right by the next.
type drafter struct {
	withM   float64
	faces   *subject // that the whole path looks at; nil: along the way, or as the file says
	marks   map[string]*subject
	heights bool
	at      r3.Vec  // where the legs have led
	late    float64 // seconds that the legs are behind the line
	heading float64 // of the last leg
	legs    []leg
	first   int     // of the run
	offM    float64 // the farthest that a leg is off the line
}

// Roundings (ours): so much of the tolerance may go into the figures of a leg.
const (
	fitShare    = 0.65 // and so much is for the line
	roundShare  = 0.2
	alongShare  = 0.3 // along the way, so that speeds come out as they are meant
	saidShare   = 0.4 // where the file says the heading, which is then kept
	mostPlaces  = 4
	squareDeg   = 0.5 // a camera that looks so nearly ahead, back or aside looks just there
	steadyDeg   = 0.5
	stillDeg    = 0.25 // a turn of a camera in one place that nobody meant
	slowMS      = 0.3  // a drift slower than this over less than the tolerance is none
	leastLegS   = 1
	mostLegS    = 3600
	mostSpeedMS = 60
	mostOffDeg  = 3 // of a camera that is to look at a subject, which a leg lets turn steadily
)

// farTooMany legs are not counted any further: no card holds them.
const farTooMany = 20 * mostLegs

var errMany = errors.New("far too many legs")

// run adds the legs of a run. The error names what no leg can be.
func (d *drafter) run(r *run) error {
	c := &cutter{run: r, withM: fitShare * d.withM, mostTurnDeg: mostSaidDeg}
	looks := r.looks
	switch {
	case looks != nil && looks.HasHeading: // a leg once, whose path is to come out as it was
		c.withM, c.turns = d.withM/2, math.Abs(looks.TurnDeg) > steadyDeg
		c.rounds = func(from, to int, course, turn float64) (float64, bool) {
			a, b := d.looking(r, from, to)
			if math.Abs(turn-(b-a)) > 10*steadyDeg { // of a short arc the places are too coarse to show it well
				return 0, false
			}
			_, square := squareWay(a, course+(turn-(b-a))/2)
			return b - a, square && b != a
		}
	case d.faces != nil:
		c.rounds = func(from, to int, course, turn float64) (float64, bool) {
			return turn, d.around(r, from, to, course, turn)
		}
	default:
		c.mostTurnDeg = mostTurnDeg
		c.rounds = func(_, _ int, _, turn float64) (float64, bool) { return turn, true }
	}
	c.stopsFirst = looks == nil || !looks.HasHeading
	d.first = len(d.legs)
	for _, p := range c.cut() {
		parts := []piece{p}
		if d.faces != nil && looks == nil && p.turnDeg == 0 && !p.stays {
			parts = nil
		}
		if parts == nil {
			if err := d.toward(r, p, 0, 1, 0); err != nil {
				return err
			}
			continue
		}
		n := math.Ceil((r.spots[p.to].s - r.spots[p.from].s) / mostLegS)
		for k := range int(math.Max(n, 1)) {
			if err := d.piece(r, p, float64(k)/math.Max(n, 1), float64(k+1)/math.Max(n, 1)); err != nil {
				return err
			}
		}
	}
	return nil
}

// looking returns the headings that the file gives for a piece, the second not wrapped.
func (d *drafter) looking(r *run, from, to int) (a, b float64) {
	all := math.Max(r.seconds(), 1e-9)
	k := r.looks
	return k.HeadingDeg + k.TurnDeg*r.spots[from].s/all, k.HeadingDeg + k.TurnDeg*r.spots[to].s/all
}

// squareWay tells whether a heading lies ahead, back or square to a course, and returns how far the course lies
// clockwise of it then.
func squareWay(heading, course float64) (way float64, ok bool) {
	rel := angle.Wrap180(course - heading)
	for _, way := range []float64{0, 180, 90, -90} {
		if math.Abs(angle.Wrap180(rel-way)) <= squareDeg {
			return way, true
		}
	}
	return 0, false
}

// around tells whether an arc goes round the subject.
func (d *drafter) around(r *run, from, to int, course, turn float64) bool {
	a, b := r.spots[from].at, r.spots[to].at
	radius := flatM(a, b) * halfArc(turn) / (math.Abs(turn) * rad)
	middle := r3.Add(a, r3.Scale(radius, toward(course+math.Copysign(90, turn))))
	return d.faces.speedMS == 0 && flatM(middle, d.faces.at) <= d.withM
}

// toward flies a straight piece that looks at the subject, in as many legs as keep it in sight: a leg turns steadily,
// and the bearing of a subject that is passed does not.
func (d *drafter) toward(r *run, p piece, from, to float64, deep int) error {
	a, b := r.spots[p.from], r.spots[p.to]
	at := func(u float64) r3.Vec { return r3.Add(a.at, r3.Scale(u, r3.Sub(b.at, a.at))) }
	seconds := (b.s - a.s) * (to - from)
	first, end := bearing(at(from), d.faces.at), bearing(at(to), d.faces.at)
	by, off := angle.Wrap180(end-first), 0.0
	for k := 1; k < 8; k++ {
		u := float64(k) / 8
		off = math.Max(off, math.Abs(angle.Wrap180(first+by*u-bearing(at(from+(to-from)*u), d.faces.at))))
	}
	if (off > mostOffDeg && seconds > 4 && deep < 5) || seconds > mostLegS {
		mid := (from + to) / 2
		if err := d.toward(r, p, from, mid, deep+1); err != nil {
			return err
		}
		return d.toward(r, p, mid, to, deep+1)
	}
	return d.piece(r, p, from, to)
}

// piece adds the leg of a piece, or of a share of it.
func (d *drafter) piece(r *run, p piece, from, to float64) error {
	a, b := r.spots[p.from], r.spots[p.to]
	way := r3.Sub(b.at, a.at)
	place := func(u float64) r3.Vec {
		at := r3.Add(a.at, r3.Scale(u, way))
		if p.turnDeg != 0 {
			course := bearing(a.at, b.at) - p.turnDeg/2
			at = r3.Add(a.at, arcWay(math.Hypot(way.X, way.Y)*halfArc(p.turnDeg)*u, course, p.turnDeg*u))
			at.Z = a.at.Z + way.Z*u
		}
		return at
	}
	if len(d.legs) >= farTooMany {
		return errMany
	}
	start, goal := place(from), place(to)
	turn := p.turnDeg * (to - from)
	span := (b.s - a.s) * (to - from)
	l := leg{seconds: math.Max(leastLegS, math.Round((span-d.late)*10)/10)}
	d.late += l.seconds - span
	if d.heights {
		l.hasHeight, l.height = true, [2]float64{round(start.Z, 1), round(goal.Z, 1)}
		if level := (start.Z + goal.Z) / 2; r.looks == nil && math.Abs(goal.Z-start.Z) <= roundShare*d.withM { // a climb that nobody meant
			l.height = [2]float64{round(level, 1), round(level, 1)}
		}
	}
	shareOf := func(u float64) float64 { return (a.s + (b.s-a.s)*u) / math.Max(r.seconds(), 1e-9) }
	d.facing(&l, r, p, shareOf(from), shareOf(to))
	far := flatM(d.at, goal)
	still := p.stays || turn == 0 && (far == 0 || far < d.withM/2 && far/l.seconds < slowMS)
	if speed := far * halfArc(turn) / l.seconds; !still && speed > mostSpeedMS {
		return one(field.Fault{Line: b.line, Column: 1, Field: "speed_ms", Found: field.Figure(speed, 0) + " m/s up to this point",
			Allowed: "at most 60 m/s: mend the times, or take a path that was flown"})
	}
	if still {
		d.stay(&l, r)
	} else {
		d.fly(&l, r, goal, turn)
	}
	l.spot, l.since = p.from, a.s+(b.s-a.s)*from
	d.join(&l)
	// How far the leg as written is off the line as drawn.
	end := a.s + (b.s-a.s)*to
	for _, x := range r.spots[l.spot : p.to+1] {
		switch {
		case x.s < l.since || x.s > end:
		case end > l.since:
			d.off(&l, x.at, (x.s-l.since)/(end-l.since))
		default:
			d.off(&l, x.at, 1)
		}
	}
	d.at = r3.Add(d.at, l.goes(1))
	d.heading = angle.Wrap360(l.heading + l.by)
	d.legs = append(d.legs, l)
	return nil
}

// off notes how far a spot of the line lies beside the leg.
func (d *drafter) off(l *leg, at r3.Vec, share float64) {
	is := r3.Add(d.at, l.goes(share))
	away := r3.Sub(at, is)
	if l.hasHeight {
		away.Z = at.Z - (l.height[0] + (l.height[1]-l.height[0])*share)
	} else {
		away.Z = 0
	}
	before, behind := l.goes(math.Max(0, share-0.01)), l.goes(math.Min(1, share+0.01))
	if dir := r3.Sub(behind, before); math.Hypot(dir.X, dir.Y) > 0 { // ahead or behind is a matter of time
		dir = r3.Scale(1/math.Hypot(dir.X, dir.Y), dir)
		dir.Z = 0
		away = r3.Sub(away, r3.Scale(r3.Dot(away, dir), dir))
	}
	d.offM = math.Max(d.offM, r3.Norm(away))
}

// facing fills in what the camera looks at, and where it looks if the file says so. The shares are of the run's seconds.
func (d *drafter) facing(l *leg, r *run, p piece, from, to float64) {
	k := r.looks
	l.subject = d.faces
	if k == nil {
		return
	}
	l.subject = nil
	mix := func(v [2]float64, u float64) float64 { return v[0] + (v[1]-v[0])*u }
	if s := d.marks[k.Subject]; s != nil && k.Subject != "" {
		moving := *s
		moving.speedMS, moving.towardDeg = k.SubjectSpeedMS, k.SubjectTowardDeg
		moving.at = moving.after(from * r.seconds())
		l.subject = &moving
	}
	if k.HasPitch {
		l.hasPitch, l.pitch = true, [2]float64{round(mix(k.PitchDeg, from), 1), round(mix(k.PitchDeg, to), 1)}
	}
	if k.GroundM != [2]float64{} {
		l.ground = [2]float64{round(mix(k.GroundM, from), 1), round(mix(k.GroundM, to), 1)}
	}
	if k.HasHeading {
		l.heading, l.by = k.HeadingDeg+k.TurnDeg*from, k.TurnDeg*(to-from)
	}
}
