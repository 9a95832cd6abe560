package plan

import (
	"math"

	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// shortfall says by how much a candidate cannot be exposed, at what the camera ends at: "3 stops short at ISO 6400 and
// 8 s", "2 stops too bright at 1/8000 and ISO 100"; "" of one that can.
func (y *analysis) shortfall(j *evaluation) string {
	worst := -1
	for i := range j.legs {
		if s := math.Abs(j.legs[i].exposure.short); s > 0 && (worst < 0 || s > math.Abs(j.legs[worst].exposure.short)) {
			worst = i
		}
	}
	if worst < 0 {
		return ""
	}
	l, x := y.legs[worst], j.legs[worst].exposure
	text := l.Shortfall(&y.s.Camera, x.short) + y.legName(worst)
	if !x.shortAsSet() {
		text += " " + y.whenOther(l)
	}
	return text
}

// shortAsSet tells whether a leg that cannot be exposed cannot in the state of the sun that it is set for, and not only
// in the other one.
func (x *legExposure) shortAsSet() bool {
	if x.short > 0 {
		return x.dark.Beyond > setting.ExposureSlack
	}
	return x.bright.Bright > setting.ExposureSlack
}

// whenOther says when the sun changes from the state that a leg is set for.
func (y *analysis) whenOther(l *legAnalysis) string {
	if y.shines(l) {
		return "when a cloud covers the sun"
	}
	return "when the sun comes out"
}

// cannot says that a candidate cannot be exposed.
func (y *analysis) cannot(j *evaluation) string { return "cannot be exposed: " + y.shortfall(j) }

// whyNot returns what lost a candidate against the winner, in a line.
func (y *analysis) whyNot(j, best *evaluation) string {
	if !j.feasible() {
		return y.cannot(j)
	}
	if j.score < best.score-words.ReasonStops && best.feasible() {
		switch {
		case anyFilter(y.s) && !y.s.RingAuto:
			return words.AboutStops(best.score-j.score) + " better, but the card asks for its own ring"
		case !anyFilter(y.s):
			return words.AboutStops(best.score-j.score) + " better, but the card asks for " + best.Title()
		case best.Filter == nil:
			return "its blur would hardly be seen: the picture moves slowly"
		}
	}
	h, most := penaltyISO, 0.0
	for k := range penalties {
		d := j.penalty[k] - best.penalty[k]
		if k == penaltyShutter {
			d += j.penalty[penaltyAngle] - best.penalty[penaltyAngle]
		}
		if d > most {
			h, most = k, d
		}
	}
	if most >= 0.05 {
		if text := y.lostBy(j, best, h); text != "" {
			return text
		}
	}
	return samePicture(j, best)
}

// lostBy says what one line of the score lost.
func (y *analysis) lostBy(j, best *evaluation, h penalty) string {
	if h != penaltyAim {
		return y.line(j, h)
	}
	i := best.worst[penaltyAim]
	switch text := y.aimLine(j); {
	case text == "":
	case text == y.aimLine(best):
		return "does a little less for the " + y.aimWord(i)
	case j.penalty[penaltyAim] < 0 && y.legs[i].Aim != shot.AimKeep:
		return "only " + text
	default:
		return text
	}
	if o := best.legs[i].optics; o.sky && o.effect <= -worthStops && (y.legs[i].Aim == shot.AimSky || y.legs[i].Aim == shot.AimBalance) {
		return "the sky stays " + words.AboutStops(o.effect) + " lighter" + y.legName(i)
	}
	return "the " + y.aimWord(i) + " stays" + y.legName(i)
}

// aimWord names what the aim of a leg is about.
func (y *analysis) aimWord(i int) string {
	switch l := y.legs[i]; l.Aim {
	case shot.AimWater:
		return "glare"
	case shot.AimLeaf:
		return "sheen"
	case shot.AimHaze:
		return "haze"
	case shot.AimBalance:
		return "glare"
	}
	return "sky"
}

// samePicture says what a candidate that does as well costs in light.
func samePicture(j, best *evaluation) string {
	switch d := j.Loss() - best.Loss(); {
	case d >= 1.0/6:
		return "same picture, " + words.AboutStops(d) + " less light"
	case j.Plainness() > best.Plainness():
		return "same picture, more glass"
	case d <= -1.0/6 && j.Filter != nil:
		return "same picture, " + words.AboutStops(d) + " more light"
	}
	return "same picture"
}

// RunnersUp returns the best candidates after the call, each filter once, at most n of them. Bare is always among them
// where it is not the call.
func (r *Report) RunnersUp(n int) []Candidate {
	var list []Candidate
	bare := -1
	for i, k := range r.Ranking() {
		if i == 0 {
			continue
		}
		if k.Filter == words.Bare {
			bare = len(list)
		}
		list = append(list, k.Candidate)
	}
	if n = max(n, 0); bare >= n && n > 0 {
		list[n-1] = list[bare]
	}
	return list[:min(n, len(list))]
}
