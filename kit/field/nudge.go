package field

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Nudge moves the value at path by a count of steps of its row: a number by steps × Step within its
// range (both ends of a pair alike; a full circle goes round), a word to a later or earlier one, a
// truth to the other. A value that is absent, or a word in a number's place, starts from the
// default, or from the end of the range nearest to 0. "sun+90" moves its number. Where nothing can
// move (no Step, a name, a compass point) the same Doc comes back.
func (d *Doc) Nudge(path string, steps int) (*Doc, Faults) {
	spec, v := d.SpecAt(path), d.At(path)
	if spec == nil {
		return nil, d.refuse(path, "no such field", "a field of the table")
	}
	if steps == 0 {
		return d, nil
	}
	switch spec.Kind {
	case Word, Bool:
		all := spec.Words
		if spec.Kind == Bool {
			all = []string{"false", "true"}
		}
		if len(all) == 0 {
			return d, nil
		}
		i := indexOf(all, v.Word(spec.Default))
		switch {
		case i >= 0:
			i += steps
		case steps < 0:
			i = len(all) + steps
		default:
			i = steps - 1
		}
		return d.Set(path, all[((i%len(all))+len(all))%len(all)])
	case Number, Integer, Seconds, Custom:
		size := spec.Step
		if size == 0 && spec.Kind == Integer {
			size = 1 // the least that a whole number can move
		}
		if size == 0 {
			return d, nil
		}
		from, to := v.Texts()
		a, okA := spec.nudge(from, float64(steps)*size)
		b, okB := spec.nudge(to, float64(steps)*size)
		switch {
		case !okA || !okB:
			return d, nil
		case v.IsPair() || spec.PairOnly:
			return d.Set(path, a+" "+b)
		}
		return d.Set(path, a)
	}
	return d, nil
}

var relative = regexp.MustCompile(`^([a-z]+)([+-][0-9]+(?:\.[0-9]+)?)?$`)

// nudge moves one typed number.
func (s *Spec) nudge(text string, by float64) (string, bool) {
	v, ok := s.float(text)
	if !ok && s.Kind == Custom && !s.isWord(text) {
		// A word with a signed number behind it, where the row's check knows such words.
		if m := relative.FindStringSubmatch(text); m != nil && s.custom(m[1]+"+1") == "" {
			x, _ := strconv.ParseFloat(m[2], 64)
			x = math.Mod(x+by, 360)
			if sum := tidy(x, m[2], s.Step); sum == "0" {
				return m[1], s.custom(m[1]) == ""
			} else if x > 0 {
				return m[1] + "+" + sum, true
			} else {
				return m[1] + sum, true
			}
		}
	}
	if !ok {
		if text != "" && !s.isWord(text) {
			return "", false
		}
		if v, ok = s.float(s.Default); !ok {
			v = 0
			if s.ranged() {
				v = math.Max(s.Min, math.Min(s.Max, 0))
			}
		}
		text = s.Default
	}
	if n := math.Round(v / s.Step); s.thirds() && math.Abs(v/s.Step-n) < 0.03 {
		v = n * s.Step // 0.33 is meant to be a third: 0.33, 0.67, 1
	}
	v += by
	switch {
	case s.circle():
		if v < 0 || v > 360 {
			v = math.Mod(math.Mod(v, 360)+360, 360)
		}
	case s.ranged():
		v = math.Max(s.Min, math.Min(s.Max, v))
	}
	if s.thirds() {
		return tidy(v, "0.01", 1), true
	}
	return tidy(v, text, by), true
}

// thirds tells a step that no short decimal gives, as that of a stop in thirds.
func (s *Spec) thirds() bool {
	return decimals(strconv.FormatFloat(s.Step, 'g', -1, 64)) > 6 && s.Step > 0.05
}

// circle tells whether a row is a direction all round.
func (s *Spec) circle() bool { return s.Unit == "°" && s.Min == 0 && s.Max == 360 }

// tidy prints a sum with as many decimals as its parts had.
func tidy(v float64, text string, by float64) string {
	places := max(decimals(text), decimals(strconv.FormatFloat(by, 'g', -1, 64)))
	out := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(out, ".") {
		out = strings.TrimRight(strings.TrimRight(out, "0"), ".")
	}
	if out == "-0" {
		out = "0"
	}
	return out
}

// decimals counts the digits behind the point of a number; ten at most.
func decimals(text string) int {
	v, ok := seconds(text)
	if !ok {
		return 0
	}
	plain := strconv.FormatFloat(v, 'f', -1, 64)
	if i := strings.IndexByte(plain, '.'); i >= 0 {
		return min(10, len(plain)-i-1)
	}
	return 0
}

func indexOf(all []string, word string) int {
	for i, w := range all {
		if w == word {
			return i
		}
	}
	return -1
}
