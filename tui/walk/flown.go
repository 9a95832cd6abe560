package walk

import (
	"fmt"
	"time"

	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/panel"
)

// flownLegs is which legs of a card were ticked off in this window: what each did then. A leg that was changed since does
// something else, and is not flown. Nothing of it is written into the card, before the leg goes into the log.
type flownLegs map[int]tick

// tick is what a leg did when it was ticked off, and when that was.
type tick struct {
	move string
	at   time.Time
}

// place is a leg in the list: which flight it is of, and which of its legs.
type place struct{ flight, leg int }

// legs returns the list's legs in the order in which they are flown.
func legs(list walk.Walk) (out []place) {
	for i := range list {
		for j := range list[i].Legs {
			out = append(out, place{i, j})
		}
	}
	return out
}

func leg(list walk.Walk, p place) *walk.WalkLeg { return &list[p.flight].Legs[p.leg] }

// ticked tells whether a leg was ticked off as it is.
func (v *View) ticked(k panel.Known, l *walk.WalkLeg) bool {
	was, ok := v.done[k.CardKey()][l.Leg]
	return ok && was.move == l.Move
}

// Flown tells whether a leg of a card was ticked off.
func (v *View) Flown(card any) bool { return len(v.done[card]) > 0 }

// here returns which of the legs the playhead is in: the one that the walk is at.
func (v *View) here(k panel.Known) int {
	r := k.Report()
	if r == nil {
		return 0
	}
	if i := r.IndexAt(k.Second()); i >= 0 {
		for n, p := range legs(v.list) {
			if leg(v.list, p).Leg == r.Path[i].Leg {
				return n
			}
		}
	}
	return 0
}

// goBy goes to another leg; the playhead goes along, so that the answer above is of the same leg.
func (v *View) goBy(b panel.Bench, by int) {
	all := legs(v.list)
	if len(all) == 0 || b.Report() == nil || b.Stale() { // the list is still that of the card before
		return
	}
	n := max(0, min(v.here(b)+by, len(all)-1))
	b.PlayTo(b.Report().Legs[leg(v.list, all[n]).Leg].FromS)
	v.top = 0
}

// tick ticks the leg off and goes to the next.
func (v *View) tick(b panel.Bench) {
	all := legs(v.list)
	if len(all) == 0 || b.Stale() {
		return
	}
	n := v.here(b)
	l := leg(v.list, all[n])
	if v.done == nil {
		v.done = map[any]flownLegs{}
	}
	if v.done[b.CardKey()] == nil {
		v.done[b.CardKey()] = flownLegs{}
	}
	v.done[b.CardKey()][l.Leg] = tick{l.Move, b.Now()}
	left := 0
	for _, p := range all {
		if !v.ticked(b, leg(v.list, p)) {
			left++
		}
	}
	switch {
	case left == 0:
		b.Say("all legs are flown")
	case n == len(all)-1:
		b.Say(fmt.Sprintf("the last leg is flown, %d before it not yet", left))
	case all[n+1].flight != all[n].flight:
		b.Say(fmt.Sprintf("leg %d is flown; now land", l.Leg+1))
	}
	v.goBy(b, 1)
}

// untick takes the tick of the leg away.
func (v *View) untick(b panel.Bench) {
	if all := legs(v.list); len(all) > 0 {
		delete(v.done[b.CardKey()], leg(v.list, all[v.here(b)]).Leg)
	}
}

// sign returns what stands before a leg's number: that the walk is at it, or that it is flown.
func (s *setter) sign(l *walk.WalkLeg) string {
	switch {
	case s.at == l.Leg && s.many:
		return "▸"
	case s.ticked(l):
		return "✓"
	}
	return " "
}
