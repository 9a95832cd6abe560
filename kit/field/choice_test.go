package field

import (
	"math"
	"strings"
	"testing"
)

func TestEither(t *testing.T) {
	for want, list := range map[string][]string{"there is none": nil, "a": {"a"}, "a or b": {"a", "b"}, "a, b or c": {"a", "b", "c"}} {
		if got := Either(list); got != want {
			t.Errorf("of %q: %q, want %q", list, got, want)
		}
	}
	for wrote, want := range map[string]string{"ca": "cat or dog (did you mean cat?)", "cow": "cat or dog"} {
		if got := Choice(wrote, []string{"cat", "dog"}); got != want {
			t.Errorf("%q: %q, want %q", wrote, got, want)
		}
	}
	if got := Choice("ca", []string{"cat"}); got != "cat" {
		t.Errorf("the only name is hinted at: %q", got)
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"height_m", "heading_deg", "move", "to"}
	names := []string{"wide fixed 2.8", "long lens", "ND16/PL"}
	for _, c := range []struct {
		wrote string
		names []string
		want  string
	}{
		{"hieght_m", keys, "height_m"},
		{"heigth", keys, "height_m"},
		{"headingdeg", keys, "heading_deg"},
		{"mvoe", keys, "move"},
		{"Move", keys, "move"},
		{"ot", keys, "to"},
		{"x", keys, ""},
		{"h", keys, ""}, // one letter begins too many words
		{"zoom", keys, ""},
		{"", keys, ""},
		{strings.Repeat("height_m", 20), keys, ""},
		{"wide fixd 2.8", names, "wide fixed 2.8"},
		{"nd16pl", names, "ND16/PL"},
		{"Long Lens", names, "long lens"},
		{"wide", names, "wide fixed 2.8"},
		{"fisheye", names, ""},
		{"x", nil, ""},
	} {
		if got := Nearest(c.wrote, c.names); got != c.want {
			t.Errorf("%q: %q, want %q", c.wrote, got, c.want)
		}
	}
}

// The classical example of the two distances (Levenshtein 1966 counts kitten to sitting as 3; a swap
// of neighbours is 1 by Damerau 1964 and 2 by Levenshtein).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"façade", "facade", 1}} {
		if got := distance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%s to %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{{2.5, 3, "2.5"}, {100, 2, "100"}, {0.1 + 0.2, 6, "0.3"}, {-0.001, 2, "0"}, {1234.5678, 2, "1234.57"}, {math.Pi, 0, "3"}, {1. / 3, -1, "0.3333333333333333"}} {
		if got := Figure(c.v, c.places); got != c.want {
			t.Errorf("%v with %d places: %q, want %q", c.v, c.places, got, c.want)
		}
	}
}
