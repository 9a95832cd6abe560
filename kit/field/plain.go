package field

import (
	"regexp"
	"slices"
	"strings"
)

// unit is a unit that people type, and what one of it is in the unit of a row.
type unit struct {
	name string
	is   float64
}

// The lengths of the international yard and pound agreement of 1959 and the international nautical mile,
// all exact (from memory).
const (
	footM = 0.3048
	mileM = 1609.344
	knot  = 1852. / 3600
)

// unitsOf are the units that may be typed behind a number of a row, by the row's own; each row's own unit
// may stand there too. The first name is how it is said back.
var unitsOf = map[string][]unit{
	"m":     {{"ft", footM}, {"feet", footM}, {"'", footM}, {"km", 1000}, {"mi", mileM}},
	"km":    {{"m", 0.001}, {"mi", mileM / 1000}, {"ft", footM / 1000}},
	"m/s":   {{"mph", mileM / 3600}, {"kn", knot}, {"kt", knot}, {"kts", knot}, {"km/h", 1 / 3.6}, {"kmh", 1 / 3.6}, {"kph", 1 / 3.6}},
	"s":     {{"sec", 1}, {"min", 60}},
	"min":   {{"h", 60}},
	"°":     {{"deg", 1}},
	"°C":    {{"c", 1}},
	"stops": {{"stop", 1}},
}

// unitNamed returns what one of a unit is in the row's own; 0 for a unit that the row does not take.
func (s *Spec) unitNamed(name string) (is float64) {
	name = strings.ToLower(name)
	if name == "" || name == strings.ToLower(s.Unit) {
		return 1
	}
	if i := slices.IndexFunc(unitsOf[s.Unit], func(u unit) bool { return u.name == name }); i >= 0 {
		return unitsOf[s.Unit][i].is
	}
	return 0
}

var (
	// typedNumber is a number as people type it, with a point or a comma, whole or a fraction, and what
	// stands behind it.
	typedNumber = regexp.MustCompile(`^([+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:/[0-9]+(?:[.,][0-9]+)?)?)\s*([\pL°%/']*)$`)

	// Between two values: an arrow, a semicolon, or a comma with a blank behind it.
	betweenEnds = regexp.MustCompile(`\s*(?:->|[>→;]|,\s)\s*`)
	// A hyphen stands between two numbers, or between two words, but in "sun-90" and "10 -10" it is a minus.
	hyphened = regexp.MustCompile(`^([+-]?[0-9][0-9.,]*(?:\s*[\pL°/']+)?|\pL+)(?:[-–]\s*|\s+[-–]\s+)([+-]?[0-9][0-9.,]*(?:\s*[\pL°/']+)?|\pL+)$`)
	// A blank between a number and its unit is none between two values.
	beforeUnit = regexp.MustCompile(`([0-9.,])\s+(\pL[\pL/]*)`)
)

// Plain returns what a person typed for a row as the row takes it: a decimal comma is a point, "300>60",
// "300→60" and "300-60" are pairs, "400 ft" is a height in metres. Where a unit was turned into another, or
// a comma could have parted two numbers, said says what was understood. What it does not understand comes
// back as it is, for the table to judge.
func (s *Spec) Plain(text string) (plain, said string) {
	text = strings.TrimSpace(text)
	degrees := s.Kind == Custom && s.Unit == "°"
	if !s.numeric() && !degrees || s.isWord(text) || strings.HasPrefix(text, "[") {
		return text, ""
	}
	ends := []string{text}
	if s.Pair || s.PairOnly {
		ends = s.ends(text)
	}
	if len(ends) > 2 {
		return text, ""
	}
	var numbers, units []string
	comma := false
	for _, end := range ends {
		m := typedNumber.FindStringSubmatch(strings.Replace(end, "−", "-", 1))
		if m == nil { // a word, or a direction from the sun
			if degrees {
				end = strings.TrimSuffix(end, "°")
			}
			numbers, units = append(numbers, end), append(units, "")
			continue
		}
		if s.unitNamed(m[2]) == 0 {
			return text, ""
		}
		comma = comma || strings.Contains(m[1], ",")
		numbers, units = append(numbers, strings.ReplaceAll(m[1], ",", ".")), append(units, m[2])
	}
	if len(ends) == 2 { // "100-200 ft": one unit is that of both
		for i := range units {
			if units[i] == "" {
				units[i] = units[1-i]
			}
		}
	}
	wrote := strings.Join(numbers, "→")
	turned := false
	for i, u := range units {
		if is := s.unitNamed(u); is != 1 {
			v, ok := s.float(numbers[i])
			if !ok {
				return text, ""
			}
			numbers[i], turned = Figure(v*is, 1), true
		}
	}
	plain = strings.Join(numbers, " ")
	switch {
	case turned:
		said = wrote + " " + units[len(units)-1] + " = " + strings.Join(numbers, "→") + s.unitText()
	case comma && len(ends) == 1 && (s.Pair || s.PairOnly):
		said = "one number, " + plain + s.unitText()
	}
	return plain, said
}

// ends returns the one or two values that were typed for a pair; more, where it is none.
func (s *Spec) ends(text string) []string {
	text = beforeUnit.ReplaceAllString(text, "$1$2")
	parted := betweenEnds.ReplaceAllString(text, " ")
	if parted == text && s.mayHyphen() {
		if m := hyphened.FindStringSubmatch(text); m != nil && beginsNumber(m[1]) == beginsNumber(m[2]) {
			return m[1:]
		}
	}
	return strings.Fields(parted)
}

// mayHyphen tells whether a hyphen may part two values of the row: not where the second is often below 0,
// as in pitches, so that 0-30 could be meant to go down.
func (s *Spec) mayHyphen() bool { return s.Kind == Custom || s.Unit == "m" || s.Min >= 0 }

func beginsNumber(text string) bool { return strings.IndexByte("+-0123456789", text[0]) >= 0 }
