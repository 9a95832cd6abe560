package plan

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/mounting"
)

// ringSearch looks for the best ring of a filter at one setting.
type ringSearch struct {
	filter  *kit.Filter
	setting float64
	rings   []float64
	wished  bool          // the ring is the card's
	judged  []*evaluation // at every ring that was tried, and last the best, read for itself
	best    *evaluation
	at      int   // of the rings, the best
	tries   []int // of the rings, those of this step
}

// coarseStep is by how many rings the search goes on at first. Every setting of a pair of sheets answers in its own way,
// so of its rings every third one is tried first, and then those beside the best.
func (r *ringSearch) coarseStep() int {
	if r.filter.Kind == kit.Variable && len(r.rings) >= 12 {
		return 3
	}
	return 1
}

func (r *ringSearch) mountedAt(i int) mounting.Way {
	return mounting.Way{Filter: r.filter, Setting: r.setting, Ring: r.rings[i]}
}

// coarse lists the rings that are tried at first, none for a filter that does not polarise.
func (r *ringSearch) coarse() []int {
	if !r.filter.Polarises() {
		return nil
	}
	list := make([]int, 0, len(r.rings))
	for i := 0; i < len(r.rings); i += r.coarseStep() {
		list = append(list, i)
	}
	return list
}

// beside lists those that are tried then.
func (r *ringSearch) beside() []int {
	if !r.filter.Polarises() || r.coarseStep() == 1 {
		return nil
	}
	n := len(r.rings)
	return []int{(r.at + 1) % n, (r.at + n - 1) % n}
}

// try judges the filter at some of its rings, roughly.
func (y *analysis) try(r *ringSearch, at []int, w *kit.Weights) {
	if r.judged == nil {
		r.judged = make([]*evaluation, 0, len(r.rings)+1)
	}
	for _, i := range at {
		j := y.evaluateRough(r.mountedAt(i), w)
		r.judged = append(r.judged, j)
		if r.best == nil || j.ranksBefore(r.best) {
			r.best, r.at = j, i
		}
	}
}

// choice is how the best ring found is mounted, or the filter if it has no ring to search.
func (y *analysis) choice(r *ringSearch) mounting.Way {
	if !r.filter.Polarises() {
		return r.mountedAt(0)
	}
	if r.best.asDensity() {
		return y.quietest(r.best, r.judged).Way
	}
	return r.best.Way
}

// search finishes all searches. Before each of its steps what that asks for is worked out for all filters together, on
// several cores.
func (y *analysis) search(list []ringSearch, w *kit.Weights) {
	for _, step := range []func(*ringSearch) []int{(*ringSearch).coarse, (*ringSearch).beside} {
		mounts := y.ownMemory().ways[:0]
		for i := range list {
			list[i].tries = step(&list[i])
			for _, k := range list[i].tries {
				mounts = append(mounts, list[i].mountedAt(k))
			}
		}
		y.memory.ways = mounts
		y.prepare(mounts) // and the first time the bare lens, by which all of them are judged
		for i := range list {
			y.try(&list[i], list[i].tries, w)
		}
	}
	mounts := y.memory.ways[:0]
	for i := range list {
		mounts = append(mounts, y.choice(&list[i]))
	}
	y.memory.ways = mounts
	y.prepareMeters(mounts)
	for i := range list {
		r := &list[i]
		r.best = y.evaluate(mounts[i], w, 0)
		r.judged = append(r.judged, r.best)
	}
}

// bestRing judges a filter at several rings and gives the best. Each is shown every ring that was judged.
func (y *analysis) bestRing(f *kit.Filter, setting float64, list []float64, w *kit.Weights, each func(*evaluation)) *evaluation {
	r := []ringSearch{{filter: f, setting: setting, rings: list}}
	y.search(r, w)
	for _, j := range r[0].judged {
		each(j)
	}
	return r[0].best
}
