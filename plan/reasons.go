package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/once"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// onLegs are kept: a flight names its legs a hundred times.
var onLegs = once.Most[int, string](64)

// legName names a leg, or nothing where there is only one.
func (y *analysis) legName(i int) string {
	if len(y.legs) < 2 {
		return ""
	}
	n := y.legs[i].n + 1
	return onLegs.Get(n, func() string { return " on leg " + strconv.Itoa(n) })
}

// legNames lists legs: " on leg 3", " on legs 1 and 2"; nothing for all of them.
func (y *analysis) legNames(legs []int) string {
	switch {
	case len(legs) == len(y.legs):
		return ""
	case len(legs) == 1:
		return y.legName(legs[0])
	}
	numbers := make([]string, len(legs))
	for i, k := range legs {
		numbers[i] = strconv.Itoa(y.legs[k].n + 1)
	}
	return " on " + words.Legs(numbers)
}

// set returns the marked shutter and ISO that a candidate sets on a leg.
func (y *analysis) set(j *evaluation, i int) (shutterS, iso float64) {
	l, x := y.legs[i], j.legs[i].exposure
	return l.Marked(&y.s.Camera, x.set, x.meter.set, j.nNumber, j.Loss())
}

// line returns one line of a candidate's score, by its worst leg.
func (y *analysis) line(j *evaluation, h penalty) string {
	i := j.worst[h]
	l, g := y.legs[i], &j.legs[i]
	on := y.legName(i)
	shutter, iso := y.set(j, i)
	switch h {
	case penaltyISO:
		if g.exposure.still.Noise > g.exposure.set.Noise {
			return fmt.Sprintf("a still%s needs ISO %s, %s over clean", on, setting.ISOWords(g.exposure.still.ISO), words.AboutStops(g.exposure.still.Noise))
		}
		if g.exposure.set.Noise < setting.StepSlack {
			return fmt.Sprintf("ISO %s%s, with none to spare", exposure.FormatISO(iso), on)
		}
		return fmt.Sprintf("ISO %s%s, %s over clean", exposure.FormatISO(iso), on, words.AboutStops(g.exposure.set.Noise))
	case penaltyShutter, penaltyAngle:
		return l.ShutterLine(shutter, on)
	case penaltyBlur:
		if g.exposure.still.Blurred > g.exposure.set.Blurred {
			shutter = exposure.NearestShutter(g.exposure.still.ShutterS, y.s.Camera.FastestS, y.s.Camera.SlowestS, false).Value
		}
		return fmt.Sprintf("a still%s blurs at %s: %s slower than sharp", on, exposure.FormatShutter(shutter), words.AboutStops(max(g.exposure.set.Blurred, g.exposure.still.Blurred)))
	case penaltyUneven:
		return fmt.Sprintf("%s sky%s: %s from its light to its dark part", words.Evenness(g.optics.worst), on, words.AboutStops(g.optics.worst))
	case penaltySwing:
		return driftLine(g.optics.swing, on)
	case penaltyAim:
		return y.aimLine(j)
	case penaltyClipped:
		return words.Share(g.exposure.meter.clipped) + " of the frame goes white" + on
	case penaltyBuried:
		return words.Share(g.exposure.meter.buried) + " of the frame goes black" + on
	case penaltyCorners:
		return cornersLine(j)
	case penaltyCast:
		return "it makes the picture " + words.Cast(j.Filter.CastMired)
	case penaltySun:
		if k := j.Kind(); k == kit.Hybrid || k == kit.Variable {
			return "the sun is in or near the frame" + on + ": several sheets of glass flare and ghost"
		}
		return "the sun is in or near the frame" + on + ": flat glass may flare"
	case penaltyAperture:
		return l.ApertureWord(&y.s.Camera, j.nNumber)
	}
	return ""
}

// driftLine says how much the sky changes while the camera turns.
func driftLine(swing float64, on string) string {
	word := "viewers will notice"
	if swing > swingPlain {
		word = "plain to see"
	}
	return fmt.Sprintf("sky drifts %s in the take%s; %s", words.AboutStops(swing), on, word)
}

// cornersLine says how uneven the glass itself makes the frame.
func cornersLine(j *evaluation) string {
	text := "its corners are " + words.AboutStops(j.corners) + " darker"
	if j.Kind() == kit.Variable {
		text += " at " + exposure.FormatStops(j.Setting)
	}
	return text
}

