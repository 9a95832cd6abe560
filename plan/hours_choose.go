package plan

import (
	"math"
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
	single := false // one whose ring turns freely
	axes := map[float64]bool{}
	for i := range bag.Filters {
		f := &bag.Filters[i]
		if !all && f.Name != s.Filter {
			continue
		}
		for _, setting := range settingsOf(f) {
			if f.Kind == kit.Variable {
				pairs = append(pairs, mounted{filter: f, setting: setting})
				continue
			}
			if f.Polarises() && len(rings(f)) == freeRings {
				single = true
				axes[onGrid(mounted{filter: f})] = true
			}
			add(y.bestRing(f, setting, ringsFor(s, f), &w, seen))
		}
	}

	for _, m := range pairs {
		if single && s.RingAuto && !y.couldWin(m, &w, mostMet(met, axes[onGrid(m)]), slices.MinFunc(ranked, order)) {
			continue
		}
		add(y.bestRing(m.filter, m.setting, ringsFor(s, m.filter), &w, func(*evaluation) {}))
	}
	slices.SortStableFunc(ranked, order)
	plainestFirst(ranked)
	return ranked[0]
}

// freeRings is the count of half-hours that a ring which turns freely is tried at ([rings]).
const freeRings = 12

// onGrid returns where the half-hours of a ring put the pass axis, in degrees from one to the next.
func onGrid(m mounted) float64 {
	return math.Round(100*math.Mod(m.passAxis(), 180/freeRings)) / 100
}

// betweenRings is by how much more an aim can be met between two half-hours of the clock than at the better of them:
// what passes goes with the cosine of twice the angle, 7.5° off loses 3.4 % of it, and an aim counts what is gone at
// 1.4 times that.
const betweenRings = 0.05

// mostMet returns the most that a pair of sheets can do for each leg's aim, where the best single sheets at all
// half-hours do met. tried tells that these had the same pass axes.
func mostMet(met []float64, tried bool) []float64 {
	if tried {
		return met
	}
	most := slices.Clone(met)
	for i := range most {
		most[i] += betweenRings
	}
	return most
}

// ringsFor returns the rings of a filter that a card leaves to choose from.
func ringsFor(s *shot.Shot, f *kit.Filter) []float64 {
	if !s.RingAuto && f.Polarises() && f.Ring != kit.RingFixed {
		return []float64{s.RingDeg}
	}
	return rings(f)
}

// couldWin tells whether a pair of sheets could do better than the best so far ([analysis.pairBound]). One that
// is no better can still be taken instead of a filter that is less plain, to within what is worth a word.
func (y *analysis) couldWin(m mounted, w *kit.Weights, met []float64, best *evaluation) bool {
	bound := y.pairBound(m, w, met)
	if bound.ranksBefore(best) {
		return true
	}
	return bound.plainness() < best.plainness() && bound.feasible() == best.feasible() && bound.score <= best.score+words.ReasonStops
}

// pairBound returns what no ring of a pair of sheets is better than, if it does as much for every leg's aim as
// the best single sheet does. The pair's own sheet before the lens polarises no better than a single one, and
// what is in front of it takes its light alike. Nothing but the exposure is held against it, and its glass.
//
// A filter moves what the meter reads within bounds: the land is read the same behind all of them, and no part of
// the frame comes out brighter than if all of its light were polarised and let through. Each fault of an exposure
// is one of too little light or of too much, so that it is least at one of the two ends.
func (y *analysis) pairBound(m mounted, w *kit.Weights, met []float64) *evaluation {
	bound := &evaluation{mounted: m}
	for k, n := range y.apertures() {
		loss := m.loss()
		exposures := y.exposuresOf(mounted{}, n, loss)
		j := &evaluation{mounted: m, nNumber: n}
		for i, l := range y.legs {
			x, b := &exposures[i], &l.bounds
			up := y.brightens(l, m)
			land := x.meter.ofLand()
			low, high := l.expose(b, land.set, n, loss), l.expose(b, x.meter.set+up, n, loss)
			if s := l.expose(b, x.meter.dark+up, n, loss).beyond; s > ExposureSlack {
				j.beyond = max(j.beyond, s)
			} else if s := l.expose(b, land.bright, n, loss).bright; s > ExposureSlack {
				j.bright = max(j.bright, s)
			}
			harm := w.ISO*(high.noise+max(0, x.still.noise-up)) + w.Shutter*(low.fast+l.blurWish*high.slow) +
				w.Blur*(high.blurred+max(0, x.still.blurred-up))
			if (low.shutterS < b.look) == (high.shutterS < b.look) { // both on one side of the angle that looks right
				harm += w.Angle * min(low.off, high.off)
			}
			if l.sunNear {
				harm += w.SunSheets
			}
			harm += w.Cast*max(0, math.Abs(m.filter.CastMired)-castFrom)/10 + softPerStop*y.softStops(n)
			j.score += (harm - aimGain(w, max(met[i], 0))) / float64(len(y.legs))
		}
		if k == 0 || j.ranksBefore(bound) {
			bound = j
		}
	}
	return bound
}

// brightens returns by how many stops a pair of sheets at most brightens a part of a leg's frame against what it
// takes from plain light on the axis: twice where the light is polarised along the sheet, and by what its own
// pattern lets through more towards the rim.
func (y *analysis) brightens(l *legAnalysis, m mounted) float64 {
	if l.Expose == shot.ExposeLand {
		return 0
	}
	var spread float64
	for _, ring := range rings(m.filter) {
		m.ring = ring
		spread = max(spread, y.cornersOf(l, m))
	}
	return 1 + spread
}

// landLight is what a meter reads at least, behind any filter: the land alone.
type landLight struct{ set, dark, bright float64 }

func (r *legMeter) ofLand() landLight {
	dark, bright := math.Inf(1), math.Inf(-1)
	for _, list := range r.land {
		for _, ev := range list {
			dark, bright = min(dark, ev), max(bright, ev)
		}
	}
	return landLight{lockedAt(dark, bright), dark, bright}
}
