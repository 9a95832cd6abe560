package field

import (
	"math"
	"strconv"
	"strings"
)

// Steps is what a table of fields does not know of the steps of its rows; who asks for a nudge brings it
// along. A nil Steps, like a nil function in it, leaves the row to the table.
type Steps struct {
	// Move returns the text that lies n steps on from a value, in a row whose steps are not even or not
	// along numbers: shutters, directions, times. known is false where the row's Step is meant; no text
	// says that nothing can move. Of a pair each value is asked for alone.
	Move func(path string, row *Spec, text string, n int) (next string, known bool)

	// Words returns the words that may stand at a path where the row cannot list them, such as names
	// from another document; none for the row's own.
	Words func(path string, row *Spec) []string

	// Start returns what holds at a path where nothing is written; "" for the row's default.
	Start func(path string, row *Spec) string
}

func (s *Steps) move(path string, row *Spec, text string, n int) (string, bool) {
	if s == nil || s.Move == nil {
		return "", false
	}
	return s.Move(path, row, text, n)
}

func (s *Steps) words(path string, row *Spec) []string {
	if s != nil && s.Words != nil {
		if all := s.Words(path, row); len(all) > 0 {
			return all
		}
	}
	switch row.Kind {
	case Bool:
		return []string{"false", "true"}
	case Word, Text:
		return row.Words
	}
	return nil
}

func (s *Steps) start(path string, row *Spec) string {
	if s != nil && s.Start != nil {
		if text := s.Start(path, row); text != "" {
			return text
		}
	}
	return row.Default
}

// Nudge returns the document with the value at a path moved by n steps, as [Doc.NudgeText] moves a text.
// Where nothing can move (no Step, a name) the same Doc comes back.
func (d *Doc) Nudge(path string, n int, steps *Steps) (*Doc, Faults) {
	if d.SpecAt(path) == nil {
		return nil, d.refuse(path, "no such field", "a field of the table")
	}
	next, moved := d.NudgeText(path, d.At(path).Text(), n, steps)
	if !moved {
		return d, nil
	}
	return d.Set(path, next)
}

// NudgeText returns what a text that a person typed for a path becomes n steps on, and whether such a
// value can move at all. A number moves by n × Step within its range, where it stops, and both ends of a
// pair alike; a direction all round goes round. Of words the next one comes, or the one before, round the
// list and one at a time: a list of words has no coarse step. Nothing starts from the row's default, or
// else from 0, a word in a number's place from before the range, so that one step up is its lowest number
// and one down its highest.
func (d *Doc) NudgeText(path, text string, n int, steps *Steps) (next string, moved bool) {
	row := d.SpecAt(path)
	if row == nil || n == 0 {
		return text, false
	}
	if text = strings.TrimSpace(text); text == "" {
		text = steps.start(path, row)
	}
	switch row.Kind {
	case Map, List, Pairs:
		return text, false
	}
	if all := steps.words(path, row); len(all) > 0 {
		return nextWord(all, text, n), true
	}
	values := []string{text}
	if row.Pair || row.PairOnly {
		if all := words(text, false); len(all) == 2 {
			values = all
		} else if row.PairOnly && text != "" {
			values = []string{text, text}
		}
	}
	for i, value := range values {
		to, known := steps.move(path, row, value, n)
		if !known {
			to = row.nudge(value, n)
		}
		if to == "" {
			return text, false
		}
		values[i] = to
	}
	return strings.Join(values, " "), true
}

// nextWord returns the word after one, or before it where n is negative, round the list. What is not in
// the list stands before its first and after its last.
func nextWord(all []string, word string, n int) string {
	i := indexOf(all, word)
	switch {
	case n > 0:
		return all[(i+1)%len(all)]
	case i < 0:
		return all[len(all)-1]
	}
	return all[(i+len(all)-1)%len(all)]
}

// Float returns the number that a text of this row stands for, a fraction worked out; ok is false for a
// word.
func (s *Spec) Float(text string) (v float64, ok bool) { return s.float(text) }

// nudge moves one typed number by n steps; "" where nothing can move.
func (s *Spec) nudge(text string, n int) string {
	size := s.Step
	if size == 0 && s.Kind == Integer {
		size = 1 // the least that a whole number can move
	}
	if size == 0 || s.Kind == Text {
		return ""
	}
	text = strings.Replace(text, "−", "-", 1)
	v, ok := s.float(text)
	switch {
	case ok:
		if k := math.Round(v / size); s.thirds() && math.Abs(v/size-k) < 0.03 {
			v = k * size // 0.33 is meant to be a third: 0.33, 0.67, 1
		}
		v += float64(n) * size
	case text == "" || s.isWord(text):
		v = s.enter(text, n, size)
		text = ""
	default:
		return ""
	}
	switch {
	case s.circle():
		v = math.Mod(math.Mod(v, 360)+360, 360)
		if 360-v < 1e-9 {
			v = 0
		}
	case s.ranged():
		v = math.Max(s.Min, math.Min(s.Max, v))
	}
	if s.thirds() {
		return tidy(v, "0.01", 1)
	}
	return tidy(v, text, size)
}

// enter returns where n steps lead from no number at all.
func (s *Spec) enter(word string, n int, size float64) float64 {
	up, down := 0.0, 0.0 // from nothing, or with no range
	if word != "" && s.ranged() {
		up, down = s.Min-size, s.Max+size
		if s.circle() {
			down = s.Max // which is 0 again
		}
	}
	if n > 0 {
		return up + float64(n)*size
	}
	return down + float64(n)*size
}

// thirds tells a step that no short decimal gives, as that of a stop in thirds.
func (s *Spec) thirds() bool {
	return decimals(strconv.FormatFloat(s.Step, 'g', -1, 64)) > 6 && s.Step > 0.05
}

// circle tells whether a row is a direction all round.
func (s *Spec) circle() bool { return s.Unit == "°" && s.Min == 0 && s.Max == 360 }

// tidy prints a sum with as many decimals as its parts had.
func tidy(v float64, text string, step float64) string {
	places := max(decimals(text), decimals(strconv.FormatFloat(step, 'g', -1, 64)))
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
