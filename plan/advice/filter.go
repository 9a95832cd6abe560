package advice

import (
	"cmp"
	"math"
	"slices"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// HeadroomWords says how far the darkest light of the flight is from the highest clean ISO, in a few
// words; "" where it cannot be exposed.
func HeadroomWords(c *plan.Candidate) string {
	switch h := c.Headroom; {
	case !h.OK || !c.Feasible:
		return ""
	case h.Min < -1.0/6:
		return exposure.FormatStops(-h.Min) + " over clean ISO"
	case h.Min < 1.0/6:
		return "no headroom"
	default:
		return exposure.FormatStops(h.Min) + " of headroom"
	}
}

// MeasureWords says what a candidate does over the flight, a measure a line, words before numbers: what
// it does to light, sky, water and haze, from its most to its least.
func MeasureWords(c *plan.Candidate) []string {
	var out []string
	if h := HeadroomWords(c); h != "" {
		out = append(out, h+" in the darkest light")
	}
	if e := c.Effect; e.OK && (math.Abs(e.Min) > .05 || math.Abs(e.Max) > .05) {
		out = append(out, "the sky "+words.FromTo(words.EffectOnSky(e.Min), words.EffectOnSky(e.Max)))
	}
	if u := c.Unevenness; u.OK && u.Max > .15 {
		out = append(out, words.Evenness(u.Max)+" sky, "+words.AboutStops(u.Max)+" from its light to its dark part")
	}
	if s := c.Swing; s.OK && s.Max > .15 {
		out = append(out, "changing during a leg by "+words.AboutStops(s.Max))
	}
	if g := c.GlareCut; g.OK && (math.Abs(g.Min) >= .08 || math.Abs(g.Max) >= .08) {
		out = append(out, "glare "+words.FromTo(cutWords(g.Max), cutWords(g.Min)))
	}
	if z := c.HazeCut; z.OK && (math.Abs(z.Min) >= .08 || math.Abs(z.Max) >= .08) {
		out = append(out, "veil of haze "+words.FromTo(cutWords(z.Max), cutWords(z.Min)))
	}
	return out
}

// cutWords returns the part of glare or haze that is taken.
func cutWords(x float64) string {
	switch {
	case x < -0.08:
		return "strengthened by " + words.Fraction(x)
	case x < 0.08:
		return "as it is"
	}
	return "cut by " + words.Fraction(x)
}

// Shortfall says by how much a candidate that cannot be flown misses, in words; "" when it can.
func Shortfall(c *plan.Candidate) string {
	switch {
	case c.Feasible:
		return ""
	case c.WhyNot != "":
		return c.WhyNot
	case len(c.Lines) > 0: // the call itself, where nothing can be flown
		return slices.MaxFunc(c.Lines, func(a, b plan.ScoreLine) int { return cmp.Compare(a.Stops, b.Stops) }).Words
	}
	return "it cannot be exposed"
}

// SetWords returns the shutters and the ISOs that a candidate would be set to over the flight, fastest
// and lowest first, rounded to what the camera has; "" where it cannot be exposed.
func SetWords(r *plan.Report, k *plan.Candidate) (shutter, iso string) {
	video := slices.ContainsFunc(r.Shot.Legs, func(l shot.Leg) bool { return l.Purpose == shot.Video })
	return Settable(r, k.Shutter, k.ISO, video)
}

// Settable rounds exact ranges to what the camera has, and writes them.
func Settable(r *plan.Report, shutters, isos plan.Range, video bool) (shutter, iso string) {
	if !shutters.OK || !isos.OK {
		return "", ""
	}
	between := func(a, b exposure.Step) string {
		if a.Label == b.Label {
			return a.Label
		}
		return a.Label + ".." + b.Label
	}
	c := r.Shot.Camera
	series := exposure.ShuttersOf(c.FastestS, c.SlowestS, video)
	if video { // the extra ones only where a film leg may be set to them: no 1/96 at 25 frames a second
		series = slices.DeleteFunc(slices.Clone(series), func(t exposure.Step) bool {
			return exposure.Extra(t) && !slices.ContainsFunc(r.Shot.Legs, func(l shot.Leg) bool { return exposure.FitsFrames(t, l.FPS) })
		})
	}
	return between(exposure.Nearest(series, shutters.Min), exposure.Nearest(series, shutters.Max)),
		between(exposure.NearestISO(isos.Min, 0, 0), exposure.NearestISO(isos.Max, 0, 0))
}
