package trip

import (
	"time"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
)

// How a window is looked for (ours): the light is looked at every ten minutes; an end is found to half a minute or to a
// fiftieth of a stop, which nobody sees, aiming at a quarter of that; and so many readings are made for it at most before
// it is bisected.
const (
	scanStep  = 10 * time.Minute
	endWithin = 30 * time.Second
	endStops  = 0.02
	aimStops  = endStops / 4
	mostReads = 8
)

// meter tells by how many stops a call holds at a take-off: see plan.Held.
type meter interface {
	Room(time.Time) (stops float64, ok bool)
	Guess(time.Time) (stops float64, ok bool)
}

// windowIn returns the take-offs of a day around its own at which a call holds; where it does not hold at its own, those
// nearest to it; nil where there are none. Both ends were read by the meter and hold.
func windowIn(m meter, own time.Time, day Span) *Span {
	at := own
	if !holds(m.Room(own)) {
		var ok bool
		if at, ok = nearest(m, own, day); !ok {
			return nil
		}
	}
	return &Span{endOf(m, at, day.From), endOf(m, at, day.To)}
}

func holds(stops float64, ok bool) bool { return ok && stops >= 0 }

// nearest looks for the nearest take-off that holds, by the light on the land first.
func nearest(m meter, own time.Time, day Span) (time.Time, bool) {
	reads := 0
	for d := scanStep; d < 24*time.Hour && reads < mostReads; d += scanStep {
		for _, t := range [...]time.Time{own.Add(-d), own.Add(d)} {
			if t.Before(day.From) || t.After(day.To) || !holds(m.Guess(t)) {
				continue
			}
			if reads++; holds(m.Room(t)) {
				return t, true
			}
		}
	}
	return time.Time{}, false
}

// endOf returns how far from a take-off that holds, towards a limit, one holds still.
//
// Where the light on the land alone says that the end is, the frames are read: from there the light says again where the
// end is. So two or three readings find it.
func endOf(m meter, at, limit time.Time) time.Time {
	if x, ok := m.Room(at); ok && x <= endStops/2 && x >= 0 && !holds(m.Guess(at.Add(stepTo(at, limit)))) {
		return at
	}
	in, out := at, limit
	for read := 0; ; read++ {
		t := guessEnd(m, in, out)
		if read > 0 && (read >= mostReads || abs(out.Sub(t)) < endWithin || abs(t.Sub(in)) < endWithin) {
			t = in.Add(out.Sub(in) / 2) // what jumps about, under broken cloud or at a ridge
		}
		x, ok := m.Room(t)
		if holds(x, ok) {
			in = t
			if t == limit || x <= endStops {
				return in
			}
		} else {
			out = t
		}
		if abs(out.Sub(in)) <= endWithin {
			return in
		}
	}
}

// stepTo is a step from one time towards another.
func stepTo(from, to time.Time) time.Duration {
	if to.Before(from) {
		return -scanStep
	}
	return scanStep
}

// guessEnd returns where a call ceases to hold by the light on the land, going from one time to another; the other where
// it holds all the way. It never returns the first, which is known.
func guessEnd(m meter, from, to time.Time) time.Time {
	has := func(t time.Time) bool {
		x, ok := m.Guess(t)
		return ok && x >= aimStops
	}
	step := stepTo(from, to)
	in, out := from, to
	for t := from.Add(step); ; t = t.Add(step) {
		if step > 0 != t.Before(to) {
			if has(to) {
				return to
			}
			break
		}
		if !has(t) {
			out = t
			break
		}
		in = t
	}
	for abs(out.Sub(in)) > endWithin/8 {
		middle := in.Add(out.Sub(in) / 2)
		if has(middle) {
			in = middle
		} else {
			out = middle
		}
	}
	return in
}

func abs(d time.Duration) time.Duration { return max(d, -d) }

// wantedIn returns the take-offs of a day at which a shot has the light that it is for, to half a minute.
func wantedIn(s *shot.Shot, day Span) []Span {
	want := s.Wanted()
	if want.Side == "" {
		want.Side = shot.SideAny
	}
	has := func(t time.Time) bool {
		z, err := s.At(t)
		if err != nil {
			return false
		}
		var path []shot.Moment
		if want.Side != shot.SideAny {
			path = shot.Path(z, sidePerLeg)
		}
		return hours.OffWantOf(want, z, path).Stops == 0
	}
	// Between two times, one of which has the light.
	edge := func(in, out time.Time) time.Time {
		for abs(out.Sub(in)) > endWithin {
			if middle := in.Add(out.Sub(in) / 2); has(middle) {
				in = middle
			} else {
				out = middle
			}
		}
		return in
	}
	var list []Span
	var last time.Time
	open := false
	for t := day.From; ; t = t.Add(scanStep) {
		end := !t.Before(day.To)
		if end {
			t = day.To
		}
		switch now := has(t); {
		case now && !open:
			from := t
			if !last.IsZero() {
				from = edge(t, last)
			}
			list, open = append(list, Span{from, t}), true
		case now:
			list[len(list)-1].To = t
		case open:
			list[len(list)-1].To, open = edge(last, t), false
		}
		if last = t; end {
			return list
		}
	}
}

// sidePerLeg is how many moments of a leg tell on which side the sun stands.
const sidePerLeg = 8

// slot is where a take-off may be moved to: the part of its window that has the light wanted and is nearest to its own;
// the whole window where none of it has. What has no window stays where it is.
func (c *Card) slot() Span {
	own := c.Shot.TakeOff
	if c.Worked == nil || c.Window == nil {
		return Span{own, own}
	}
	best, far := *c.Window, time.Duration(1<<62)
	for _, w := range c.Wanted {
		from, to := later(w.From, c.Window.From), earlier(w.To, c.Window.To)
		if from.After(to) {
			continue
		}
		d := max(0, from.Sub(own), own.Sub(to))
		if d < far {
			best, far = Span{from, to}, d
		}
	}
	if best.Holds(own) { // ends are found to half a minute: a card that is in is not moved for that
		best = Span{earlier(best.From, own), later(best.To, own)}
	}
	return best
}

// nowhere tells that a call holds at no take-off of its day.
func (c *Card) nowhere() bool { return c.Worked != nil && !c.Lamps && c.Window == nil }

// missed tells whether a take-off lies outside of the window of its card.
func (c *Card) missed(t time.Time) bool {
	if c.Worked == nil || c.Window == nil {
		return c.nowhere()
	}
	return !c.Window.Holds(t)
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
