package plan

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// penalty is a line of the score: something that is wrong with a candidate, or, negative, right.
type penalty int

const (
	penaltyISO penalty = iota
	penaltyShutter
	penaltyAngle
	penaltyBlur
	penaltyUneven
	penaltySwing
	penaltyAim
	penaltyClipped
	penaltyBuried
	penaltyCorners
	penaltyCast
	penaltySun
	penaltyAperture
	penalties
)

// penaltyNames are the lines' names in reports.
var penaltyNames = [penalties]string{"iso", "shutter", "angle", "blur", "unevenness", "swing", "aim", "clipped", "buried", "corners", "cast", "sun", "aperture"}

// Where a penalty begins, in the unit of each (ours).
const (
	swingFrom   = 0.3  // stops during a leg: under it unseen
	swingPlain  = 0.7  // over it plain to see
	cornersFrom = 0.5  // stops between the corners, or corner and centre
	castFrom    = 10.0 // mired
	ClippedFrom = 0.05 // of the frame
	BuriedFrom  = 0.10
)

// What a polariser must do before it counts as doing anything: half a stop of sky, a quarter of the glare, the sheen or
// the haze (ours). Under that nobody sees it.
const (
	worthStops = 0.5
	worthShare = 0.25
)

// legEvaluation is one candidate on one leg.
type legEvaluation struct {
	exposure *legExposure
	optics   *legOptics
	met      float64 // how far the aim is met: 1 full effect
	metOK    bool
	keeps    bool // the aim is to leave all as it is
	penalty  [penalties]float64
}

// evaluation is one candidate on the whole flight. A line of its score is the mean over the legs.
type evaluation struct {
	mounting.Way
	nNumber  float64
	legs     []legEvaluation
	penalty  [penalties]float64
	score    float64
	beyond   float64 // stops of light short of the ISO limit, at the worst leg
	bright   float64 // stops over-exposed at the worst leg
	worst    [penalties]int
	firm     float64 // the score without what only serves a faint wish for blur
	tieBreak float64 // stops that shutter and ISO are away from what is wanted, to part equals
	corners  float64
}

func (j *evaluation) feasible() bool { return j.beyond <= 0 && j.bright <= 0 }

// evaluate judges one way of mounting a filter over the whole flight, at the aperture that serves the flight
// best; of apertures that do as well, the first of [setting.Apertures]. lossOff is by how many stops the
// filter is darker than its label says.
func (y *analysis) evaluate(m mounting.Way, w *kit.Weights, lossOff float64) *evaluation {
	return y.evaluateRead(m, m, w, lossOff)
}

// evaluateRough is the same for the search of a ring, which changes the exposure by next to nothing: the meter is
// read as if the filter took from all light alike.
func (y *analysis) evaluateRough(m mounting.Way, w *kit.Weights) *evaluation {
	if !m.Polarises() { // there is no ring to search
		return y.evaluate(m, w, 0)
	}
	return y.evaluateRead(m, mounting.Way{}, w, 0)
}

// evaluateRead returns a candidate's score with the meter read behind another way of mounting a filter.
func (y *analysis) evaluateRead(m, read mounting.Way, w *kit.Weights, lossOff float64) *evaluation {
	var best *evaluation
	if y.apertures == nil {
		y.apertures = setting.Apertures(&y.s.Camera)
	}
	for _, n := range y.apertures {
		j := y.evaluateAt(m, read, w, n, lossOff)
		if best == nil || j.beyond+j.bright < best.beyond+best.bright-1e-9 ||
			j.beyond+j.bright <= best.beyond+best.bright+1e-9 && j.score+j.tieBreak/1000 < best.score+best.tieBreak/1000-1e-9 {
			best = j
		}
	}
	return best
}

// evaluateAt does the same at one aperture.
func (y *analysis) evaluateAt(m, read mounting.Way, w *kit.Weights, nNumber, lossOff float64) *evaluation {
	mem := y.ownMemory()
	j := mem.judged.One(pieceOf)
	*j = evaluation{Way: m, nNumber: nNumber, legs: mem.legs.Cut(len(y.legs), pieceOf*len(y.legs))}
	loss := m.Loss()
	if m.Filter != nil && loss > 0 {
		loss = max(0, loss+lossOff)
	}
	exposures := y.exposuresOf(read, nNumber, loss)
	var halfW, halfH, spread float64
	for i, l := range y.legs {
		g, b := &j.legs[i], &l.Bounds
		g.exposure = exposures[i]
		g.optics = y.opticsOf(l, m)
		set, still := &g.exposure.set, &g.exposure.still
		j.beyond, j.bright = max(j.beyond, g.exposure.short), max(j.bright, -g.exposure.short)
		g.penalty[penaltyISO] = w.ISO * (set.Noise + still.Noise)
		g.penalty[penaltyShutter] = w.Shutter * (set.Fast + l.BlurWish*set.Slow)
		g.penalty[penaltyAngle] = w.Angle * set.Off
		g.penalty[penaltyBlur] = w.Blur * (set.Blurred + still.Blurred)
		j.tieBreak += math.Abs(math.Log2(set.ShutterS / b.WantedS))
		if b.WantedS > 0 && set.ISO > l.Mode.ISO.Base {
			j.tieBreak += math.Log2(set.ISO / l.Mode.ISO.Base)
		}
		g.penalty[penaltyClipped] = w.Clipped * max(0, g.exposure.meter.clipped-ClippedFrom) * 10
		g.penalty[penaltyBuried] = w.Buried * max(0, g.exposure.meter.buried-BuriedFrom) * 10
		g.penalty[penaltyAperture] = softPerStop * setting.SoftStops(&y.s.Camera, nNumber)
		y.evaluateOptics(l, g, m, w)
		if l.sunNear && m.Filter != nil {
			g.penalty[penaltySun] = w.SunOneSheet
			if k := m.Kind(); k == kit.Hybrid || k == kit.Variable {
				g.penalty[penaltySun] = w.SunSheets
			}
		}
		if m.Filter != nil {
			if l.halfW != halfW || l.halfH != halfH { // nearly always all legs have one lens
				halfW, halfH = l.halfW, l.halfH
				spread = glass.Corners(m, halfW, halfH)
			}
			j.corners = max(j.corners, spread)
			g.penalty[penaltyCorners] = w.Corners * max(0, spread-cornersFrom)
			g.penalty[penaltyCast] = w.Cast * max(0, math.Abs(m.Filter.CastMired)-castFrom) / 10
		}
	}
	j.sum()
	j.firm = j.score
	for i, l := range y.legs {
		if !l.WantsBlur() {
			j.firm -= (j.legs[i].penalty[penaltyShutter] + j.legs[i].penalty[penaltyAngle]) / float64(len(y.legs))
		}
	}
	return j
}

