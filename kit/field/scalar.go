package field

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

var (
	decimal   = regexp.MustCompile(`^[+-]?(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?$`)
	whole     = regexp.MustCompile(`^[+-]?(?:0|[1-9][0-9]*)$`)
	zeroed    = regexp.MustCompile(`^[+-]?0[0-9]+(?:\.[0-9]*)?$`)
	commaed   = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+$`)
	wholeZero = regexp.MustCompile(`^[+-]?[0-9]+\.0*$`)
)

// number reads a decimal number. Hexadecimal, octal, grouped and sexagesimal forms are no numbers
// here, although YAML knows them: 010 as 8 and 1:30 as 90 surprise people.
func number(text string) (float64, bool) {
	if !decimal.MatchString(text) {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, false
	}
	return v, true
}

// seconds reads 2, 0.02 or 1/50.
func seconds(text string) (float64, bool) {
	over, under, fraction := strings.Cut(text, "/")
	a, ok := number(over)
	if !fraction || !ok {
		return a, ok
	}
	b, ok := number(under)
	if !ok || b <= 0 || strings.HasPrefix(under, "+") {
		return 0, false
	}
	return a / b, true
}

// float returns the number that a scalar of some kind stands for.
func (s *Spec) float(text string) (float64, bool) {
	if s == nil || s.Kind == Seconds || s.Kind == Custom || s.Kind == Text || s.Kind == Word {
		return seconds(text)
	}
	if v, ok := number(text); ok || s.Read == nil {
		return v, ok
	}
	return s.Read(text)
}

func (s *Spec) numeric() bool { return s.Kind == Number || s.Kind == Integer || s.Kind == Seconds }

func (s *Spec) ranged() bool { return s.Min != 0 || s.Max != 0 }

func (s *Spec) inRange(v float64) bool { return !s.ranged() || v >= s.Min && v <= s.Max }

func (s *Spec) isWord(text string) bool {
	for _, w := range s.Words {
		if w == text {
			return true
		}
	}
	return false
}

// wrong checks a scalar and says what is allowed instead, or "". inPair is set for one of two.
func (s *Spec) wrong(n *node, inPair bool) string {
	text := strings.TrimRight(n.value, "\n")
	if s.isWord(text) && (!inPair || !s.numeric()) {
		return ""
	}
	one := *s
	if inPair {
		one.Pair, one.PairOnly = false, false
		if s.numeric() {
			one.Words = nil
		}
	}
	hint := ""
	switch s.Kind {
	case Number, Integer, Seconds:
		v, ok := s.float(text)
		_, other := number(text)
		other = ok && !other && s.Read != nil
		switch {
		case other && s.inRange(v):
			return s.custom(text)
		case n.style != plain && ok && !other:
			hint = "without quotation marks"
		case ok && s.Kind == Integer && !whole.MatchString(text):
			if wholeZero.MatchString(text) {
				hint = "without a point"
			} else {
				hint = "no fraction"
			}
		case ok && s.inRange(v) && n.style == plain:
			return s.custom(text)
		case ok:
		case commaed.MatchString(text):
			hint = "with a point: " + strings.Replace(text, ",", ".", 1)
		case zeroed.MatchString(text):
			hint = "without the leading zero"
		case strings.HasPrefix(text, "−"):
			hint = "with a plain hyphen for minus"
		default:
			if w := Nearest(text, s.Words); w != "" && !inPair {
				hint = "did you mean " + w + "?"
			}
		}
	case Bool:
		if n.style == plain && (text == "true" || text == "false") {
			return s.custom(text)
		}
		switch strings.ToLower(text) {
		case "yes", "on", "y", "true":
			hint = "did you mean true?"
		case "no", "off", "n", "false":
			hint = "did you mean false?"
		}
	case Word:
		if w := Nearest(text, s.Words); w != "" {
			hint = "did you mean " + w + "?"
		}
	case Text:
		switch {
		case strings.ContainsRune(text, '\t'):
			hint = "without a tab"
		case strings.ContainsRune(text, '\n') && !s.Lines:
		case text == "" && s.Required:
		default:
			return s.custom(text)
		}
	case Custom:
		if text != "" && !strings.ContainsAny(text, "\n\t") {
			if s.custom(text) == "" {
				return ""
			}
			if w := Nearest(text, s.Words); w != "" {
				hint = "did you mean " + w + "?"
			}
		}
		if own := s.custom(text); own != "" {
			return withHint(own, hint)
		}
	}
	return withHint(one.Allowed(), hint)
}

// custom asks the row's own check, whose error says what is allowed.
func (s *Spec) custom(text string) string {
	if s.Check == nil {
		return ""
	}
	err := s.Check(text)
	if err == nil {
		return ""
	}
	if s.Kind == Custom && len(s.Words) > 0 {
		return Either(append(slices.Clone(s.Words), err.Error()))
	}
	return err.Error()
}

func withHint(allowed, hint string) string {
	if hint == "" {
		return allowed
	}
	return allowed + "; " + hint
}
