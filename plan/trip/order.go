package trip

import (
	"cmp"
	"math/bits"
	"time"
)

// Up to so many shots a day are ordered exactly; above, by moving one at a time for as long as that helps, at most so
// often (ours).
const (
	exactUpTo = 12
	mostTries = 60000
)

// job is a shot as an order sees it: it can be begun from one moment to another, and then takes a while.
type job struct {
	from, to time.Time
	length   time.Duration
}

// jobs are the shots of a day, and what lies between each two of them.
type jobs struct {
	list []job
	hops [][]hop // [from][to]
}

// cost is what an order is judged by, the first figure first.
type cost struct{ missed, changes, minutes int }

func (a cost) compare(b cost) int {
	return cmp.Or(cmp.Compare(a.missed, b.missed), cmp.Compare(a.changes, b.changes), cmp.Compare(a.minutes, b.minutes))
}

// fly flies shots in an order, each as early as it can be, and returns those that it reaches in their windows. The others
// are not flown: they take no time, and nothing is changed for them.
func (j *jobs) fly(order []int) (flown []int, c cost) {
	var ready time.Time
	last := -1
	for _, i := range order {
		x := &j.list[i]
		begin := x.from
		var h hop
		if last >= 0 {
			h = j.hops[last][i]
			begin = later(begin, ready.Add(h.whole()))
		}
		if begin.After(x.to) {
			c.missed++
			continue
		}
		c.changes += h.changes()
		c.minutes += h.minutes()
		ready, last = begin.Add(x.length), i
		flown = append(flown, i)
	}
	return flown, c
}

// best returns the order with the least cost, those that are flown only; of equals the one that was written. exact tells
// that there is none better. asWritten is what the order written costs when the shots move in their windows.
func (j *jobs) best(written []int) (order []int, c, asWritten cost, exact bool) {
	order, c = j.fly(written)
	asWritten = c
	exact = len(j.list) <= exactUpTo
	var found []int
	var least cost
	if exact {
		found, least = j.exactly()
	} else {
		found, least = j.stepwise(written)
	}
	if least.compare(c) < 0 {
		return found, least, asWritten, exact
	}
	return order, c, asWritten, exact
}

// label is one way to fly a set of shots that ends with a certain one. A way that costs more may still be over earlier,
// and reach what the other misses.
type label struct {
	cost
	over   time.Time
	before *label
	last   int
}

// exactly goes through the sets of shots, from the small to the large ones (dynamic programming over subsets): the best
// ways to fly a set that end with one shot are the best ways to fly it without that shot, and then the shot. Kept are all
// ways of which no other is at once no dearer and no later. It comes to the same as to try every order
// (TestOrderAgainstBruteForce).
func (j *jobs) exactly() ([]int, cost) {
	n := len(j.list)
	ways := make([][][]label, 1<<n)
	var best *label
	better := func(a, b *label, of, than int) bool {
		return b == nil || of > than || of == than && a.cost.compare(b.cost) < 0
	}
	flown := 0
	for set := 1; set < 1<<n; set++ {
		ways[set] = make([][]label, n)
		for rest := set; rest != 0; rest &= rest - 1 {
			i := bits.TrailingZeros(uint(rest))
			x := &j.list[i]
			without := set &^ (1 << i)
			if without == 0 {
				ways[set][i] = []label{{over: x.from.Add(x.length), last: i}}
			} else {
				for k := range n {
					for w := range ways[without][k] {
						b := &ways[without][k][w]
						h := j.hops[k][i]
						begin := later(x.from, b.over.Add(h.whole()))
						if begin.After(x.to) {
							continue
						}
						a := label{cost{0, b.changes + h.changes(), b.minutes + h.minutes()}, begin.Add(x.length), b, i}
						ways[set][i] = keep(ways[set][i], a)
					}
				}
			}
			for w := range ways[set][i] {
				if a := &ways[set][i][w]; better(a, best, bits.OnesCount(uint(set)), flown) {
					best, flown = a, bits.OnesCount(uint(set))
				}
			}
		}
	}
	if best == nil {
		return nil, cost{}
	}
	c := best.cost
	c.missed = n - flown
	order := make([]int, flown)
	for a := best; a != nil; a = a.before {
		flown--
		order[flown] = a.last
	}
	return order, c
}

// keep adds a way to a list of ways, none of which another makes useless.
func keep(list []label, a label) []label {
	useless := func(a, b *label) bool { return b.cost.compare(a.cost) <= 0 && !b.over.After(a.over) }
	for i := range list {
		if useless(&a, &list[i]) {
			return list
		}
	}
	out := list[:0:0]
	for i := range list {
		if !useless(&list[i], &a) {
			out = append(out, list[i])
		}
	}
	return append(out, a)
}

// stepwise begins with the better of the order written and that of the windows' ends, and puts one shot elsewhere for as
// long as that makes the whole better.
func (j *jobs) stepwise(written []int) ([]int, cost) {
	order := append([]int(nil), written...)
	flown, least := j.fly(order)
	byEnd := append([]int(nil), written...)
	sortBy(byEnd, func(a, b int) int { return j.list[a].to.Compare(j.list[b].to) })
	if f, c := j.fly(byEnd); c.compare(least) < 0 {
		order, flown, least = byEnd, f, c
	}
	tries := 0
	trial := make([]int, 0, len(order))
	for again := true; again; {
		again = false
		for from := range order {
			for to := range order {
				if to == from {
					continue
				}
				if tries++; tries > mostTries {
					return flown, least
				}
				trial = moved(trial[:0], order, from, to)
				if f, c := j.fly(trial); c.compare(least) < 0 {
					order, trial = trial, order
					flown, least, again = f, c, true
				}
			}
		}
	}
	return flown, least
}

// moved appends an order in which one shot stands elsewhere.
func moved(out, order []int, from, to int) []int {
	for k, i := range order {
		if k == from {
			continue
		}
		if to < from && k == to {
			out = append(out, order[from])
		}
		out = append(out, i)
		if to > from && k == to {
			out = append(out, order[from])
		}
	}
	return out
}

// times returns when the shots of an order begin: each as near as can be to where its card has it, so that all those that
// follow are still reached. They lie on whole minutes where they were moved.
func (j *jobs) times(order []int, own func(int) time.Time) []time.Time {
	n := len(order)
	latest := make([]time.Time, n)
	for k := n - 1; k >= 0; k-- {
		latest[k] = j.list[order[k]].to
		if k+1 < n {
			h := j.hops[order[k]][order[k+1]]
			latest[k] = earlier(latest[k], latest[k+1].Add(-h.whole()-j.list[order[k]].length))
		}
	}
	out := make([]time.Time, n)
	for k, i := range order {
		first := j.list[i].from
		if k > 0 {
			b := order[k-1]
			first = later(first, out[k-1].Add(j.list[b].length+j.hops[b][i].whole()))
		}
		t := own(i)
		switch {
		case t.Before(first):
			if t = first.Truncate(time.Minute); t.Before(first) {
				t = t.Add(time.Minute)
			}
			if t.After(latest[k]) {
				t = first
			}
		case t.After(latest[k]):
			if t = latest[k].Truncate(time.Minute); t.Before(first) {
				t = latest[k]
			}
		}
		out[k] = t
	}
	return out
}
