package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// wordFrom is how much a line must move the result, in stops, to be a reason in words.
const wordFrom = 0.1

// title names a mounted filter as a pilot would: the setting of a variable with it.
func (m mounted) title() string {
	if m.kind() != kit.Variable {
		return words.FilterTitle(m.Name(), 0)
	}
	return words.FilterTitle(m.Name(), m.setting)
}

// legName names a leg, or nothing where there is only one.
func (y *analysis) legName(i int) string {
	if len(y.legs) < 2 {
		return ""
	}
	return fmt.Sprintf(" on leg %d", y.legs[i].n+1)
}

// line returns one line of a candidate's score, by its worst leg.
func (y *analysis) line(j *evaluation, h penalty) string {
	i := j.worst[h]
	l, g := y.legs[i], &j.legs[i]
	on := y.legName(i)
	switch h {
	case penaltyISO:
		e := &g.exposure.set
		if g.exposure.still.noise > e.noise {
			return fmt.Sprintf("a still taken%s would need ISO %s, above the clean %s", on, isoWords(g.exposure.still.iso, l), exposure.FormatISO(l.Mode.ISO.Clean))
		}
		return fmt.Sprintf("ISO climbs to %s%s, %s above clean", isoWords(e.iso, l), on, words.AboutStops(e.noise))
	case penaltyShutter:
		e := &g.exposure.set
		s, _ := y.marked(l, &l.bounds, *e, g.exposure.meter.set, j.nNumber, j.loss())
		if l.Purpose == shot.Long {
			return fmt.Sprintf("too much light%s: the exposure shrinks to %s, %s short", on, exposure.FormatShutter(s), words.AboutStops(e.fast))
		}
		return fmt.Sprintf("too much light%s: the shutter runs to %s, %s faster than still looks right", on, exposure.FormatShutter(s), words.AboutStops(e.fast))
	case penaltyBlur:
		return fmt.Sprintf("a still%s would blur: the shutter has to go %s slower than is sharp", on, words.AboutStops(max(g.exposure.set.blurred, g.exposure.still.blurred)))
	case penaltyUneven:
		return fmt.Sprintf("the sky comes out %s%s: %s from its light to its dark part", words.Evenness(g.optics.worst), on, words.AboutStops(g.optics.worst))
	case penaltySwing:
		return fmt.Sprintf("the sky swings by %s while the camera turns%s, which cannot be graded out", words.AboutStops(g.optics.swing), on)
	case penaltyAim:
		return y.aimLine(j)
	case penaltyCorners:
		if j.kind() == kit.Variable {
			return fmt.Sprintf("the crossed sheets darken two corners or two sides by %s", words.AboutStops(j.corners))
		}
		return fmt.Sprintf("the glass darkens the corners by %s", words.AboutStops(j.corners))
	case penaltyCast:
		return "it colours the picture " + words.Cast(j.filter.CastMired)
	case penaltySun:
		if k := j.kind(); k == kit.Hybrid || k == kit.Variable {
			return "the sun is in or near the frame" + on + ": several sheets of glass flare and ghost"
		}
		return "the sun is in or near the frame" + on + ": flat glass may flare"
	case penaltyAperture:
		return y.apertureWord(l, j.nNumber)
	}
	return ""
}

// apertureWord says what an aperture outside of the sharpest ones costs.
func (y *analysis) apertureWord(l *legAnalysis, nNumber float64) string {
	c := y.s.Camera
	name := exposure.FormatAperture(nNumber)
	if nNumber < c.Sharpest[0] {
		return name + " is wider than the lens is sharpest at"
	}
	px := float64(c.Pixels[0])
	if l.Purpose == shot.Video {
		px = float64(c.VideoPixels[0])
	}
	disc := exposure.DiffractionPx(nNumber, 1000*c.SensorMM[0]/max(1, px))
	return fmt.Sprintf("%s is smaller than the lens is sharpest at: diffraction spreads a point over %.0f pixels", name, max(1, disc))
}

func isoWords(iso float64, l *legAnalysis) string {
	return exposure.FormatISO(exposure.NearestISO(iso, 0, 0).Value)
}

// aimWord names what the aim of a leg is about.
func (y *analysis) aimWord(i int) string {
	switch l := y.legs[i]; l.Aim {
	case shot.AimSky:
		return "sky"
	case shot.AimWater:
		return "glare"
	case shot.AimLeaf:
		return "sheen"
	case shot.AimHaze:
		return "haze"
	case shot.AimKeep:
		return "reflections"
	}
	return "sky and the glare"
}

