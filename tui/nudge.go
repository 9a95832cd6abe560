package tui

import (
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// nudged gives the text of a field moved by n steps, and false where there is nothing to move.
func nudged(text string, spec *field.Spec, words []string, n int) (string, bool) {
	switch {
	case spec.Key == "take_off":
		return nudgeTime(text, n)
	case spec.Key == "skywedge" || spec.Key == "name" || spec.Key == "notes" || spec.Key == "zone":
		return text, false
	case spec.Kind == field.Seconds:
		return nudgeShutter(text, n), true
	case spec.Kind == field.Number || spec.Kind == field.Integer || spec.Kind == field.Custom:
		parts := strings.Fields(strings.NewReplacer("[", "", "]", "", ",", " ").Replace(text))
		if len(parts) == 0 {
			parts = []string{num(math.Max(spec.Min, 0))}
		}
		for i, p := range parts {
			t, ok := nudgeNumber(p, spec, n)
			if !ok {
				return text, false
			}
			parts[i] = t
		}
		return strings.Join(parts, " "), true
	case len(words) > 0:
		return nudgeWord(text, words, n), true
	}
	return text, false
}

func nudgeWord(text string, words []string, n int) string {
	at := 0
	if n < 0 {
		at = len(words)
	}
	for i, w := range words {
		if w == text {
			at = i + sign(n)
			return words[(at+len(words))%len(words)]
		}
	}
	return words[at%len(words)]
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

// nudgeNumber moves a number, or a heading as it is written.
func nudgeNumber(text string, spec *field.Spec, n int) (string, bool) {
	step := spec.Step
	if step == 0 {
		step = 1
	}
	if spec.Kind == field.Custom {
		t, err := shot.NudgeHeading(text, float64(n)*step)
		return t, err == nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		if len(spec.Words) == 0 {
			return text, false
		}
		v = spec.Min - step // from "auto" into the numbers
		if n < 0 {
			v = spec.Max
		}
	}
	if math.Abs(step*1e3-math.Round(step*1e3)) > 1e-6 { // thirds: three steps are one stop, in two decimals
		v = math.Round(math.Round(v/step+float64(n))*step*100) / 100
	} else {
		v = math.Round((v+float64(n)*step)*1e6) / 1e6
	}
	switch {
	case spec.Unit == "°" && spec.Min == 0 && spec.Max == 360: // a bearing goes round
		return num(math.Mod(v+360, 360)), true
	case spec.Min != 0 || spec.Max != 0:
		v = math.Max(spec.Min, math.Min(spec.Max, v))
	}
	return num(v), true
}

// nudgeShutter walks along the shutter times that a camera can set.
func nudgeShutter(text string, n int) string {
	v := fraction(text)
	if v <= 0 {
		v = 1.0 / 50
	}
	return strings.TrimSuffix(exposure.Nudge(exposure.ShuttersOf(0, 0, true), v, n).Label, " s")
}

func fraction(text string) float64 {
	a, b, ok := strings.Cut(text, "/")
	x, err := strconv.ParseFloat(strings.TrimSpace(a), 64)
	if err != nil {
		return 0
	}
	if !ok {
		return x
	}
	y, err := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if err != nil || y == 0 {
		return 0
	}
	return x / y
}

// nudgeTime moves a take-off by five minutes a step; what is relative to now stays relative.
func nudgeTime(text string, n int) (string, bool) {
	if rest, ok := strings.CutPrefix(text, "now"); ok {
		v, err := strconv.Atoi(strings.TrimPrefix(rest, "+"))
		if rest != "" && err != nil {
			return text, false
		}
		if v = max(0, v+5*n); v == 0 {
			return "now", true
		}
		return "now+" + strconv.Itoa(v), true
	}
	for _, layout := range []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t.Add(time.Duration(n) * 5 * time.Minute).Format(layout), true
		}
	}
	return text, false
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
