package route

import (
	"math"
	"sort"

	"example.org/skywedge/plan/internal/angle"
	"gonum.org/v1/gonum/spatial/r3"
)

// piece is a part of a run that one leg can fly: from one spot to another, straight, on an arc, or staying.
type piece struct {
	from, to int
	turnDeg  float64 // of the course, clockwise positive; 0: straight
	stays    bool
}

// How a piece is cut (all ours).
const (
	slackS      = 1    // how far the aircraft may be ahead or behind of the times in the file,
	slackShare  = 0.05 // and how far of the seconds of a piece
	staysS      = 5    // a stop as long as this is a leg of its own
	mostTurnDeg = 200  // of one piece: the chord of a longer one says too little of where its arc lies
	mostSaidDeg = 340  // the same where the file or a mark says where it lies: a circle is two of them
	leastRoundM = 1    // radius of an arc
)

// cutter cuts a run into pieces.
type cutter struct {
	run   *run
	withM float64 // how far a piece may be off the line
	// rounds tells whether an arc is of use, and how far it is to turn, which the line alone shows roughly; nil: none is.
	rounds      func(from, to int, courseDeg, turnDeg float64) (turn float64, ok bool)
	mostTurnDeg float64
	turns       bool // an arc goes before a straight piece as long
	stopsFirst  bool // a flight that nobody cut before: no leg is to run into a stop
	end         int  // the spot that no piece goes beyond
}

// cut returns the pieces of a run: each as long as it can be from where the one before ends.
func (c *cutter) cut() []piece {
	var out, stops []piece
	if c.stopsFirst && c.run.timed {
		stops = c.stops()
	}
	for i, n := 0, len(c.run.spots); i < n-1; {
		c.end = n - 1
		if len(stops) > 0 {
			if c.end = stops[0].from; c.end == i {
				out, i, stops = append(out, stops[0]), stops[0].to, stops[1:]
				continue
			}
		}
		best := piece{from: i, to: c.reach(i, func(j int) bool { return c.straight(i, j) })}
		if c.rounds != nil {
			if j := c.reach(i, func(j int) bool { _, ok := c.round(i, j); return ok }); j > best.to || j == best.to && c.turns {
				if turn, ok := c.round(i, j); ok {
					best = piece{from: i, to: j, turnDeg: turn}
				}
			}
		}
		if c.run.timed {
			if j := c.reach(i, func(j int) bool { return c.still(i, j) }); j >= best.to && c.run.spots[j].s-c.run.spots[i].s >= staysS && c.still(i, j) {
				best = piece{from: i, to: j, stays: true}
			}
		}
		out = append(out, best)
		i = best.to
	}
	return out
}

// stops returns where a flight stays for a while, which a straight piece that goes just as well for longer is not: that is
// a slow move. Left to the cut alone, the legs around a stop would share it out among them.
func (c *cutter) stops() []piece {
	p := c.run.spots
	c.end = len(p) - 1
	at := func(s float64) int { return sort.Search(len(p), func(k int) bool { return p[k].s >= s }) }
	var out []piece
	for i := 0; i < len(p)-1; {
		j := at(p[i].s + staysS)
		if j == len(p) || !c.still(i, j) {
			i = max(i+1, at(p[i].s+slackS/2.0))
			continue
		}
		j = c.reach(j-1, func(k int) bool { return c.still(i, k) })
		if on := c.reach(i, func(k int) bool { return c.straight(i, k) }); p[on].s-p[j].s > (p[j].s-p[i].s)/2 {
			i = on
			continue
		}
		out = append(out, piece{from: i, to: j, stays: true})
		i = j
	}
	return out
}

// reach returns how far from a spot a test holds: it goes on in growing steps while it does, and then back by halves.
// The next spot always counts as reached.
func (c *cutter) reach(from int, holds func(to int) bool) int {
	good, most := from+1, c.end
	for step := 1; good < most; step *= 2 {
		next := min(good+step, most)
		if holds(next) {
			good = next
			continue
		}
		for bad := next; bad-good > 1; {
			if mid := (good + bad) / 2; holds(mid) {
				good = mid
			} else {
				bad = mid
			}
		}
		// An arc through few points may fail where a longer one holds; that is left, the pieces are only shorter.
		return good
	}
	return good
}

// still tells whether the aircraft stays over one place from one spot to another.
func (c *cutter) still(i, j int) bool {
	p := c.run.spots
	for k := i + 1; k <= j; k++ {
		if d := r3.Sub(p[k].at, p[i].at); math.Hypot(d.X, d.Y) > c.withM/2 {
			return false
		}
	}
	return c.along(i, j, func(u float64) (r3.Vec, r3.Vec) {
		at := r3.Add(p[i].at, r3.Scale(u, r3.Sub(p[j].at, p[i].at)))
		return at, r3.Vec{X: 1}
	}, c.withM)
}