// aimLine returns what a filter does for the aims of the flight, each with its legs.
func (y *analysis) aimLine(j *evaluation) string {
	var clauses []string
	var done []shot.Aim
	for i, l := range y.legs {
		if !j.legs[i].metOK || slices.Contains(done, l.Aim) {
			continue
		}
		done = append(done, l.Aim)
		var legs []int
		var o legOptics
		for k, m := range y.legs {
			g := &j.legs[k]
			if m.Aim != l.Aim || !g.metOK {
				continue
			}
			legs = append(legs, k)
			o.effect += g.optics.effect
			o.glare += g.optics.glare
			o.haze += g.optics.haze
			o.sky = o.sky || g.optics.sky
			o.glares.join(g.optics.glares)
		}
		n := float64(len(legs))
		o.effect, o.glare, o.haze = o.effect/n, o.glare/n, o.haze/n
		clauses = append(clauses, aimClause(l.Aim, &o, y.legNames(legs)))
	}
	return strings.Join(clauses, "; ")
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

// aimClause returns what a filter does for one aim.
func aimClause(a shot.Aim, o *legOptics, on string) string {
	sky := func() string {
		switch {
		case o.effect < -0.15:
			return fmt.Sprintf("it darkens the sky%s by %s", on, words.AboutStops(o.effect))
		case o.effect > 0.15:
			return fmt.Sprintf("it brightens the sky%s by %s against the land", on, words.AboutStops(o.effect))
		}
		return "it does next to nothing to the sky" + on
	}
	taken := func(x float64, what string) string {
		if x < -0.04 {
			return fmt.Sprintf("it strengthens %s%s", what, on)
		}
		return fmt.Sprintf("it takes %s of %s%s", words.Fraction(x), what, on)
	}
	switch a {
	case shot.AimSky:
		return sky()
	case shot.AimWater:
		return taken(o.glare, "the glare")
	case shot.AimLeaf:
		return taken(o.glare, "the sheen of level leaves")
	case shot.AimHaze:
		return taken(o.haze, "the veil of haze")
	case shot.AimKeep:
		if o.glare < 0.04 {
			return "it leaves the reflections as they are" + on
		}
		return taken(o.glare, "the reflections")
	}
	switch {
	case o.sky && o.glares.OK:
		return sky() + " and " + strings.TrimPrefix(strings.TrimSuffix(taken(o.glare, "the glare"), on), "it ")
	case o.sky:
		return sky()
	}
	return taken(o.glare, "the glare")
}

// lines returns a candidate's lines, the heaviest first left to the caller; those under a hundredth of
// a stop are left out.
func (y *analysis) lines(j *evaluation) []ScoreLine {
	var list []ScoreLine
	for h := range penalties {
		if x := j.penalty[h]; math.Abs(x) >= 0.005 {
			list = append(list, ScoreLine{Name: penaltyNames[h], Stops: x, Words: y.line(j, h)})
		}
	}
	return list
}

// shortfall returns why a candidate cannot be used.
func (j *evaluation) shortfall() string {
	if j.beyond > 0.01 && j.beyond < 1.0/6 {
		return "a little more light than there is, at the highest ISO"
	}
	if j.beyond > 0.01 {
		return words.AboutStops(j.beyond) + " more light than there is, at the highest ISO"
	}
	return "a shutter " + words.AboutStops(j.bright) + " faster than the camera has"
}

// whyNot returns what lost a candidate against the winner.
func (y *analysis) whyNot(j, best *evaluation) string {
	if !j.feasible() {
		return "it would need " + j.shortfall()
	}
	h, most := penaltyISO, 0.0
	for k := range penalties {
		if d := j.penalty[k] - best.penalty[k]; d > most {
			h, most = k, d
		}
	}
	switch {
	case most < 0.05 && j.plainness() > best.plainness():
		return "no better, and not as simple"
	case most < 0.05:
		return "no better"
	case h == penaltyAim && !j.Polarises():
		return "it does nothing for the " + y.aimWord(best.worst[penaltyAim])
	case h == penaltyAim:
		return "it does less for the " + y.aimWord(j.worst[penaltyAim]) + ": " + y.line(j, h)
	}
	return y.line(j, h)
}
