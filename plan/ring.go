package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// OwnBest is what a leg would get from the filter in use if its ring served this leg alone.
type OwnBest struct {
	RingDeg  float64 // where the mark would stand, facing the lens
	Effect   float64 // stops on the sky, mean over the leg; meaningful when there is sky
	GlareCut float64 // meaningful when there is glare
	Missed   float64 // stops of gain that the ring in use leaves behind here; never negative
}

// When a ring is worth a word (ours).
const (
	conflictDeg = 45.0 // between the rings that two aims want
	missedSky   = 0.3  // stops of darkening that the other aim's ring gives away
	missedGlare = 0.12 // of the glare
	missedLeg   = 0.25 // stops of gain on a leg
	softerFrom  = 0.2  // stops by which the strongest ring would darken more
	passUpright = 20.0 // degrees off the vertical that still count as upright
)

// ringGain returns what a ring is worth on a leg: the aim met, less an uneven and a swinging sky.
func (y *analysis) ringGain(l *legAnalysis, m mounting.Way, w *kit.Weights) float64 {
	g := legEvaluation{optics: y.opticsOf(l, m)}
	y.evaluateOptics(l, &g, m, w)
	return -g.penalty[penaltyAim] - g.penalty[penaltyUneven] - g.penalty[penaltySwing]
}

// ownBest finds the ring that a leg would want for itself, nil for a filter whose ring stays.
func (y *analysis) ownBest(l *legAnalysis, j *evaluation, w *kit.Weights) *OwnBest {
	if !j.Polarises() || j.Filter.Ring == kit.RingFixed || l.from >= l.to {
		return nil
	}
	best := OwnBest{RingDeg: j.Ring}
	used := y.ringGain(l, j.Way, w)
	most := used
	for _, ring := range mounting.Rings(j.Filter) {
		m := j.Way
		m.Ring = ring
		if g := y.ringGain(l, m, w); g > most+1e-9 {
			most, best.RingDeg = g, ring
		}
	}
	m := j.Way
	m.Ring = best.RingDeg
	o := y.opticsOf(l, m)
	best.Effect, best.GlareCut, best.Missed = o.effect, o.glare, most-used
	return &best
}

// ownNote says what a leg would want for itself where that is much.
func ownNote(b *OwnBest, legs int) string {
	if b == nil || legs < 2 || b.Missed < missedLeg {
		return ""
	}
	return fmt.Sprintf("alone this leg would want the mark at %s: %s better", kit.Clock(b.RingDeg), words.AboutStops(b.Missed))
}

// asDensity tells that a filter is called for its density alone: its polariser earns nothing. The rear sheet of a
// variable is part of its density.
func (j *evaluation) asDensity() bool {
	return (j.Kind() == kit.Hybrid || j.Kind() == kit.Polariser) && !j.earns()
}

// harmless tells whether nobody sees what a ring does to a leg.
func (o *legOptics) harmless() bool { return o.disturbs() < 1 }

// disturbs returns how much a ring does to a leg's light, counted in what just shows: 1 and more shows.
func (o *legOptics) disturbs() float64 {
	var most float64
	if o.sky {
		most = max(math.Abs(o.effects.Min), math.Abs(o.effects.Max)) / worthStops
		most = max(most, o.worst/words.UnevenFrom)
	}
	if o.glares.OK {
		most = max(most, math.Abs(o.glare)/worthShare)
	}
	if o.hazes.OK {
		most = max(most, math.Abs(o.haze)/worthShare)
	}
	return most
}

// ringAnywhere tells whether a filter that is called for its density may stand at any ring: nobody sees a difference on
// any leg.
func (y *analysis) ringAnywhere(j *evaluation) bool {
	if !j.asDensity() || !y.s.RingAuto || j.Filter.Ring == kit.RingFixed {
		return false
	}
	m := j.Way
	for _, m.Ring = range mounting.Rings(j.Filter) {
		for _, l := range y.legs {
			if !y.opticsOf(l, m).harmless() {
				return false
			}
		}
	}
	return true
}

// ringToSet tells whether the ring of a filter has to be set.
func (y *analysis) ringToSet(j *evaluation) bool { return j.Polarises() && !y.ringAnywhere(j) }

