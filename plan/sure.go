package plan

import (
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/words"
)

// What a pilot and a label may be off by (ours, but for the label: from memory).
const (
	ringErrorDeg    = 10.0
	headingErrorDeg = 10.0
	labelErrorStops = 1.0 / 3
	lateStart       = 20 * time.Minute
)

// atFirstSight says how sure a call looks from the scores alone.
func (p *plannedFlight) atFirstSight() (confidence, why string) {
	c := p.c
	if !anyFilter(p.s) {
		return p.wishedSureness(c, c.best)
	}
	if !c.best.feasible() {
		return "depends", p.lightMissing(c.best)
	}
	if why := p.heavyPair(c.best); why != "" {
		return "depends", why
	}
	if rival := c.rival(); rival != nil && rival.score-c.best.score < words.CloseStops && rival.Plainness() <= c.best.Plainness() {
		return "close", "toss-up with " + rival.Title()
	}
	return "holds", "at first sight: no error is tried yet"
}

// lightMissing says that a call depends on light that the camera cannot expose.
func (y *analysis) lightMissing(j *evaluation) string {
	if j.beyond > 0 && y.lamps(y.legs[y.deciding(j)]) {
		return "on the lamps, which are not in the model"
	}
	return "on the light, which is " + y.shortfall(j)
}

// heavyPair says that a variable darkens its corners too much to be sure of, at the setting in use: they turn with every
// nudge of the front sheet. "" for any other filter.
func (y *analysis) heavyPair(j *evaluation) string {
	if j.Kind() != kit.Variable || j.corners <= cornersFrom {
		return ""
	}
	return cornersLine(j)
}

// wishedSureness returns the sureness of a call that the card itself made.
func (y *analysis) wishedSureness(c *ranking, base *evaluation) (confidence, why string) {
	if why := y.heavyPair(base); why != "" {
		return "depends", why
	}
	if c.free.Name() == base.Name() || base.score-c.free.score < words.CloseStops {
		return "holds", "the card asks for " + base.Title() + ", and nothing else does much better"
	}
	return "depends", "on the card's own wish: " + c.free.Title() + " would do better"
}
