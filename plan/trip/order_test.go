package trip

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// someJobs makes a day of shots at places that lie apart, with windows that are short for what lies between.
func someJobs(r *rand.Rand, n int) *jobs {
	start := time.Date(2026, 9, 18, 17, 0, 0, 0, time.UTC)
	minutes := func(most int) time.Duration { return time.Duration(r.IntN(most)) * time.Minute }
	j := &jobs{list: make([]job, n), hops: make([][]hop, n)}
	filters, places := make([]int, n), make([]int, n)
	for i := range n {
		from := start.Add(minutes(120))
		j.list[i] = job{from, from.Add(minutes(90)), 5*time.Minute + minutes(20)}
		filters[i], places[i] = r.IntN(3), r.IntN(4)
	}
	for i := range n {
		j.hops[i] = make([]hop, n)
		for k := range n {
			far := max(places[i]-places[k], places[k]-places[i])
			j.hops[i][k].travel = time.Duration(7*far) * time.Minute
			if filters[i] != filters[k] {
				j.hops[i][k].change = 4 * time.Minute
			}
		}
	}
	return j
}

// permuted calls do with every order of n shots.
func permuted(n int, do func([]int)) {
	var rest func(order []int, left int)
	rest = func(order []int, k int) {
		if k == len(order) {
			do(order)
			return
		}
		for i := k; i < len(order); i++ {
			order[k], order[i] = order[i], order[k]
			rest(order, k+1)
			order[k], order[i] = order[i], order[k]
		}
	}
	rest(counted(n), 0)
}

func counted(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func TestOrderAgainstBruteForce(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	missed, changed := 0, 0
	for trial := range 120 {
		n := 1 + trial%8
		if n == 8 && trial > 40 {
			n = 5 // 40,320 orders each
		}
		j := someJobs(r, n)
		least := cost{missed: n + 1}
		permuted(n, func(order []int) {
			if _, c := j.fly(order); c.compare(least) < 0 {
				least = c
			}
		})
		order, c, _, exact := j.best(counted(n))
		if c != least || !exact {
			t.Fatalf("trial %d, %d shots: %v costs %+v, exact %v; the best of all orders %+v", trial, n, order, c, exact, least)
		}
		if again, d := j.fly(order); d.missed != 0 || d.changes != c.changes || d.minutes != c.minutes || !slices.Equal(again, order) {
			t.Fatalf("trial %d: flown, %v costs %+v, said was %+v", trial, order, d, c)
		}
		missed += c.missed
		changed += c.changes
	}
	if missed == 0 || changed == 0 {
		t.Errorf("no trial was hard: %d missed, %d changes", missed, changed)
	}
}

// Above the exact count no order is worse than the one written, and the same shots come out once each.
func TestOrderOfManyShots(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	better := 0
	for range 6 {
		n := exactUpTo + 1 + r.IntN(12)
		j := someJobs(r, n)
		_, written := j.fly(counted(n))
		order, c, _, exact := j.best(counted(n))
		if exact || c.compare(written) > 0 || len(order)+c.missed != n {
			t.Fatalf("%d shots: %+v for %+v, %d flown, exact %v", n, c, written, len(order), exact)
		}
		if sorted := slices.Sorted(slices.Values(order)); len(slices.Compact(sorted)) != len(order) {
			t.Fatalf("a shot twice: %v", order)
		}
		if c.compare(written) < 0 {
			better++
		}
	}
	if better < 4 {
		t.Errorf("only %d of 6 orders were bettered", better)
	}
}

// The heuristic is held against the exact order where both can be had.
func TestStepwiseIsNearTheBest(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	var same, more int
	for range 30 {
		j := someJobs(r, 8)
		_, best := j.exactly()
		_, c := j.stepwise(counted(8))
		if c.compare(best) < 0 {
			t.Fatalf("better than the best: %+v, %+v", c, best)
		}
		if c.missed == best.missed {
			same++
		}
		more += c.missed - best.missed
	}
	t.Logf("of 30, %d miss as few; %d more missed in all", same, more)
	if same < 24 {
		t.Errorf("only %d of 30 miss as few as the best", same)
	}
}

// Take-offs lie in their windows, far enough apart, and stay where they are where they may.
func TestTimesStayInWindows(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 8))
	moved := 0
	for range 200 {
		n := 1 + r.IntN(7)
		j := someJobs(r, n)
		own := make([]time.Time, n)
		for i := range own {
			w := j.list[i].to.Sub(j.list[i].from)
			own[i] = j.list[i].from.Add(time.Duration(r.Float64() * float64(w)))
		}
		order, _, _, _ := j.best(counted(n))
		times := j.times(order, func(i int) time.Time { return own[i] })
		for k, i := range order {
			if x := j.list[i]; times[k].Before(x.from) || times[k].After(x.to) {
				t.Fatalf("%v is outside of %v to %v", times[k], x.from, x.to)
			}
			if !times[k].Equal(own[i]) {
				moved++
			}
			if k == 0 {
				continue
			}
			if b := order[k-1]; times[k].Before(times[k-1].Add(j.list[b].length + j.hops[b][i].whole())) {
				t.Fatalf("shot %d begins at %v, the one before at %v for %v, %v between", i, times[k], times[k-1], j.list[b].length, j.hops[b][i].whole())
			}
		}
		// One shot alone is not moved.
		if n == 1 && !times[0].Equal(own[0]) {
			t.Fatalf("a shot alone is moved from %v to %v", own[0], times[0])
		}
	}
	if moved == 0 {
		t.Error("nothing had to be moved")
	}
}

// A day that is in order as it is written is left alone, to the second.
func TestDayInOrderIsLeftAlone(t *testing.T) {
	t.Parallel()
	c := demo(t)[0]
	for _, sec := range []int{0, 17, 59} {
		at := c.Shot.TakeOff.Add(time.Duration(sec) * time.Second)
		cards := worked(t, []Card{moving(t, c, "A", at.Add(-30*time.Minute), 0), moving(t, c, "B", at, 0)})
		d := Of(cards).Days[0]
		if d.Better(cards) || len(d.Order) != 2 || d.Order[1].Card != 1 {
			t.Errorf("%d s: %+v", sec, d.Order)
		}
	}
}
