package cells

import (
	"math/rand"
	"strings"
	"testing"
)

func TestDegreesAreSpelt(t *testing.T) {
	for in, want := range map[string]string{
		"heading 330°   25    5": "heading 330deg 25    5",
		"330→60°   40 ":          "330>60deg 40 ",
		"10° at 263°      x":     "10deg at 263deg  x",
		"     sun 10° at 263°":   " sun 10deg at 263deg",
		"67°L→156°L     +0.0":    "67degL>156degL +0.0",
		"10°":                    "10 ",
		"10° N":                  "10  N",
		"10°  ":                  "10deg",
		"  10°│  ab":             "10deg|  ab",
		"ab  10°█  ":             "ab  10 #  ",
		"°":                      " ",
	} {
		var c Canvas
		c.Reset(Width(in), 1)
		c.All().Text(0, 0, in, Style{})
		if got := (&Pen{ASCII: true}).Lines(&c, nil)[0]; got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
		if got := (&Pen{}).Lines(&c, nil)[0]; got != in {
			t.Errorf("not in ASCII %q becomes %q", in, got)
		}
	}
}

// Whatever stands in a row: it keeps its length, loses no letter, and no degree sign is left.
func TestSpellingKeepsTheRow(t *testing.T) {
	letters := []rune("  °°ab│█  ")
	chance := rand.New(rand.NewSource(1))
	var into []Cell
	for range 20000 {
		row := make([]Cell, 1+chance.Intn(30))
		var was strings.Builder
		for i := range row {
			row[i].Rune = letters[chance.Intn(len(letters))]
			if r := row[i].Rune; r != ' ' && r != '°' {
				was.WriteRune(r)
			}
		}
		into = degreesSpelt(row, into)
		var now strings.Builder
		for _, c := range into {
			now.WriteRune(c.Rune)
		}
		left := strings.ReplaceAll(strings.ReplaceAll(now.String(), "deg", ""), " ", "")
		if len(into) != len(row) || left != was.String() || strings.Contains(now.String(), "°") {
			t.Fatalf("%q became %q", string(runesOf(row)), now.String())
		}
	}
}

func runesOf(row []Cell) []rune {
	var out []rune
	for _, c := range row {
		out = append(out, c.Rune)
	}
	return out
}
