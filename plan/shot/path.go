package shot

import (
	"math"
	"time"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Path turns a shot into moments, perLeg of them on each leg (2 at least), the first at the leg's
// start and the last at its end. A leg starts where the one before ended, over the ground; its
// heights are as written. A heading written relative to the sun at both ends follows the sun of
// the first take, because the pilot sets it there and flies the other takes alike.
func Path(s *Shot, perLeg int) []Moment {
	perLeg = max(perLeg, 2)
	k := newTrack(s)
	path := make([]Moment, 0, perLeg*len(s.Legs))
	for i := range s.Legs {
		path = k.along(path, i, perLeg)
	}
	return path
}

// PathOfLeg returns the moments of one leg, counted from 0, as [Path] has them.
func PathOfLeg(s *Shot, leg, perLeg int) []Moment {
	perLeg = max(perLeg, 2)
	return newTrack(s).along(make([]Moment, 0, perLeg), leg, perLeg)
}

// along adds the moments of a leg to a path.
func (k *track) along(path []Moment, leg, perLeg int) []Moment {
	for j := range perLeg {
		path = append(path, k.moment(leg, float64(j)/float64(perLeg-1)))
	}
	return path
}

// MomentAt returns the moment at a second of flight time, counted with one take a leg, no transit
// and no resets. A second outside the flight gives its nearest end; where two legs meet, the later
// one has it. The shot must have a leg.
func (s *Shot) MomentAt(second float64) Moment {
	k := newTrack(s)
	for i, l := range s.Legs {
		if in := second - k.from[i]; in < l.Seconds || i == len(s.Legs)-1 {
			return k.moment(i, math.Min(math.Max(in/l.Seconds, 0), 1))
		}
	}
	panic("plan: MomentAt of a shot without legs")
}

// FlightSeconds returns the length of the flight as [Shot.MomentAt] counts it.
func (s *Shot) FlightSeconds() float64 {
	var sum float64
	for _, l := range s.Legs {
		sum += l.Seconds
	}
	return sum
}

// track is a flight laid out on the ground and on the clock.
type track struct {
	s     *Shot
	times FlightTimes
	from  []float64 // flight time at each leg's start
	start []r3.Vec  // where each leg starts, over the ground; Z is 0
}

func newTrack(s *Shot) *track {
	k := &track{s: s, times: s.Times(), from: make([]float64, len(s.Legs)), start: make([]r3.Vec, len(s.Legs))}
	var at r3.Vec
	var second float64
	for i, l := range s.Legs {
		k.start[i], k.from[i] = at, second
		at = r3.Add(at, k.offset(i, 1))
		second += l.Seconds
	}
	return k
}

// Toward returns the unit vector over the ground in a direction, east and north.
func Toward(deg float64) r3.Vec {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return r3.Vec{X: sin, Y: cos}
}

// velocity returns the subject's own velocity.
func (t *Target) velocity() r3.Vec { return r3.Scale(t.SpeedMS, Toward(t.TowardDeg)) }

// followsSun tells whether a leg's heading follows the sun.
func (l *Leg) followsSun() bool { return l.HeadingSun[0] && l.HeadingSun[1] }

// heading returns the heading at a share of a leg, 0 to 360; azDeg is the sun's azimuth then, used
// only where the heading follows the sun.
func (l *Leg) heading(frac, azDeg float64) float64 {
	if l.followsSun() {
		return angle.Wrap360(azDeg + l.HeadingOff[0] + (l.HeadingOff[1]-l.HeadingOff[0])*frac)
	}
	return angle.Wrap360(l.Heading.From + l.Heading.By*frac)
}

// sunAzimuth is the sun's azimuth at a share of a leg, on its first take.
func (k *track) sunAzimuth(leg int, frac float64) float64 {
	at := k.times.Legs[leg].First.Add(Seconds(frac * k.s.Legs[leg].Seconds))
	return sun.At(at, k.s.LatDeg, k.s.LonDeg).AzimuthDeg
}

// arcs is the count of circular arcs that the path of a heading that follows the sun is made of.
const arcs = 8

// offset returns how far a leg has gone over the ground at a share of it.
func (k *track) offset(leg int, frac float64) r3.Vec {
	l := &k.s.Legs[leg]
	t := frac * l.Seconds
	switch {
	case l.Move == Orbit && l.Target != nil:
		var az0, az float64
		if l.followsSun() {
			az0, az = k.sunAzimuth(leg, 0), k.sunAzimuth(leg, frac)
		}
		out := r3.Sub(Toward(l.heading(0, az0)), Toward(l.heading(frac, az)))
		return r3.Add(r3.Scale(l.Target.DistanceM, out), r3.Scale(t, l.Target.velocity()))
	case l.Move == Follow && l.Target != nil:
		return r3.Scale(t, l.Target.velocity())
	case l.SpeedMS == 0:
		return r3.Vec{}
	case l.CourseSet:
		return r3.Scale(l.SpeedMS*t, Toward(l.CourseDeg))
	case l.Move != Push && l.Move != Pull && l.Move != Slide:
		return r3.Vec{}
	case !l.followsSun():
		return arc(l.SpeedMS, t, l.Heading.From+l.wayDeg(), l.Heading.By*frac)
	}
	var sum r3.Vec
	last := l.heading(0, k.sunAzimuth(leg, 0))
	for i := 1; i <= arcs; i++ {
		f := frac * float64(i) / arcs
		next := l.heading(f, k.sunAzimuth(leg, f))
		sum = r3.Add(sum, arc(l.SpeedMS, t/arcs, last+l.wayDeg(), angle.Wrap180(next-last)))
		last = next
	}
	return sum
}

// arc returns the way flown in t seconds at a speed from a course that turns steadily by so many
// degrees.
func arc(speedMS, t, courseDeg, byDeg float64) r3.Vec {
	turn := byDeg * math.Pi / 180
	// The chord of the arc lies along the course half way round, shorter than the arc by sin x/x.
	chord := 1.0
	if math.Abs(turn) > 1e-9 {
		chord = math.Sin(turn/2) / (turn / 2)
	}
	return r3.Scale(speedMS*t*chord, Toward(courseDeg+byDeg/2))
}

// lensM is how high a lens is above the ground while the aircraft stands on it (ours), so that a
// rise from 0 m has no ground at no distance.
const lensM = 0.2

// moment returns the state at a share of a leg, 0 to 1.
func (k *track) moment(leg int, frac float64) Moment {
	l, when := &k.s.Legs[leg], &k.times.Legs[leg]
	t := Seconds(frac * l.Seconds)
	m := Moment{
		Leg: leg, Frac: frac, FlightS: k.from[leg] + frac*l.Seconds,
		Time: [2]time.Time{when.First.Add(t), when.Last.Add(t)},
	}
	m.Sun[0] = sun.At(m.Time[0], k.s.LatDeg, k.s.LonDeg)
	m.Sun[1] = m.Sun[0]
	if !m.Time[1].Equal(m.Time[0]) {
		m.Sun[1] = sun.At(m.Time[1], k.s.LatDeg, k.s.LonDeg)
	}
	m.HeadingDeg = l.heading(frac, m.Sun[0].AzimuthDeg)
	m.YawDegS = l.Heading.By / l.Seconds
	gone := k.offset(leg, frac)
	m.Pos = r3.Add(k.start[leg], gone)
	m.Pos.Z = l.Height[0] + (l.Height[1]-l.Height[0])*frac
	m.AboveM = math.Max(lensM, m.Pos.Z-(l.GroundM[0]+(l.GroundM[1]-l.GroundM[0])*frac))
	m.Velocity = l.velocity(m.HeadingDeg, m.YawDegS)
	if l.Target != nil {
		gone.Z = m.Pos.Z
		k.aim(&m, frac*l.Seconds, gone)
	}
	if !l.PitchAuto || l.Target == nil {
		m.PitchDeg = l.Pitch[0] + (l.Pitch[1]-l.Pitch[0])*frac
		m.PitchDegS = (l.Pitch[1] - l.Pitch[0]) / l.Seconds
	}
	return m
}

// velocity returns the aircraft's velocity where its heading is headingDeg and turns by yawDegS.
func (l *Leg) velocity(headingDeg, yawDegS float64) r3.Vec {
	var v r3.Vec
	switch {
	case l.Move == Orbit && l.Target != nil:
		// The aircraft is a distance behind its target along the heading, so that a clockwise
		// turn takes it to the left.
		v = r3.Scale(l.Target.DistanceM*yawDegS*math.Pi/180, Toward(headingDeg-90))
		v = r3.Add(v, l.Target.velocity())
	case l.Move == Follow && l.Target != nil:
		v = l.Target.velocity()
	case l.CourseSet:
		v = r3.Scale(l.SpeedMS, Toward(l.CourseDeg))
	case l.Move == Push || l.Move == Pull || l.Move == Slide:
		v = r3.Scale(l.SpeedMS, Toward(headingDeg+l.wayDeg()))
	}
	v.Z = (l.Height[1] - l.Height[0]) / l.Seconds
	return v
}

// aim puts the subject into a moment and, where the pitch is not written, looks at it: the subject
// stands at half the picture's height. The gimbal's ends hold. gone is how far the aircraft is from the leg's start.
func (k *track) aim(m *Moment, t float64, gone r3.Vec) {
	l := &k.s.Legs[m.Leg]
	var az float64
	if l.followsSun() {
		az = k.sunAzimuth(m.Leg, 0)
	}
	m.TargetVel = l.Target.velocity()
	from := r3.Add(r3.Scale(l.Target.DistanceM, Toward(l.heading(0, az))), r3.Scale(t, m.TargetVel))
	m.Target = r3.Add(k.start[m.Leg], from)
	from.Z = l.Target.HeightM
	m.Target.Z = from.Z
	m.Away = r3.Sub(from, gone)
	if !l.PitchAuto {
		return
	}
	look, side := Toward(m.HeadingDeg), Toward(m.HeadingDeg+90)
	to := m.Away
	moves := r3.Sub(m.TargetVel, m.Velocity)
	ahead, up := r3.Dot(to, look), to.Z
	free := math.Atan2(up, ahead) * 180 / math.Pi
	if ahead < 0 && up <= 0 {
		free = -90 // past it: straight down is as far as a camera tips
	}
	lowest, highest := -90.0, 90.0
	if g := k.s.Camera.GimbalDeg; g[0] < g[1] {
		lowest, highest = g[0], g[1]
	}
	m.PitchDeg = math.Min(math.Max(free, lowest), highest)
	if reach := ahead*ahead + up*up; m.PitchDeg == free && ahead > 0 && reach > 0 {
		closing := r3.Dot(moves, look) + r3.Dot(to, side)*m.YawDegS*math.Pi/180
		m.PitchDegS = (ahead*moves.Z - up*closing) / reach * 180 / math.Pi
	}
}

// Later returns the same moment flown at another time.
func (m Moment) Later(s *Shot, by time.Duration) Moment {
	if by == 0 {
		return m
	}
	az := m.Sun[0].AzimuthDeg
	for i := range m.Time {
		m.Time[i] = m.Time[i].Add(by)
		m.Sun[i] = sun.At(m.Time[i], s.LatDeg, s.LonDeg)
	}
	if s.Legs[m.Leg].followsSun() {
		m.HeadingDeg = angle.Wrap360(m.HeadingDeg + m.Sun[0].AzimuthDeg - az)
	}
	return m
}
