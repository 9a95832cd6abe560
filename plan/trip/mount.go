package trip

import (
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// filters are what a card is flown with, one a flight; nil before it is worked out.
func (c *Card) filters() []string {
	if c.Worked == nil {
		return nil
	}
	list := make([]string, len(c.Report.Flights))
	for i := range list {
		list[i] = c.Report.Flights[i].Filter
	}
	return list
}

// first and last are what is mounted when a card is begun and when it is flown; ok is false before it is worked out.
func (c *Card) first() (name string, ok bool) {
	if f := c.filters(); len(f) > 0 {
		return f[0], true
	}
	return words.Bare, false
}

func (c *Card) last() (name string, ok bool) {
	if f := c.filters(); len(f) > 0 {
		return f[len(f)-1], true
	}
	return words.Bare, false
}

// ownChanges are the landings of a card that change what is mounted.
func (c *Card) ownChanges() int { return max(0, len(c.filters())-1) }

// batteries is how many a card takes, by endurance, reserve and cold; 0 where that is not known.
func (c *Card) batteries() int {
	if c.Worked != nil {
		return c.Report.Batteries
	}
	return c.Shot.Times().Batteries
}

// length is how long a card keeps its pilot, from take-off to the last landing. Every landing on the way, to change the
// filter or the battery, takes the time to change and the way home and out again.
func (c *Card) length() time.Duration {
	t := c.Shot.Times()
	landings := max(len(c.filters()), c.batteries(), 1) - 1
	return t.Landing.Sub(t.TakeOff) + time.Duration(landings)*shot.Seconds(c.Shot.Settings.LandingChangeS+c.Shot.TransitS)
}

// hop is what lies between two shots flown one after the other.
type hop struct {
	km     float64
	travel time.Duration
	change time.Duration // to change the filter; 0 where it stays on
}

// whole is how long it takes in all, in full minutes: so take-offs lie on full minutes too.
func (h hop) whole() time.Duration { return wholeMinutes(h.travel + h.change) }

func wholeMinutes(d time.Duration) time.Duration {
	return (d + time.Minute - 1).Truncate(time.Minute)
}

func (h hop) changes() int {
	if h.change > 0 {
		return 1
	}
	return 0
}

// minutes is the way as it counts in an order: what is less than a minute longer is no longer.
func (h hop) minutes() int { return int(h.travel.Round(time.Minute) / time.Minute) }

func hopOf(a, b *Card) hop {
	var h hop
	h.km, h.travel = travel(a.Shot, b.Shot)
	from, known := a.last()
	if to, ok := b.first(); known && ok && from != to {
		h.change = max(time.Second, shot.Seconds(b.Shot.Settings.LandingChangeS))
	}
	return h
}
