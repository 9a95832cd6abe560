package plan

import (
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// chooseForHour returns the same choice as [analysis.choose] within the card's wishes, and of the other
// candidates only what that takes: a filter that the card does not allow is not tried, and a pair of
// sheets, every setting and ring of which answers in its own way, only where it could still win
// (TestHourChoiceIsTheChoice).
func (y *analysis) chooseForHour(bag *kit.Bag) *evaluation {
	w := bag.Settings.Weights
	s := y.s
	_, known := bag.FilterByName(s.Filter)
	all := anyFilter(s) || s.Filter != words.Bare && !known
	var ranked []*evaluation
	var pairs []mounted
	met := make([]float64, len(y.legs)) // the most that any single sheet does for each leg's aim
	add := func(j *evaluation) { ranked = append(ranked, j) }
	seen := func(j *evaluation) {
		for i := range j.legs {
			met[i] = max(met[i], j.legs[i].met)
		}
	}
	if all || s.Filter == words.Bare {
		bare := y.evaluate(mounted{}, &w, 0)
		seen(bare)
		add(bare)
	}
	single := false
	for i := range bag.Filters {
		f := &bag.Filters[i]
		if !all && f.Name != s.Filter {
			continue
		}
		settings := f.Settings()
		if len(settings) == 0 {
			settings = []float64{0}
		}
		for _, setting := range settings {
			if f.Kind == kit.Variable {
				pairs = append(pairs, mounted{filter: f, setting: setting})
				continue
			}
			single = single || f.Polarises() && f.Ring != kit.RingFixed
			add(y.bestRing(f, setting, ringsFor(s, f), &w, seen))
		}
	}

	for _, m := range pairs {
		if single && s.RingAuto && len(ranked) > 0 && !y.couldWin(m, &w, met, slices.MinFunc(ranked, order)) {
			continue
		}
		add(y.bestRing(m.filter, m.setting, ringsFor(s, m.filter), &w, func(*evaluation) {}))
	}
	slices.SortStableFunc(ranked, order)
	plainestFirst(ranked)
	return ranked[0]
}

// ringsFor returns the rings of a filter that a card leaves to choose from.
func ringsFor(s *shot.Shot, f *kit.Filter) []float64 {
	if !s.RingAuto && f.Polarises() && f.Ring != kit.RingFixed {
		return []float64{s.RingDeg}
	}
	return rings(f)
}

// couldWin tells whether a pair of sheets could do better than the best so far if it did as much for
// every leg's aim as the best single sheet does, and nothing wrong to the sky. A pair's own sheet before
// the lens polarises no better than a single one, and what is in front of it takes its light alike.
func (y *analysis) couldWin(m mounted, w *kit.Weights, met []float64, best *evaluation) bool {
	m.ring = 0
	bound := &evaluation{mounted: m}
	for k, n := range y.apertures() {
		exposures := y.exposuresOf(n, m.loss())
		j := &evaluation{mounted: m, nNumber: n}
		for i, l := range y.legs {
			x := &exposures[i]
			j.beyond, j.bright = max(j.beyond, x.dark.beyond), max(j.bright, x.bright.bright)
			harm := w.ISO*(max(x.dark.noise, x.bright.noise)+x.still.noise) + w.Shutter*x.bright.fast + w.Blur*(x.dark.blurred+x.still.blurred)
			if l.sunNear {
				harm += w.SunSheets
			}
			j.score += (harm - aimGain(w, max(met[i], 0))) / float64(len(y.legs))
		}
		if k == 0 || j.ranksBefore(bound) {
			bound = j
		}
	}
	return bound.ranksBefore(best)
}
