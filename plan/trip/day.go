package trip

import (
	"slices"
	"time"
)

// Plan is a trip as one.
type Plan struct {
	Cards   []Card
	Days    []Day
	Packing Packing
}

// Day is what is flown on one local date.
type Day struct {
	Date     time.Time // its midnight
	Stops    []Stop    // as the cards have it, by take-off
	Written  cost      // what that costs
	kept     cost      // what the same order costs when the shots move in their windows
	Order    []Move    // what is proposed: the shots that are reached in their windows
	Proposed cost
	Exact    bool // there is no better order
}

// Stop is a shot of a day where its card has it.
type Stop struct {
	Card             int // its place in Plan.Cards
	TakeOff, Landing time.Time
	hop                        // from the one before; nothing for the first
	Ready            time.Time // when one can take off after the one before; zero for the first
	Missed           bool      // its window, or where there is none its own take-off
	after            int       // the stop that Ready counts from; -1: none
	Conflicts        []Conflict
	Batteries        int // 0: not known
}

// Move is where the proposed order has a shot.
type Move struct {
	Card    int
	TakeOff time.Time
	hop     // from the one before
}

// Changes are the landings of the day to change a filter, between the shots as they are written and on them.
func (d *Day) Changes(cards []Card) int {
	n := d.own(cards)
	for i := range d.Stops {
		n += d.Stops[i].changes()
	}
	return n
}

// ProposedChanges are those of the order proposed.
func (d *Day) ProposedChanges(cards []Card) int { return d.Proposed.changes + d.own(cards) }

func (d *Day) own(cards []Card) int {
	var n int
	for i := range d.Stops {
		n += cards[d.Stops[i].Card].ownChanges()
	}
	return n
}

// Better tells whether the order proposed is worth taking: it costs less, or the same shots are reached in time.
func (d *Day) Better(cards []Card) bool {
	if d.Proposed.compare(d.Written) < 0 {
		return true
	}
	for _, m := range d.Order {
		if !m.TakeOff.Equal(cards[m.Card].Shot.TakeOff) {
			return true
		}
	}
	return false
}

// Batteries are those of all shots; known is false where some shot's are not.
func (d *Day) Batteries() (n int, known bool) {
	known = true
	for i := range d.Stops {
		n += d.Stops[i].Batteries
		known = known && d.Stops[i].Batteries > 0
	}
	return n, known
}

// Travel returns how long a hop's way and its change of filter take.
func (h hop) Travel() time.Duration { return h.travel }

// Km returns the way of a hop by road.
func (h hop) Km() float64 { return h.km }

// Changed tells that the filter is changed before the shot.
func (h hop) Changed() bool { return h.change > 0 }

// Of makes the plan of a trip. Cards that are not worked out yet have their times, ways and batteries, and nothing else.
func Of(cards []Card) *Plan {
	p := &Plan{Cards: cards}
	byDay := map[time.Time][]int{}
	for i := range cards {
		at := dayOf(cards[i].Shot).From
		key := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, time.UTC) // two zones may share a date
		byDay[key] = append(byDay[key], i)
	}
	var dates []time.Time
	for d := range byDay {
		dates = append(dates, d)
	}
	sortBy(dates, time.Time.Compare)
	for _, d := range dates {
		list := byDay[d]
		sortBy(list, func(a, b int) int { return cards[a].Shot.TakeOff.Compare(cards[b].Shot.TakeOff) })
		p.Days = append(p.Days, dayOfCards(cards, list))
	}
	p.Packing = packed(cards)
	return p
}

// dayOfCards plans the shots of one date, which are given in the order of their take-offs.
func dayOfCards(cards []Card, list []int) Day {
	d := Day{Date: dayOf(cards[list[0]].Shot).From}
	j := jobsOf(cards, list)
	var ready time.Time // as it would go: a shot that is late makes the next one late
	last := -1
	for k, i := range list {
		c := &cards[i]
		s := Stop{Card: i, TakeOff: c.Shot.TakeOff, Landing: c.Shot.TakeOff.Add(c.length()), Batteries: c.batteries(), after: last}
		begin := s.TakeOff
		if k > 0 {
			s.hop = j.hops[k-1][k]
		}
		if last >= 0 {
			s.Ready = ready.Add(j.hops[last][k].whole())
			begin = later(begin, s.Ready)
		}
		// What has no window is flown where it is, noise and all, or not at all.
		late := c.Worked != nil && c.Window == nil && begin.Sub(s.TakeOff) > endWithin
		s.Missed = late || c.missed(begin)
		if s.Missed {
			d.Written.missed++
		}
		if !s.Missed || c.nowhere() && !late {
			if last >= 0 {
				d.Written.changes += j.hops[last][k].changes()
				d.Written.minutes += j.hops[last][k].minutes()
			}
			ready, last = begin.Add(j.list[k].length), k
		}
		d.Stops = append(d.Stops, s)
	}
	if !slices.ContainsFunc(list, func(i int) bool { return cards[i].Worked == nil }) {
		d.propose(cards, list, j)
	}
	d.conflicts(cards, j)
	return d
}

func jobsOf(cards []Card, list []int) *jobs {
	j := &jobs{list: make([]job, len(list)), hops: make([][]hop, len(list))}
	for k, i := range list {
		s := cards[i].slot()
		j.list[k] = job{s.From, s.To, wholeMinutes(cards[i].length())}
		j.hops[k] = make([]hop, len(list))
		for m, o := range list {
			if m != k {
				j.hops[k][m] = hopOf(&cards[i], &cards[o])
			}
		}
	}
	return j
}

// propose puts the shots in their best order.
func (d *Day) propose(cards []Card, list []int, j *jobs) {
	written := make([]int, len(list))
	for k := range written {
		written[k] = k
	}
	own := func(k int) time.Time { return cards[list[k]].Shot.TakeOff }
	order, c, kept, exact := j.best(written)
	d.Exact, d.kept = exact, kept
	d.Proposed = c
	times := j.times(order, own)
	for n, k := range order {
		m := Move{Card: list[k], TakeOff: times[n].In(own(k).Location())}
		if n > 0 {
			m.hop = j.hops[order[n-1]][k]
		}
		d.Order = append(d.Order, m)
		if cards[m.Card].nowhere() { // missed whatever the order
			d.Proposed.missed++
		}
	}
}

func sortBy[T any](list []T, compare func(a, b T) int) { slices.SortStableFunc(list, compare) }
