package plan

import (
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
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
	var pairs []mounting.Way
	met := make([]float64, len(y.legs)) // the most that any single sheet does for each leg's aim
	add := func(j *evaluation) { ranked = append(ranked, j) }
	seen := func(j *evaluation) {
		for i := range j.legs {
			met[i] = max(met[i], j.legs[i].met)
		}
	}
	if all || s.Filter == words.Bare {
		bare := y.evaluate(mounting.Way{}, &w, 0)
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
		for _, setting := range mounting.SettingsOf(f) {
			if f.Kind == kit.Variable {
				pairs = append(pairs, mounting.Way{Filter: f, Setting: setting})
				continue
			}
			if f.Polarises() && len(mounting.Rings(f)) == mounting.FreeRings {
				single = true
				axes[mounting.OnGrid(mounting.Way{Filter: f})] = true
			}
			add(y.bestRing(f, setting, mounting.RingsFor(s, f), &w, seen))
		}
	}

	for _, m := range pairs {
		if single && s.RingAuto && !y.couldWin(m, &w, mostMet(met, axes[mounting.OnGrid(m)]), slices.MinFunc(ranked, order)) {
			continue
		}
		add(y.bestRing(m.Filter, m.Setting, mounting.RingsFor(s, m.Filter), &w, func(*evaluation) {}))
	}
	slices.SortStableFunc(ranked, order)
	plainestFirst(ranked)
	return ranked[0]
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

// couldWin tells whether a pair of sheets could do better than the best so far ([analysis.pairBound]). One that
// is no better can still be taken instead of a filter that is less plain, to within what is worth a word.
func (y *analysis) couldWin(m mounting.Way, w *kit.Weights, met []float64, best *evaluation) bool {
	bound := y.pairBound(m, w, met)
	if bound.ranksBefore(best) {
		return true
	}
	return bound.Plainness() < best.Plainness() && bound.feasible() == best.feasible() && bound.score <= best.score+words.ReasonStops
}

// pairBound returns what no ring of a pair of sheets is better than, if it does as much for every leg's aim as
// the best single sheet does. The pair's own sheet before the lens polarises no better than a single one, and
// what is in front of it takes its light alike. Nothing but the exposure is held against it, and its glass.
//
// A filter moves what the meter reads within bounds: the land is read the same behind all of them, and no part of
// the frame comes out brighter than if all of its light were polarised and let through. Each fault of an exposure
// is one of too little light or of too much, so that it is least at one of the two ends.
func (y *analysis) pairBound(m mounting.Way, w *kit.Weights, met []float64) *evaluation {
	bound := &evaluation{Way: m}
	for k, n := range setting.Apertures(&y.s.Camera) {
		loss := m.Loss()
		exposures := y.exposuresOf(mounting.Way{}, n, loss)
		j := &evaluation{Way: m, nNumber: n}
		for i, l := range y.legs {
			x, b := exposures[i], &l.Bounds
			up := y.brightens(l, m)
			land := x.meter.ofLand()
			low, high := l.SetFor(b, land.set, n, loss), l.SetFor(b, x.meter.set+up, n, loss)
			if s := l.SetFor(b, x.meter.dark+up, n, loss).Beyond; s > setting.ExposureSlack {
				j.beyond = max(j.beyond, s)
			} else if s := l.SetFor(b, land.bright, n, loss).Bright; s > setting.ExposureSlack {
				j.bright = max(j.bright, s)
			}
			harm := w.ISO*(high.Noise+max(0, x.still.Noise-up)) + w.Shutter*(low.Fast+l.BlurWish*high.Slow) +
				w.Blur*(high.Blurred+max(0, x.still.Blurred-up))
			if (low.ShutterS < b.LookS) == (high.ShutterS < b.LookS) { // both on one side of the angle that looks right
				harm += w.Angle * min(low.Off, high.Off)
			}
			if l.sunNear {
				harm += w.SunSheets
			}
			harm += w.Cast*max(0, math.Abs(m.Filter.CastMired)-castFrom)/10 + softPerStop*setting.SoftStops(&y.s.Camera, n)
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
func (y *analysis) brightens(l *legAnalysis, m mounting.Way) float64 {
	if l.Expose == shot.ExposeLand {
		return 0
	}
	var spread float64
	for _, ring := range mounting.Rings(m.Filter) {
		m.Ring = ring
		spread = max(spread, glass.Corners(m, l.halfW, l.halfH))
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
	return landLight{setting.LockedAt(dark, bright), dark, bright}
}
