package plan

import (
	"fmt"
	"strings"
	"time"

	"example.org/skywedge/kit"
)

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

// rivals is how many other filters are tried against the call.
const rivals = 3

// trial is one thing that may be a little different from the plan.
type trial struct {
	what    string
	study   *study
	ringOff float64
	lossOff float64
}

// sureness tries what small errors would change, and says whether the call stands: holds, close
// (another filter does nearly as well), or depends (on what).
func (y *study) sureness(c *contest) (confidence, why string) {
	base := y.judge(c.best.mounted, &c.weights, 0)
	var field []*judged
	for _, j := range c.ranked {
		known := j.name() == base.name()
		for _, k := range field {
			known = known || k.name() == j.name()
		}
		if !known && len(field) < rivals {
			field = append(field, j)
		}
	}
	if !base.feasible() {
		return "depends", "on " + base.shortfall()
	}
	if len(field) == 0 || y.s.Filter != "auto" && y.s.Filter != "" {
		return y.wishedSureness(c, base)
	}
	var overturned []string
	least := make([]float64, len(field)) // by how much the call leads each rival at worst
	for i, f := range field {
		least[i] = f.score - base.score
	}
	tried := 0
	for _, t := range y.trials(base, field) {
		tried++
		a := t.judge(base, &c.weights)
		for i, f := range field {
			b := t.judge(f, &c.weights)
			lead := b.score - a.score
			if a.feasible() != b.feasible() {
				lead = closeMargin * 4
				if b.feasible() {
					lead = -lead
				}
			}
			least[i] = min(least[i], lead)
			if lead < -closeMargin {
				overturned = append(overturned, t.what+" ("+f.title()+" then)")
				break
			}
		}
	}
	if len(overturned) > 0 {
		return "depends", fmt.Sprintf("on %s; it stands in %d of the %d changes tried", strings.Join(overturned, ", "), tried-len(overturned), tried)
	}
	for i, f := range field {
		// A filter that is no simpler and never better by what is worth a word is no choice.
		idle := f.plainness() > base.plainness() && least[i] > -wordFrom
		if f.feasible() && f.score-base.score < closeMargin && !idle {
			return "close", "to " + f.title() + ", which does nearly as well"
		}
	}
	return "holds", fmt.Sprintf("in all of the %d changes tried: %s", tried, strings.Join(triedWords(base, field), ", "))
}

// wishedSureness words a call that the card itself made.
func (y *study) wishedSureness(c *contest, base *judged) (confidence, why string) {
	if c.free.name() == base.name() || base.score-c.free.score < closeMargin {
		return "holds", "the card asks for " + base.title() + ", and nothing in the bag does better by much"
	}
	return "depends", "on the card's own wish: " + c.free.title() + " would do better"
}

// triedWords lists what [study.trials] tries.
func triedWords(base *judged, field []*judged) []string {
	var list []string
	if polarised(base, field) {
		list = append(list, "ring 10° off")
	}
	return append(list, "heading 10° off", "density a third of a stop off its label", "a start 20 minutes late")
}

func polarised(base *judged, field []*judged) bool {
	for _, j := range append([]*judged{base}, field...) {
		if j.polarises() {
			return true
		}
	}
	return false
}

// trials makes the studies with small errors.
func (y *study) trials(base *judged, field []*judged) []trial {
	var list []trial
	if polarised(base, field) {
		list = append(list, trial{"the ring, 10° too far one way", y, ringErrorDeg, 0}, trial{"the ring, 10° too far the other way", y, -ringErrorDeg, 0})
	}
	list = append(list,
		trial{"the filter, a third of a stop heavier than its label", y, 0, labelErrorStops},
		trial{"the filter, a third of a stop lighter than its label", y, 0, -labelErrorStops})
	if polarised(base, field) {
		list = append(list, trial{"the heading, 10° to the left", y.off(-headingErrorDeg, 0), 0, 0},
			trial{"the heading, 10° to the right", y.off(headingErrorDeg, 0), 0, 0})
	}
	return append(list, trial{"the start, 20 minutes late", y.off(0, lateStart), 0, 0})
}

func (t *trial) judge(j *judged, w *kit.Weights) *judged {
	m := j.mounted
	if m.polarises() {
		m.ring = mod180(m.ring + t.ringOff)
	}
	return t.study.judge(m, w, t.lossOff)
}
