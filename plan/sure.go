package plan

import "time"

// closeMargin is the difference in score, in stops, under which two filters are as good as one
// another (ours).
const closeMargin = 0.25

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
		return "depends", "on " + c.best.shortfall()
	}
	if rival := c.rival(); rival != nil && rival.score-c.best.score < closeMargin && rival.plainness() <= c.best.plainness() {
		return "close", "to " + rival.title()
	}
	return "holds", "by the scores alone: nothing was tried"
}

// wishedSureness returns the sureness of a call that the card itself made.
func (y *analysis) wishedSureness(c *ranking, base *evaluation) (confidence, why string) {
	if c.free.Name() == base.Name() || base.score-c.free.score < closeMargin {
		return "holds", "the card asks for " + base.title() + ", and nothing in the bag does better by much"
	}
	return "depends", "on the card's own wish: " + c.free.title() + " would do better"
}
