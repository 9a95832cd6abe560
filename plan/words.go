package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
)

// wordFrom is how much a line must move the result, in stops, to be a reason in words.
const wordFrom = 0.1

// title names a mounted filter as a pilot would: the setting of a variable with it.
func (m mounted) title() string {
	if m.kind() != kit.Variable {
		return FilterTitle(m.name(), 0)
	}
	return FilterTitle(m.name(), m.setting)
}

// FilterTitle names a filter for people, with its setting where it has one: "no filter", "ND16/PL",
// "variable 2-5 at 3 stops".
func FilterTitle(name string, settingStops float64) string {
	switch {
	case name == bareName || name == "":
		return "no filter"
	case settingStops > 0:
		return name + " at " + exposure.FormatStops(settingStops)
	}
	return name
}

// legName names a leg, or nothing where there is only one.
func (y *study) legName(i int) string {
	if len(y.legs) < 2 {
		return ""
	}
	return fmt.Sprintf(" on leg %d", y.legs[i].n+1)
}

// aboutStops words an amount in stops, rounded to thirds: "⅔ of a stop", "1⅓ stops".
func aboutStops(x float64) string {
	x = math.Round(3*math.Abs(x)) / 3
	switch {
	case x < 0.3:
		return "less than a third of a stop"
	case x < 0.5:
		return "a third of a stop"
	case x < 0.9:
		return "two thirds of a stop"
	}
	return exposure.FormatStops(x)
}

// share words a part of a whole.
func share(x float64) string {
	switch x = math.Abs(x); {
	case x < 0.08:
		return "next to nothing"
	case x < 0.18:
		return "a little"
	case x < 0.29:
		return "a quarter"
	case x < 0.42:
		return "a third"
	case x < 0.58:
		return "half"
	case x < 0.71:
		return "two thirds"
	case x < 0.85:
		return "three quarters"
	}
	return "nearly all"
}

// skyWord words how even a sky is.
func skyWord(unevenness float64) string {
	switch {
	case unevenness < unevenFrom:
		return "even"
	case unevenness <= bandedFrom:
		return "graded"
	}
	return "banded"
}

// line words one line of a candidate's score, by its worst leg.
func (y *study) line(j *judged, h harm) string {
	i := j.worst[h]
	l, g := y.legs[i], &j.legs[i]
	on := y.legName(i)
	switch h {
	case harmISO:
		e := &g.exposure.dark
		if g.exposure.still.noise > e.noise {
			return fmt.Sprintf("a still taken%s would need ISO %s, above the clean %s", on, isoWords(g.exposure.still.iso, l), exposure.FormatISO(l.Mode.ISO.Clean))
		}
		return fmt.Sprintf("ISO climbs to %s%s, %s above clean", isoWords(e.iso, l), on, aboutStops(e.noise))
	case harmShutter:
		e := &g.exposure.bright
		s, _ := y.marked(l, &l.bounds, *e, l.high, j.nNumber, j.loss())
		if l.Purpose == Long {
			return fmt.Sprintf("too much light%s: the exposure shrinks to %s, %s short", on, exposure.FormatShutter(s), aboutStops(e.fast))
		}
		return fmt.Sprintf("too much light%s: the shutter runs to %s, %s faster than still looks right", on, exposure.FormatShutter(s), aboutStops(e.fast))
	case harmBlur:
		return fmt.Sprintf("a still%s would blur: the shutter has to go %s slower than is sharp", on, aboutStops(max(g.exposure.dark.blurred, g.exposure.still.blurred)))
	case harmUneven:
		return fmt.Sprintf("the sky comes out %s%s: %s from its light to its dark part", skyWord(g.optics.worst), on, aboutStops(g.optics.worst))
	case harmSwing:
		return fmt.Sprintf("the sky swings by %s while the camera turns%s, which cannot be graded out", aboutStops(g.optics.swing), on)
	case harmAim:
		return y.aimLine(j)
	case harmCorners:
		if j.kind() == kit.Variable {
			return fmt.Sprintf("the crossed sheets darken two corners or two sides by %s", aboutStops(j.corners))
		}
		return fmt.Sprintf("the glass darkens the corners by %s", aboutStops(j.corners))
	case harmCast:
		return "it colours the picture " + castWord(j.filter.CastMired)
	case harmSun:
		if k := j.kind(); k == kit.Hybrid || k == kit.Variable {
			return "the sun is in or near the frame" + on + ": several sheets of glass flare and ghost"
		}
		return "the sun is in or near the frame" + on + ": flat glass may flare"
	case harmAperture:
		return y.apertureWord(l, j.nNumber)
	}
	return ""
}

