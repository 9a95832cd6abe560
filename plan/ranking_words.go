package plan

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
)

// HeadroomWords says how far the darkest light of the flight is from the highest clean ISO, in a few
// words; "" where it cannot be exposed.
func (c *Candidate) HeadroomWords() string {
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
func (c *Candidate) MeasureWords() []string {
	var out []string
	if h := c.HeadroomWords(); h != "" {
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