// quietest returns, of the same filter at several rings, the one that disturbs the picture least, where they score alike.
func (y *analysis) quietest(best *evaluation, tried []*evaluation) *evaluation {
	least := math.Inf(1)
	for _, j := range tried {
		if j.feasible() != best.feasible() || j.score > best.score+0.01 {
			continue
		}
		var most float64
		for i := range j.legs {
			most = max(most, j.legs[i].optics.disturbs())
		}
		if most < least-1e-9 {
			best, least = j, most
		}
	}
	return best
}

// overRings returns the mean effect on the sky and the mean cut of the glare on open water over the legs at
// a ring, and whether there is such a thing.
func (y *analysis) overRings(m mounting.Way) (sky, glare float64, hasSky, hasWater bool) {
	var n, w float64
	for _, l := range y.legs {
		o := y.opticsOf(l, m)
		if o.sky {
			sky += o.effect
			n++
		}
		if o.glares.OK && light.MirrorOf(l.Leg.Ground, l.Leg.Aim) == light.OpenWater {
			glare += o.glare
			w++
		}
	}
	return sky / max(n, 1), glare / max(w, 1), n > 0, w > 0
}

// conflict says where sky and water want different rings and what the one in use gives each.
func (y *analysis) conflict(j *evaluation) string {
	if j.Filter.Ring == kit.RingFixed {
		return ""
	}
	var skyRing, waterRing float64
	bestSky, bestWater := math.Inf(1), math.Inf(-1)
	for _, ring := range mounting.Rings(j.Filter) {
		m := j.Way
		m.Ring = ring
		e, g, sky, water := y.overRings(m)
		if !sky || !water {
			return ""
		}
		if e < bestSky {
			bestSky, skyRing = e, ring
		}
		if g > bestWater {
			bestWater, waterRing = g, ring
		}
	}
	apart := math.Abs(math.Mod(skyRing-waterRing+270, 180) - 90)
	e, g, _, _ := y.overRings(j.Way)
	if apart < conflictDeg || e-bestSky < missedSky && bestWater-g < missedGlare {
		return ""
	}
	m := j.Way
	m.Ring = waterRing
	upright := ""
	if a := math.Mod(m.PassAxis(), 180); min(a, 180-a) < passUpright {
		upright = " (pass axis upright)"
	}
	return fmt.Sprintf("sky and water want different rings: %s darkens the sky most, %s%s takes most glare; this one leaves the sky %s and takes %s",
		halfHour(skyRing), halfHour(waterRing), upright, words.EffectOnSky(e), ofTheGlare(g))
}

// halfHour names a ring by the first of the two places on the clock where its mark may stand.
func halfHour(ringDeg float64) string {
	at, _, _ := strings.Cut(kit.Clock(ringDeg), " or ")
	return at
}

func ofTheGlare(g float64) string {
	if g < -0.04 {
		return "no glare but adds to it"
	}
	return words.Fraction(g) + " of the glare"
}

// softer says that a weaker ring was taken because the strongest one would band or swing the sky.
func (y *analysis) softer(j *evaluation) string {
	if j.Filter.Ring == kit.RingFixed || !y.s.RingAuto {
		return ""
	}
	if !slices.ContainsFunc(y.legs, func(l *legAnalysis) bool { return l.Aim == shot.AimSky || l.Aim == shot.AimBalance }) {
		return ""
	}
	used, _, sky, _ := y.overRings(j.Way)
	if !sky {
		return ""
	}
	strongest, at := used, j.Way
	for _, ring := range mounting.Rings(j.Filter) {
		m := j.Way
		m.Ring = ring
		if e, _, _, _ := y.overRings(m); e < strongest {
			strongest, at = e, m
		}
	}
	if used-strongest < softerFrom {
		return ""
	}
	var banded, swing, bandedUsed, swingUsed float64
	for _, l := range y.legs {
		a, b := y.opticsOf(l, at), y.opticsOf(l, j.Way)
		banded, bandedUsed = max(banded, a.worst), max(bandedUsed, b.worst)
		if l.Purpose == shot.Video {
			swing, swingUsed = max(swing, a.swing), max(swingUsed, b.swing)
		}
	}
	switch {
	case banded > words.BandedFrom && banded > bandedUsed+softerFrom:
		return fmt.Sprintf("%s is %s darker but bands the sky", halfHour(at.Ring), words.AboutStops(used-strongest))
	case swing > swingFrom && swing > swingUsed+softerFrom:
		return fmt.Sprintf("%s is %s darker but drifts %s in the take", halfHour(at.Ring), words.AboutStops(used-strongest), words.AboutStops(swing))
	}
	return ""
}
