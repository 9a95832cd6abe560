// Package words says figures as a pilot does. A screen, a line of text and a reason must say the same
// figure in the same way, so each way of saying one stands here once: stops in thirds, shares in plain
// words, names of filters and legs. It knows no shot and computes nothing.
package words

import (
	"math"
	"strings"

	"example.org/skywedge/plan/exposure"
)

// Bare stands for no filter, in cards and reports.
const Bare = "none"

// How even a sky looks (ours).
const (
	UnevenFrom = 0.5 // stops over the sky in the frame: under it the sky looks even
	BandedFrom = 1.0 // over it the sky shows a band
)

// FilterTitle names a filter for people, with its setting where it has one: "no filter", "ND16/PL",
// "variable light at 3 stops".
func FilterTitle(name string, settingStops float64) string {
	switch {
	case name == Bare || name == "":
		return "no filter"
	case settingStops > 0:
		return name + " at " + exposure.FormatStops(settingStops)
	}
	return name
}

// AboutStops returns an amount in stops, rounded to thirds: "⅔ of a stop", "1⅓ stops".
func AboutStops(x float64) string {
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

// Fraction returns a part of a whole in words.
func Fraction(x float64) string {
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

// Evenness returns how even a sky looks whose effect spreads over so many stops.
func Evenness(unevenness float64) string {
	switch {
	case unevenness < UnevenFrom:
		return "even"
	case unevenness <= BandedFrom:
		return "graded"
	}
	return "banded"
}

// Cast returns which way a cast in mired goes.
func Cast(mired float64) string {
	if mired > 0 {
		return "warmer"
	}
	return "cooler"
}

// Legs makes "leg 2" or "legs 1, 3 and 4" of numbers; "" of none.
func Legs(numbers []string) string {
	switch n := len(numbers); n {
	case 0:
		return ""
	case 1:
		return "leg " + numbers[0]
	default:
		return "legs " + strings.Join(numbers[:n-1], ", ") + " and " + numbers[n-1]
	}
}

// FromTo returns a range from one end to the other: equal ends once, and without what the first end said already.
func FromTo(from, to string) string {
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

// EffectOnSky returns what a filter does to the sky: stops against a density of the same loss, negative darkens.
func EffectOnSky(effect float64) string {
	switch {
	case effect < -0.15:
		return "darker by " + AboutStops(effect)
	case effect > 0.15:
		return "brighter by " + AboutStops(effect)
	}
	return "hardly changed"
}
