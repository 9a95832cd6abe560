// Package words says figures as a pilot does. A screen, a line of text and a reason must say the same
// figure in the same way, so each way of saying one stands here once: stops in thirds, shares in plain
// words, names of filters and legs. It knows no shot and computes nothing.
package words

import (
	"fmt"
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

// FilterTitle names a filter for people, with its setting where it has one: "bare", "ND16/PL",
// "variable light at 3 stops".
func FilterTitle(name string, settingStops float64) string {
	switch {
	case name == Bare || name == "":
		return "bare"
	case settingStops > 0:
		return name + " at " + exposure.FormatStops(settingStops)
	}
	return name
}

// AboutStops returns an amount in stops, rounded to thirds: "⅔ stop", "1⅓ stops".
func AboutStops(x float64) string {
	if math.Abs(x) < 1.0/6 {
		return "under ⅓ stop"
	}
	return exposure.FormatStops(math.Abs(x))
}

// Signed returns what a meter shows, in signed thirds of a stop: "+2⅓", "−1", "0".
func Signed(stops float64) string {
	text := strings.TrimSuffix(strings.TrimSuffix(exposure.FormatStops(stops), "s"), " stop")
	if stops >= 1.0/6 {
		text = "+" + text
	}
	return text
}

// Minus puts the sign of mathematics into numbers for people.
func Minus(s string) string { return strings.Replace(s, "-", "−", 1) }

// shares are the parts of a whole that a pilot sees at a glance.
var shares = []struct {
	of   float64
	name string
}{
	{0, "next to nothing"}, {1.0 / 20, "a twentieth"}, {1.0 / 10, "a tenth"}, {1.0 / 8, "an eighth"}, {1.0 / 6, "a sixth"}, {1.0 / 5, "a fifth"},
	{1.0 / 4, "a quarter"}, {1.0 / 3, "a third"}, {1.0 / 2, "half"}, {2.0 / 3, "two thirds"}, {3.0 / 4, "three quarters"}, {9.0 / 10, "nearly all"},
}

// Share returns a share of the frame in words, by the nearest plain part: "an eighth", "nearly all".
func Share(x float64) string {
	name, off := "", math.Inf(1)
	for _, s := range shares {
		if d := math.Abs(x - s.of); d < off {
			name, off = s.name, d
		}
	}
	return name
}

// Shutters returns a range of exposure times, slow to fast, in one way of writing: "1/50 to 1/200", "0.3 s to 1/5 s".
func Shutters(slowS, fastS float64) string {
	slow, fast := exposure.FormatShutter(slowS), exposure.FormatShutter(fastS)
	if strings.HasSuffix(slow, " s") && !strings.HasSuffix(fast, " s") {
		fast += " s"
	}
	return FromTo(slow, fast)
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

// Sentence begins a text with a capital.
func Sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// SureShort is [SureWord] with the rival of a toss-up: "toss-up with ND64".
func SureShort(confidence, why string) string {
	if confidence != "close" {
		return confidence
	}
	short, _, _ := strings.Cut(why, ";")
	return short
}

// SureWord returns how sure a call is as a pilot says it: a close one is a toss-up.
func SureWord(confidence string) string {
	if confidence == "close" {
		return "toss-up"
	}
	return confidence
}

// Span returns a count of minutes as it is counted down: "14 min", "1 h 14 min", "2 h".
func Span(minutes int) string {
	switch h, m := minutes/60, minutes%60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %d min", h, m)
	}
}
