package field

import (
	"fmt"
	"math"
	"strings"
)

// Allowed says in a sentence fragment what may stand at this place: "a number from 0 to 500 m, or
// a pair [from, to] of them".
func (s *Spec) Allowed() string {
	if s.PairOnly {
		one := *s
		one.PairOnly, one.Pair = false, false
		return "a pair [a, b], each " + one.Allowed()
	}
	text := s.one()
	if s.Pair {
		text += ", or a pair [from, to] of them"
	}
	return text
}

func (s *Spec) one() string {
	if s.numeric() && s.Min == s.Max && s.ranged() {
		return s.orWords(s.figure(s.Min) + s.unitText())
	}
	switch s.Kind {
	case Number:
		text := "a number" + s.rangeText()
		if s.Also != "" {
			text += " or " + s.Also
		}
		return s.orWords(text)
	case Integer:
		return s.orWords("a whole number" + s.rangeText())
	case Seconds:
		return s.orWords("a time" + s.rangeText() + ", as 2, 0.02 or 1/50")
	case Text:
		text := "one line of text"
		if s.Lines {
			text = "text"
		}
		if s.Required {
			text += " that is not empty"
		}
		return text
	case Word:
		if len(s.Words) == 1 {
			return s.Words[0]
		}
		return s.orWords("")
	case Bool:
		return "true or false"
	case Custom:
		if own := s.custom(""); own != "" {
			return own
		}
		return s.orWords("a value")
	case Map:
		return "a map with " + names(s.Fields, 8)
	case List:
		return "a list" + s.countText() + ", each " + s.Item.Allowed()
	case Pairs:
		count := s.countText()
		if count == "" {
			count = " of"
		}
		return "a list" + count + " pairs [a, b], each a number" + s.rangeText()
	}
	return "a value"
}

// orWords puts the allowed words before what else is allowed.
func (s *Spec) orWords(rest string) string {
	all := s.Words
	if rest != "" {
		all = append(append([]string(nil), all...), rest)
	}
	return Either(all)
}

// rangeText returns " from 0 to 500 m", " of at least 0 m" or the unit alone.
func (s *Spec) rangeText() string {
	unit := s.unitText()
	switch {
	case !s.ranged() && s.Unit == "":
		return ""
	case !s.ranged():
		return " (" + s.Unit + ")"
	case math.IsInf(s.Max, 1) || s.Max == math.MaxFloat64:
		return " of at least " + s.figure(s.Min) + unit
	case math.IsInf(s.Min, -1) || s.Min == -math.MaxFloat64:
		return " of at most " + s.figure(s.Max) + unit
	}
	return " from " + s.figure(s.Min) + " to " + s.figure(s.Max) + unit
}

// unitText returns the unit with the space that belongs before it; the degree sign has none.
func (s *Spec) unitText() string {
	switch {
	case s.Unit == "" && s.Kind == Seconds:
		return " s"
	case s.Unit == "":
		return ""
	case strings.HasPrefix(s.Unit, "°"):
		return s.Unit
	}
	return " " + s.Unit
}

// figure prints a bound; a short time as the fraction that stands on a shutter dial.
func (s *Spec) figure(v float64) string {
	if s.Kind == Seconds && v > 0 && v < 0.3 {
		if n := math.Round(1 / v); math.Abs(1/v-n) < 1e-6*n {
			return fmt.Sprintf("1/%.0f", n)
		}
	}
	return Figure(v, -1)
}

func (s *Spec) maxItems() int {
	if s.MaxItems > 0 {
		return s.MaxItems
	}
	return 1000
}

func (s *Spec) countText() string {
	switch {
	case s.MinItems > 0 && s.MinItems == s.MaxItems:
		return fmt.Sprintf(" of %d", s.MinItems)
	case s.MinItems > 0 && s.MaxItems > 0:
		return fmt.Sprintf(" of %d to %d", s.MinItems, s.MaxItems)
	case s.MinItems > 0:
		return fmt.Sprintf(" of at least %d", s.MinItems)
	case s.MaxItems > 0:
		return fmt.Sprintf(" of at most %d", s.MaxItems)
	}
	return ""
}

// absent says what may be done about an empty value.
func (s *Spec) absent() string {
	switch {
	case s.Required:
		return s.Allowed() + "; it must be given"
	case s.Default != "":
		return s.Allowed() + "; leave the field out for the default, " + s.Default
	case s.Key != "":
		return s.Allowed() + "; or leave the field out"
	}
	return s.Allowed()
}

// names lists the keys of a map, the first few of them.
func names(fields []Spec, limit int) string {
	var keys []string
	for i := range fields {
		if i == limit {
			keys = append(keys, "…")
			break
		}
		keys = append(keys, fields[i].Key)
	}
	return strings.Join(keys, ", ")
}

// field returns the row of a map's key, or nil.
func (s *Spec) field(key string) (*Spec, int) {
	if s == nil {
		return nil, -1
	}
	for i := range s.Fields {
		if s.Fields[i].Key == key {
			return &s.Fields[i], i
		}
	}
	return nil, -1
}

// step returns the row one element further down a path, or nil. An index into a pair gives a row
// for the single value.
func (s *Spec) step(st step) *Spec {
	switch {
	case s == nil:
		return nil
	case st.key != "":
		f, _ := s.field(st.key)
		return f
	case s.Kind == List:
		return s.Item
	case s.Kind == Pairs:
		return &Spec{Kind: Number, Min: s.Min, Max: s.Max, Step: s.Step, Unit: s.Unit, PairOnly: true}
	case (s.Pair || s.PairOnly) && st.index < 2:
		one := *s
		one.Key, one.Pair, one.PairOnly, one.Required, one.Default = "", false, false, true, ""
		if s.numeric() {
			one.Words = nil
		}
		return &one
	}
	return nil
}