// straight tells whether the line goes straight, at a steady speed and climb.
func (c *cutter) straight(i, j int) bool {
	p := c.run.spots
	way := r3.Sub(p[j].at, p[i].at)
	flat := math.Hypot(way.X, way.Y)
	dir := r3.Vec{X: 1}
	if flat > 0 {
		dir = r3.Vec{X: way.X / flat, Y: way.Y / flat}
	}
	return c.along(i, j, func(u float64) (r3.Vec, r3.Vec) { return r3.Add(p[i].at, r3.Scale(u, way)), dir }, c.slackM(i, j, flat))
}

// round tells whether the line goes on an arc, and how far that turns: twice as far as the chords to a spot between.
func (c *cutter) round(i, j int) (turnDeg float64, ok bool) {
	if j < i+2 {
		return 0, false
	}
	p := c.run.spots
	half := (p[i].s + p[j].s) / 2
	m := i + 1
	for k := i + 1; k < j; k++ {
		if math.Abs(p[k].s-half) < math.Abs(p[m].s-half) {
			m = k
		}
	}
	turn := 2 * angle.Wrap180(bearing(p[m].at, p[j].at)-bearing(p[i].at, p[m].at))
	chord := flatM(p[i].at, p[j].at)
	if math.Abs(turn) < 0.05 || math.Abs(turn) > c.mostTurnDeg || chord == 0 {
		return 0, false
	}
	if turn, ok = c.rounds(i, j, angle.Wrap360(bearing(p[i].at, p[j].at)-turn/2), turn); !ok {
		return 0, false
	}
	course := angle.Wrap360(bearing(p[i].at, p[j].at) - turn/2)
	length := chord * halfArc(turn)
	if length/(math.Abs(turn)*rad) < leastRoundM {
		return 0, false
	}
	climb := p[j].at.Z - p[i].at.Z
	return turn, c.along(i, j, func(u float64) (r3.Vec, r3.Vec) {
		at := r3.Add(p[i].at, arcWay(length*u, course, turn*u))
		at.Z = p[i].at.Z + climb*u
		return at, toward(course + turn*u)
	}, c.slackM(i, j, length))
}

// slackM is how far along its way the aircraft may be off.
func (c *cutter) slackM(i, j int, length float64) float64 {
	if s := c.run.spots[j].s - c.run.spots[i].s; c.run.timed && s > 0 {
		return c.withM + math.Min(slackS, slackShare*s)*length/s
	}
	return c.withM
}

// along holds a way against the line: every spot of it and the middle between two, by where the aircraft is then. at
// returns a place and the direction there, over a share of the seconds.
func (c *cutter) along(i, j int, at func(u float64) (r3.Vec, r3.Vec), slackM float64) bool {
	p := c.run.spots
	span := p[j].s - p[i].s
	near := func(x r3.Vec, s float64) bool {
		u := 0.5
		if span > 0 {
			u = (s - p[i].s) / span
		}
		is, dir := at(u)
		off := r3.Sub(x, is)
		ahead := off.X*dir.X + off.Y*dir.Y
		side := off.X*dir.Y - off.Y*dir.X
		return math.Abs(side) <= c.withM && math.Abs(off.Z) <= c.withM && math.Abs(ahead) <= slackM
	}
	for k := i; k < j; k++ {
		if k > i && !near(p[k].at, p[k].s) {
			return false
		}
		if mid := r3.Scale(0.5, r3.Add(p[k].at, p[k+1].at)); !near(mid, (p[k].s+p[k+1].s)/2) {
			return false
		}
	}
	return true
}

func flatM(a, b r3.Vec) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// bearing is the direction from one place to another, 0 to 360.
func bearing(a, b r3.Vec) float64 { return angle.Wrap360(math.Atan2(b.X-a.X, b.Y-a.Y) / rad) }

func toward(deg float64) r3.Vec {
	sin, cos := math.Sincos(deg * rad)
	return r3.Vec{X: sin, Y: cos}
}

// halfArc is how much longer an arc is than its chord.
func halfArc(turnDeg float64) float64 {
	x := turnDeg * rad / 2
	if math.Abs(x) < 1e-9 {
		return 1
	}
	return x / math.Sin(x)
}

// arcWay is the way flown on an arc.
func arcWay(length, courseDeg, turnDeg float64) r3.Vec {
	return r3.Scale(length/halfArc(turnDeg), toward(courseDeg+turnDeg/2))
}