// softPerStop is what a stop outside of a lens's sharpest apertures counts: aberrations when it is open
// wider, diffraction when it is closed further (ours).
const softPerStop = 0.25

// evaluateOptics judges what a filter does to polarised light on a leg.
func (y *analysis) evaluateOptics(l *legAnalysis, g *legEvaluation, m mounting.Way, w *kit.Weights) {
	o := g.optics
	if o.sky {
		// A still or a single long exposure can be mended by hand more easily than a film.
		share := 0.5
		switch {
		case l.Purpose == shot.Video:
			share = 1
		case l.Tiles():
			share = 2 // every seam shows it
		}
		g.penalty[penaltyUneven] = share * w.Unevenness * max(0, o.worst-words.UnevenFrom)
		if l.Purpose == shot.Video {
			g.penalty[penaltySwing] = w.Swing * max(0, o.swing-swingFrom)
		}
	}
	g.met, g.metOK = o.met(l.Aim)
	g.keeps = l.Aim == shot.AimKeep
	if l.Tiles() && m.Polarises() {
		g.met, g.metOK = 0, false // whatever it does differs from tile to tile
		if o.sky {
			g.penalty[penaltyUneven] += w.Unevenness * o.swing
		}
	}
	if g.metOK {
		g.penalty[penaltyAim] = -aimGain(w, g.met)
	}
}

// aimGain returns what meeting an aim so far is worth, in stops: the one gain among the penalties, which
// whoever adds up a score takes off.
func aimGain(w *kit.Weights, met float64) float64 { return w.Aim * met }

// met returns how far an aim is met, 1 for full effect: the part of the sky's light, of the glare or of
// the haze that is gone beyond what a density takes, counted from where it begins to show; for keep, the part of the
// reflections that is left. It is below 0 where the filter works against the aim.
func (o *legOptics) met(a shot.Aim) (met float64, ok bool) {
	sky := beyond(1-math.Exp2(o.effect), 1-math.Exp2(-worthStops))
	glare, haze := beyond(o.glare, worthShare), beyond(o.haze, worthShare)
	switch a {
	case shot.AimSky:
		return sky, o.sky
	case shot.AimWater, shot.AimLeaf:
		return glare, o.glares.OK
	case shot.AimHaze:
		return haze, o.hazes.OK
	case shot.AimKeep:
		return 1 - max(0, o.glare), o.glares.OK
	}
	switch {
	case o.sky && o.glares.OK:
		return (sky + glare) / 2, true
	case o.sky:
		return sky, true
	}
	return glare, o.glares.OK
}

// beyond counts a share from where it begins to matter, so that all of it is still 1.
func beyond(share, from float64) float64 {
	switch {
	case share <= 0:
		return share
	case share <= from:
		return 0
	}
	return (share - from) / (1 - from)
}

// earns tells whether a mounted polariser does something for the aim of some leg. What is to be kept is kept best
// without one.
func (j *evaluation) earns() bool {
	for i := range j.legs {
		if g := &j.legs[i]; g.metOK && g.met > 0 && !g.keeps {
			return true
		}
	}
	return false
}

// sum makes the lines and the score of the legs.
func (j *evaluation) sum() {
	for h := range penalties {
		worst := math.Inf(-1)
		for i := range j.legs {
			x := j.legs[i].penalty[h]
			j.penalty[h] += x / float64(len(j.legs))
			if math.Abs(x) > worst {
				worst, j.worst[h] = math.Abs(x), i
			}
		}
		j.score += j.penalty[h]
	}
}

// ranksBefore tells whether a candidate ranks above another: feasible ones first, then by score to a
// hundredth of a stop; of equals the simpler filter, then the one that strains shutter and ISO least.
func (j *evaluation) ranksBefore(o *evaluation) bool {
	if a, b := j.feasible(), o.feasible(); a != b {
		return a
	} else if !a {
		if x, y := math.Round(100*(j.beyond+j.bright)), math.Round(100*(o.beyond+o.bright)); x != y {
			return x < y
		}
	}
	if x, y := math.Round(100*j.score), math.Round(100*o.score); x != y {
		return x < y
	}
	if x, y := j.Plainness(), o.Plainness(); x != y {
		return x < y
	}
	return j.tieBreak < o.tieBreak-1e-9
}