// apertureWord says what an aperture outside of the sharpest ones costs.
func (y *study) apertureWord(l *legStudy, nNumber float64) string {
	c := y.s.Camera
	name := exposure.FormatAperture(nNumber)
	if nNumber < c.Sharpest[0] {
		return name + " is wider than the lens is sharpest at"
	}
	px := float64(c.Pixels[0])
	if l.Purpose == Video {
		px = float64(c.VideoPixels[0])
	}
	disc := exposure.DiffractionPx(nNumber, 1000*c.SensorMM[0]/max(1, px))
	return fmt.Sprintf("%s is smaller than the lens is sharpest at: diffraction spreads a point over %.0f pixels", name, max(1, disc))
}

func castWord(mired float64) string {
	if mired > 0 {
		return "warmer"
	}
	return "cooler"
}

func isoWords(iso float64, l *legStudy) string {
	return exposure.FormatISO(exposure.NearestISO(iso, 0, 0).Value)
}

// aimWord names what the aim of a leg is about.
func (y *study) aimWord(i int) string {
	switch l := y.legs[i]; l.Aim {
	case AimSky:
		return "sky"
	case AimWater:
		return "glare"
	case AimLeaf:
		return "sheen"
	case AimHaze:
		return "haze"
	case AimKeep:
		return "reflections"
	}
	return "sky and the glare"
}

// aimLine words what a filter does for the aims of the flight, each with its legs.
func (y *study) aimLine(j *judged) string {
	var clauses []string
	var done []Aim
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
func (y *study) legNames(legs []int) string {
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
	return " on " + legList(numbers)
}

// legList makes "leg 2" or "legs 1, 3 and 4" of numbers; "" of none.
func legList(numbers []string) string {
	switch n := len(numbers); n {
	case 0:
		return ""
	case 1:
		return "leg " + numbers[0]
	default:
		return "legs " + strings.Join(numbers[:n-1], ", ") + " and " + numbers[n-1]
	}
}

// aimClause words what a filter does for one aim.
func aimClause(a Aim, o *legOptics, on string) string {
	sky := func() string {
		switch {
		case o.effect < -0.15:
			return fmt.Sprintf("it darkens the sky%s by %s", on, aboutStops(o.effect))
		case o.effect > 0.15:
			return fmt.Sprintf("it brightens the sky%s by %s against the land", on, aboutStops(o.effect))
		}
		return "it does next to nothing to the sky" + on
	}
	taken := func(x float64, what string) string {
		if x < -0.04 {
			return fmt.Sprintf("it strengthens %s%s", what, on)
		}
		return fmt.Sprintf("it takes %s of %s%s", share(x), what, on)
	}
	switch a {
	case AimSky:
		return sky()
	case AimWater:
		return taken(o.glare, "the glare")
	case AimLeaf:
		return taken(o.glare, "the sheen of level leaves")
	case AimHaze:
		return taken(o.haze, "the veil of haze")
	case AimKeep:
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

// lines gives a candidate's lines, the heaviest first left to the caller; those under a hundredth of
// a stop are left out.
func (y *study) lines(j *judged) []ScoreLine {
	var list []ScoreLine
	for h := range harms {
		if x := j.harm[h]; math.Abs(x) >= 0.005 {
			list = append(list, ScoreLine{Name: harmNames[h], Stops: x, Words: y.line(j, h)})
		}
	}
	return list
}

// shortfall words why a candidate cannot be used.
func (j *judged) shortfall() string {
	if j.beyond > 0.01 && j.beyond < 1.0/6 {
		return "a little more light than there is, at the highest ISO"
	}
	if j.beyond > 0.01 {
		return aboutStops(j.beyond) + " more light than there is, at the highest ISO"
	}
	return "a shutter " + aboutStops(j.bright) + " faster than the camera has"
}

// whyNot words what lost a candidate against the winner.
func (y *study) whyNot(j, best *judged) string {
	if !j.feasible() {
		return "it would need " + j.shortfall()
	}
	h, most := harmISO, 0.0
	for k := range harms {
		if d := j.harm[k] - best.harm[k]; d > most {
			h, most = k, d
		}
	}
	switch {
	case most < 0.05 && j.plainness() > best.plainness():
		return "no better, and not as simple"
	case most < 0.05:
		return "no better"
	case h == harmAim && !j.polarises():
		return "it does nothing for the " + y.aimWord(best.worst[harmAim])
	case h == harmAim:
		return "it does less for the " + y.aimWord(j.worst[harmAim]) + ": " + y.line(j, h)
	}
	return y.line(j, h)
}

// span words a range from one end to the other: equal ends once, and without what the first end said already.
func span(from, to string) string {
	if from == to {
		return from
	}
	for _, same := range []string{"darker by ", "brighter by ", "cut by ", "strengthened by "} {
		if a, ok := strings.CutPrefix(to, same); ok && strings.HasPrefix(from, same) {
			to = a
		}
	}
	return from + " to " + to
}
