package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// SplitStops is how far the light may move over a leg that is flown at one exposure (ours).
const SplitStops = 2.0

// withGlass adds what the chosen glass and the exposure through it ask for, before the last of the cautions,
// which is always to power off. All of it is common practice, no source.
func withGlass(cautions []string, parts []plannedFlight, legs []LegReport) []string {
	var add []string
	for _, c := range []func([]plannedFlight, []LegReport) string{
		driftCaution, tilesCaution, flareCaution, lampCaution, sheetsCaution, stackCaution, shimmerCaution,
	} {
		if text := c(parts, legs); text != "" {
			add = append(add, text)
		}
	}
	if len(parts) > 1 {
		add = append(add, "Land with the reserve and change filters out of the wind: "+changeList(parts)+".")
	}
	at := len(cautions) - 1
	if at < 0 || cautions[at] != caution.PowerOff {
		at = len(cautions)
	}
	return slices.Insert(cautions, at, add...)
}

func changeList(parts []plannedFlight) string {
	var list []string
	for _, p := range parts[1:] {
		list = append(list, fmt.Sprintf("%s before leg %d", p.change, p.legs[0].n+1))
	}
	return strings.Join(list, ", then ")
}

// legsOf names the legs flown with some glass for which a test holds; "" for none.
func legsOf(parts []plannedFlight, glass func(*kit.Filter) bool, test func(*analysis, *legAnalysis) bool) string {
	var numbers []string
	for i := range parts {
		f := parts[i].c.best.Filter
		if f == nil || !glass(f) {
			continue
		}
		for _, l := range parts[i].legs {
			if test(parts[i].analysis, l) {
				numbers = append(numbers, strconv.Itoa(l.n+1))
			}
		}
	}
	return words.Legs(numbers)
}

// driftCaution speaks where one exposure cannot serve a leg: within a take, or from the first take to the last.
func driftCaution(parts []plannedFlight, _ []LegReport) string {
	var within, between []string
	for i := range parts {
		p := &parts[i]
		for k, l := range p.near.legs {
			r := p.evaluation.legs[k].exposure.meter
			var most float64
			for take := range 2 {
				low, high := math.Inf(1), math.Inf(-1)
				for at := range l.to - l.from {
					ev := r.ev(at, take)
					low, high = min(low, ev), max(high, ev)
				}
				most = max(most, high-low)
			}
			switch n := strconv.Itoa(l.n + 1); {
			case most > SplitStops:
				within = append(within, n)
			case r.drift() > SplitStops:
				between = append(between, n)
			}
		}
	}
	var text []string
	if len(within) > 0 {
		text = append(text, fmt.Sprintf("The light moves by more than %g stops in a take of %s: split the leg or ride the exposure.", SplitStops, words.Legs(within)))
	}
	if len(between) > 0 {
		text = append(text, fmt.Sprintf("The light moves by more than %g stops between the takes of %s: set the exposure again for each.", SplitStops, words.Legs(between)))
	}
	return strings.Join(text, " ")
}

func anyGlass(*kit.Filter) bool { return true }

func tilesCaution(parts []plannedFlight, _ []LegReport) string {
	legs := legsOf(parts, func(f *kit.Filter) bool { return f.Polarises() }, func(_ *analysis, l *legAnalysis) bool { return l.Tiles() })
	if legs == "" {
		return ""
	}
	return words.Sentence(legs) + ": tiles of a panorama taken through a polariser do not match. Take it off for them."
}

func flareCaution(parts []plannedFlight, _ []LegReport) string {
	legs := legsOf(parts, anyGlass, func(_ *analysis, l *legAnalysis) bool { return l.sunNear })
	if legs == "" {
		return ""
	}
	return "The sun is in or near the picture on " + legs + ": flat glass before the lens may flare and ghost. Clean it, and have a take without it."
}

func lampCaution(parts []plannedFlight, _ []LegReport) string {
	legs := legsOf(parts, anyGlass, func(y *analysis, l *legAnalysis) bool { return y.lamps(l) })
	if legs == "" {
		return ""
	}
	return "Lamps in the picture on " + legs + " show as ghosts in flat glass, mirrored through the middle of the frame."
}

func sheetsCaution(parts []plannedFlight, _ []LegReport) string {
	for i := range parts {
		j := parts[i].c.best
		if j.Kind() != kit.Variable {
			continue
		}
		if near := slices.ContainsFunc(parts[i].legs, func(l *legAnalysis) bool { return l.sunNear }); near || j.corners > cornersFrom {
			return "The two sheets of a variable mirror each other, and crossed far they darken two corners: keep to its light settings."
		}
	}
	return ""
}

// stackCaution speaks where a long exposure wants more density than the call has: the thought of screwing a
// second filter on is near.
func stackCaution(parts []plannedFlight, _ []LegReport) string {
	for i := range parts {
		p := &parts[i]
		for k, l := range p.legs {
			if l.Purpose == shot.Long && p.c.best.legs[k].exposure.bright.Bright > 1 {
				return "Two filters stacked would be dark enough, but they flare, shade the corners and weigh on the gimbal: rather average a burst."
			}
		}
	}
	return ""
}

func shimmerCaution(parts []plannedFlight, legs []LegReport) string {
	var numbers []string
	for i := range parts {
		for _, l := range parts[i].legs {
			if l.n < len(legs) && l.from < l.to && parts[i].shimmers(l, &legs[l.n]) {
				numbers = append(numbers, strconv.Itoa(l.n+1))
			}
		}
	}
	if len(numbers) == 0 {
		return ""
	}
	return "Very fast shutters into a high sun on " + words.Legs(numbers) + ": water shimmers from frame to frame, and the propellers' shadow may band the picture."
}
