// Package clock is the time as a window goes by it: the minute that it is, and a take-off that is kept at so many
// minutes from now, so that the answer follows the evening.
//
// The one hard idea: a kept take-off is a state of the window and no edit. [Clock.Card] gives the card that is computed in
// place of the one that lies open; that one is not touched until the pilot has the take-off written. Both come anew only
// when the minute changes, so that the flight is computed once a minute and not at every look at the clock.
package clock

import (
	"fmt"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
)

// Step and Most are how far a key moves the take-off that is kept, and how far from now it may lie, minutes (ours).
const Step, Most = 5, 180

const takeOff = "take_off" // its path in a card

// Clock is the time as the window goes by it.
type Clock struct {
	now  time.Time // as of the last minute
	kept keeping
	late lateness
}

// keeping is a take-off that is kept at so many minutes from a time.
type keeping struct {
	on      bool
	of      any // the document that it is of
	written string
	minutes int
	from    time.Time
	base    *shot.Card // what the card below was made of
	card    *shot.Card
}

// lateness is which card was seen on time, so that it is said when it becomes too late for it, and not again.
type lateness struct {
	of           *shot.Card
	onTime, said bool
}

// Tell says what time it is. A take-off that is kept goes along, unless its flight has begun.
func (c *Clock) Tell(now time.Time, begun bool) {
	c.now = now
	if k := &c.kept; k.on && !begun && !k.from.Truncate(time.Minute).Equal(now.Truncate(time.Minute)) {
		k.from, k.base = now, nil
	}
}

// Keeps tells whether the take-off of a document is kept.
func (c *Clock) Keeps(of any) bool { return c.kept.on && c.kept.of == of }

// Keep moves the take-off that is kept of a document by so many minutes; where none is, it begins at so many from now,
// or at now. written is the take-off as the card has it.
func (c *Clock) Keep(of any, written string, by int, now time.Time) {
	minutes := max(0, by)
	if c.Keeps(of) {
		minutes = max(0, min(c.kept.minutes+by, Most))
	}
	c.now = now
	c.kept = keeping{on: true, of: of, written: written, minutes: minutes, from: now}
}

// LetGo keeps no take-off any more.
func (c *Clock) LetGo() { c.kept = keeping{} }

// Check lets go when the take-off that is written is another one now, and tells so: whoever changed it wants that.
func (c *Clock) Check(of any, written string) (gone bool) {
	if gone = c.Keeps(of) && c.kept.written != written; gone {
		c.LetGo()
	}
	return gone
}

// Minutes returns how far from now the take-off is kept.
func (c *Clock) Minutes() int { return c.kept.minutes }

// Card returns the card to compute: that of the document with its take-off as it is kept, or as it is.
func (c *Clock) Card(of any, base *shot.Card) *shot.Card {
	k := &c.kept
	if !c.Keeps(of) || base == nil {
		return base
	}
	if k.base != base {
		k.base, k.card = base, base
		text, _ := base.Typed(takeOff, fmt.Sprintf("+%d", k.minutes), nil, k.from)
		if card, _ := base.Set(takeOff, text); card != nil {
			k.card = card
		}
	}
	return k.card
}

// Count counts down to the take-off of a report.
func (c *Clock) Count(of any, r *plan.Report, begun bool) advice.Countdown {
	if r == nil || r.Shot == nil || c.now.IsZero() {
		return advice.Countdown{}
	}
	return advice.Count(r, advice.Start{Now: c.now, Kept: c.Keeps(of), FromNow: c.kept.minutes, Flying: begun})
}

// News returns what is said when it has become too late since it was last asked, once, and "" else. of is the card that
// was counted: when it is edited it begins anew, since then it is not the clock that made it late.
func (c *Clock) News(of *shot.Card, n advice.Countdown) string {
	l := &c.late
	if l.of != of {
		*l = lateness{of: of}
	}
	said := l.onTime && n.Late
	l.onTime = !n.Late && !l.said
	l.said = l.said || said
	if said {
		return n.News
	}
	return ""
}
