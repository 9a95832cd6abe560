package plan

import (
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Options say how closely a shot is worked out. The zero value is what a live screen wants.
type Options struct {
	PerLeg       int   // moments a leg; 0: 32
	Fine         bool  // every moment worked out for itself on the full grid, none interpolated
	Kept         *Kept // what the last shot left, for a shot that is a little different; nil: nothing is known
	SkipSureness bool  // leave out [Report.Sureness], which costs three times as much as all the rest
}

const defaultPerLeg = 32

// How far heading and pitch may turn between two moments at which the sky in the frame is worked
// out, and how many of these a leg has at most: for finding the call, and for the measures under it.
// Between the closer ones the measures are interpolated (TestInterpolationAgrees).
const (
	roughTurnDeg, roughMost = 30, 7
	closeTurnDeg, closeMost = 5, 32
)

// Solve works out everything about a shot: the measures along the path, the call and its reasons.
// It is a pure function of its arguments and does not panic on a shot that [Card.Shot] made.
func Solve(s *shot.Shot, bag *kit.Bag, o Options) *Report {
	if o.PerLeg <= 0 {
		o.PerLeg = defaultPerLeg
	}
	r := &Report{Shot: s, Bag: bag}
	if len(s.Legs) == 0 {
		r.Call = Call{Filter: words.Bare, Confidence: "depends", ConfidenceWhy: "on the legs: there are none yet"}
		return r
	}
	r.Path = shot.Path(s, o.PerLeg)
	kept := o.Kept
	if kept == nil {
		kept = new(Kept)
	}
	kept.mu.Lock()
	defer kept.mu.Unlock()
	share, was := kept.begin(s, bag, r.Path)
	mem := memories.Get().(*memory)
	y := newAnalysisKnowing(s, r.Path, turnKeys(roughTurnDeg, roughMost), share, was.rough, mem)
	y.was = was
	c := y.choose(bag)
	parts := y.flights(c, bag)
	r.Path = parts[0].path // Later from the first landing on

	// The chosen filter is measured closely; its rivals were judged well enough to lose.
	keys, samples := turnKeys(closeTurnDeg, closeMost), frame.EnoughSky
	if o.Fine {
		keys, samples = everyMoment, frame.GridW*frame.GridH
	}
	for i := range parts {
		p := &parts[i]
		p.near = p.refined(keys, samples, p.c.best.Polarises())
		p.evaluation = p.near.evaluate(p.c.best.Way, &p.c.weights, 0)
	}
	r.fill(y, c, parts)
	first, why := parts[0].atFirstSight()
	if kept == o.Kept {
		kept.end(y, bag, &parts[0], samples)
	}
	mem.done()
	r.Call.Confidence, r.Call.ConfidenceWhy = first, why
	if !o.SkipSureness {
		r = r.WithSureness(r.Sureness())
	}
	return r
}

// keysOf picks those of a leg's moments that become samples: it adds them to a list.
type keysOf func(list []int, ms []shot.Moment) []int

// turnKeys picks them by how the camera turns.
func turnKeys(perDeg float64, most int) keysOf {
	return func(list []int, ms []shot.Moment) []int { return shot.Keys(list, ms, perDeg, most) }
}

func everyMoment(list []int, ms []shot.Moment) []int {
	for i := range ms {
		list = append(list, i)
	}
	return list
}

// ranking is the choice among all candidates.
type ranking struct {
	weights kit.Weights
	ranked  []*evaluation // best first, each at its best ring; the card's wishes not looked at
	best    *evaluation   // within the card's wishes
	free    *evaluation   // best without them; the same as best when there are none
	pool    []*evaluation // every mounting that the card leaves to choose from, at every ring that was tried
	least   *evaluation   // of these the one with the least penalty over the legs together
}

// choose judges every filter of the bag in every way it can be put on.
func (y *analysis) choose(bag *kit.Bag) *ranking {
	c := &ranking{weights: bag.Settings.Weights}
	s := y.s
	keep := func(j *evaluation) {
		free := s.RingAuto || !j.Polarises() || j.Filter.Ring == kit.RingFixed || j.Ring == s.RingDeg
		if free && (anyFilter(s) || j.Name() == s.Filter) {
			c.pool = append(c.pool, j)
		}
	}
	var wished []*evaluation // what the card allows, where its ring is given
	var list []ringSearch
	for i := range bag.Filters {
		f := &bag.Filters[i]
		for _, setting := range mounting.SettingsOf(f) {
			list = append(list, ringSearch{filter: f, setting: setting, rings: mounting.Rings(f)})
			if !s.RingAuto && f.Polarises() && f.Ring != kit.RingFixed {
				list = append(list, ringSearch{filter: f, setting: setting, rings: []float64{s.RingDeg}, wished: true})
			}
		}
	}
	y.search(list, &c.weights)
	c.pool, c.ranked = make([]*evaluation, 0, 16*len(list)), make([]*evaluation, 0, len(list)+1)
	bare := y.evaluate(mounting.Way{}, &c.weights, 0)
	keep(bare)
	c.ranked = append(c.ranked, bare)
	for _, r := range list {
		for _, j := range r.judged {
			keep(j)
		}
		if r.wished {
			wished = append(wished, r.best)
		} else {
			c.ranked = append(c.ranked, r.best)
		}
	}
	slices.SortStableFunc(c.ranked, order)
	plainestFirst(c.ranked)
	c.free = c.ranked[0]
	pool := c.ranked
	if !s.RingAuto {
		// Filters whose ring the card does not decide stand as they are.
		for _, j := range c.ranked {
			if !j.Polarises() || j.Filter.Ring == kit.RingFixed {
				wished = append(wished, j)
			}
		}
		slices.SortStableFunc(wished, order)
		plainestFirst(wished)
		pool = wished
	}
	for _, j := range pool {
		if anyFilter(s) || j.Name() == s.Filter {
			c.best = j
			break
		}
	}
	if c.best == nil { // a name that the bag does not have: a card is refused for that
		c.best = c.free
	}
	c.least = c.best
	least := c.best.totalCost()
	for _, j := range c.pool {
		if x := j.totalCost(); x < least-1e-9 {
			c.least, least = j, x
		}
	}
	return c
}

// anyFilter tells that the card leaves the choice of the filter to the program.
func anyFilter(s *shot.Shot) bool { return s.Filter == "auto" || s.Filter == "" }

// plainestFirst brings the simplest of those that do as well as the first, to within what is worth a
// word, to the front; and bare where the first is only better for a wish for blur that is less than half.
func plainestFirst(ranked []*evaluation) {
	best := 0
	for i, j := range ranked {
		if j.feasible() == ranked[0].feasible() && j.feasible() && j.score <= ranked[0].score+words.ReasonStops && j.Plainness() < ranked[best].Plainness() {
			best = i
		}
	}
	if first := ranked[best]; first.Polarises() && !first.earns() {
		// A polariser that does nothing is more glass: a plain density that nearly does as well is taken instead.
		for i, j := range ranked {
			if j.Kind() == kit.Density && j.feasible() && j.score <= first.score+words.CloseStops {
				best = i
				break
			}
		}
	}
	if first := ranked[best]; first.Filter != nil {
		for i, j := range ranked {
			if j.Filter == nil && j.feasible() && j.firm <= first.firm+words.ReasonStops {
				best = i
			}
		}
	}
	j := ranked[best]
	copy(ranked[1:best+1], ranked[:best])
	ranked[0] = j
}

func order(a, b *evaluation) int {
	switch {
	case a.ranksBefore(b):
		return -1
	case b.ranksBefore(a):
		return 1
	}
	return 0
}

// rival returns the best candidate with another filter than the call's, nil without one.
func (c *ranking) rival() *evaluation {
	for _, j := range c.ranked {
		if j.Name() != c.best.Name() && j.feasible() {
			return j
		}
	}
	return nil
}
