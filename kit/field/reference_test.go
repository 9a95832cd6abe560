package field

import (
	"math"
	"strings"
	"testing"
)

func TestReference(t *testing.T) {
	spec := &Spec{Kind: Map, Fields: []Spec{
		{Key: "version", Kind: Integer, Min: 1, Max: 1, Required: true, Help: "of the format"},
		{Key: "legs", Kind: List, MinItems: 1, MaxItems: 9, Help: "in order", Item: &Spec{Kind: Map, Fields: []Spec{
			{Key: "height_m", Kind: Number, Unit: "m", Max: 500, Pair: true, Default: "30", Help: "above take-off"},
			{Key: "move", Kind: Word, Words: []string{"push", "pull"}, Help: "a|b"},
		}}},
		{Key: "marks", Kind: List, Item: &Spec{Kind: Number, Unit: "stops"}},
	}}
	want := `| field | allowed | default | meaning |
| --- | --- | --- | --- |
| ` + "`version`" + ` | 1 | required | of the format |
| ` + "`legs`" + ` | a list of 1 to 9 maps |  | in order |
| ` + "`legs[].height_m`" + ` | a number from 0 to 500 m, or a pair [from, to] of them | 30 | above take-off |
| ` + "`legs[].move`" + ` | push, pull |  | a\|b |
| ` + "`marks`" + ` | a list, each a number (stops) |  |  |
| ` + "`marks[]`" + ` | a number (stops) |  |  |
`
	if got := Reference(spec); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestAllowed(t *testing.T) {
	for _, c := range []struct {
		spec Spec
		want string
	}{
		{Spec{Kind: Number}, "a number"},
		{Spec{Kind: Number, Max: math.Inf(1), Unit: "m"}, "a number of at least 0 m"},
		{Spec{Kind: Number, Min: math.Inf(-1), Max: 3}, "a number of at most 3"},
		{Spec{Kind: Number, Min: -90, Max: 20, Unit: "°", Pair: true}, "a number from -90 to 20°, or a pair [from, to] of them"},
		{Spec{Kind: Number, Max: 360, Unit: "°", Words: []string{"auto"}}, "auto or a number from 0 to 360°"},
		{Spec{Kind: Integer, Min: 1, Max: 9, PairOnly: true}, "a pair [a, b], each a whole number from 1 to 9"},
		{Spec{Kind: Seconds, Min: 0.00025, Max: 0.5}, "a time from 1/4000 to 0.5 s, as 2, 0.02 or 1/50"},
		{Spec{Kind: Word, Words: []string{"a", "b", "c"}}, "a, b or c"},
		{Spec{Kind: Word, Words: []string{"a"}}, "a"},
		{Spec{Kind: Bool}, "true or false"},
		{Spec{Kind: Text, Lines: true, Required: true}, "text that is not empty"},
		{Spec{Kind: Custom}, "a value"},
		{Spec{Kind: Custom, Words: []string{"now"}, Check: checkInstant}, "now or a date and time, 2026-09-18T19:40:00"},
		{Spec{Kind: Pairs, Max: 360, MinItems: 2, MaxItems: 2}, "a list of 2 pairs [a, b], each a number from 0 to 360"},
		{Spec{Kind: List, MinItems: 1, Item: &Spec{Kind: Text}}, "a list of at least 1, each one line of text"},
		{Spec{Kind: List, MaxItems: 3, Item: &Spec{Kind: Map, Fields: []Spec{{Key: "a"}, {Key: "b"}}}}, "a list of at most 3, each a map with a, b"},
	} {
		if got := c.spec.Allowed(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// Every row of a table is reached, and its path leads back to it.
func TestWalk(t *testing.T) {
	d := read(t, valid)
	count := 0
	Walk(testSpec, func(path string, s *Spec) {
		count++
		if got := d.SpecAt(strings.ReplaceAll(path, "[]", "[0]")); got != s {
			t.Errorf("%s leads to %v", path, got)
		}
	})
	if count != 31 {
		t.Errorf("%d rows", count)
	}
}