// aimLine returns what a filter does for the aims of the flight, each with its legs: only what shows.
func (y *analysis) aimLine(j *evaluation) string {
	var clauses []string
	var done []shot.Aim
	harm := j.penalty[penaltyAim] > 0 // then what is wrong is said, else what is right
	for i, l := range y.legs {
		if !j.legs[i].metOK || slices.Contains(done, l.Aim) {
			continue
		}
		done = append(done, l.Aim)
		var legs []int
		var o legOptics
		for k, m := range y.legs {
			g := &j.legs[k]
			if m.Aim != l.Aim || !g.metOK || g.met == 0 || g.met < 0 != harm {
				continue
			}
			legs = append(legs, k)
			o.effect += g.optics.effect
			o.glare += g.optics.glare
			o.haze += g.optics.haze
			o.sky = o.sky || g.optics.sky
			o.glares.join(g.optics.glares)
		}
		if len(legs) == 0 {
			continue
		}
		n := float64(len(legs))
		o.effect, o.glare, o.haze = o.effect/n, o.glare/n, o.haze/n
		if text := aimClause(l.Aim, &o, y.legNames(legs)); text != "" {
			clauses = append(clauses, text)
		}
	}
	return strings.Join(clauses, "; ")
}

// aimClause returns what a filter does for one aim, "" for nothing that shows.
func aimClause(a shot.Aim, o *legOptics, on string) string {
	sky := func() string {
		switch {
		case o.effect <= -1.0/6:
			return "darkens the sky by " + words.AboutStops(o.effect)
		case o.effect >= 1.0/6:
			return "brightens the sky by " + words.AboutStops(o.effect)
		}
		return ""
	}
	taken := func(x float64, what string) string {
		switch {
		case x < -0.04:
			return "strengthens " + what
		case x < 0.08:
			return ""
		}
		return "takes " + words.Fraction(x) + " of " + what
	}
	var parts []string
	switch a {
	case shot.AimSky:
		parts = []string{sky()}
	case shot.AimWater:
		parts = []string{taken(o.glare, "the glare")}
	case shot.AimLeaf:
		parts = []string{taken(o.glare, "the sheen of level leaves")}
	case shot.AimHaze:
		parts = []string{taken(o.haze, "the veil of haze")}
	case shot.AimKeep:
		if o.glare < 0.08 {
			return "leaves the reflections as they are" + on
		}
		parts = []string{taken(o.glare, "the reflections")}
	default:
		if o.sky && math.Abs(o.effect) >= worthStops || !o.glares.OK || o.sky && o.effect > 1.0/6 {
			parts = append(parts, sky())
		}
		if o.glares.OK && math.Abs(o.glare) >= worthShare || !o.sky || o.glares.OK && o.glare < -0.04 {
			parts = append(parts, taken(o.glare, "the glare"))
		}
	}
	parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, " and ") + on
}

// worded has the lines of one candidate, each worded once.
type worded struct {
	*analysis
	*evaluation
	text [penalties]string
	done [penalties]bool
}

func (s *worded) line(h penalty) string {
	if !s.done[h] {
		s.text[h], s.done[h] = s.analysis.line(s.evaluation, h), true
	}
	return s.text[h]
}

// lines returns a candidate's lines; those under a hundredth of a stop are left out.
func (s *worded) lines() []ScoreLine {
	var list []ScoreLine
	for h := range penalties {
		if x := s.penalty[h]; math.Abs(x) >= 0.005 {
			if list == nil {
				list = make([]ScoreLine, 0, penalties)
			}
			list = append(list, ScoreLine{Name: penaltyNames[h], Stops: x, Words: s.line(h)})
		}
	}
	return list
}

// signedLines returns the reasons of a candidate ([worded.signed]).
func (y *analysis) signedLines(j *evaluation) []Reason {
	s := worded{analysis: y, evaluation: j}
	return s.signed()
}

// signed returns those of a candidate's lines that moved the result, as reasons: merits first. What the shutter
// costs for being outside of the tolerance and for its angle is one reason.
func (s *worded) signed() []Reason {
	j := s.evaluation
	var good, bad []Reason
	for h := range penalties {
		x := j.penalty[h]
		switch {
		case h == penaltyShutter && x > words.ReasonStops:
			x += j.penalty[penaltyAngle]
		case h == penaltyAngle && j.penalty[penaltyShutter] > words.ReasonStops:
			continue
		}
		if math.Abs(x) <= words.ReasonStops {
			continue
		}
		text := s.line(h)
		switch {
		case text == "":
		case x < 0:
			good = append(good, Reason{Sign: 1, Stops: -x, Text: text})
		default:
			bad = append(bad, Reason{Sign: -1, Stops: x, Text: text})
		}
	}
	slices.SortStableFunc(bad, func(a, b Reason) int { return int(math.Copysign(1, b.Stops-a.Stops)) })
	return append(good, bad...)
}

// texts returns what reasons say.
func texts(list []Reason) []string {
	var all []string
	for _, r := range list {
		all = append(all, r.Text)
	}
	return all
}
