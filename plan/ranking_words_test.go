package plan

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/plan/shot"
)

func one(x float64) Range { return Range{x, x, true} }

func TestMeasuresInWords(t *testing.T) {
	for _, c := range []struct {
		name string
		of   Candidate
		want []string
	}{
		{"bare", Candidate{Feasible: true, Headroom: Range{5.33, 6, true}, Effect: one(0), GlareCut: one(0)},
			[]string{"5⅓ stops of headroom in the darkest light"}},
		{"above clean", Candidate{Feasible: true, Headroom: Range{-.67, 1, true}}, []string{"⅔ stop over clean ISO in the darkest light"}},
		{"just clean", Candidate{Feasible: true, Headroom: Range{-.1, 1, true}}, []string{"no headroom in the darkest light"}},
		{"not possible", Candidate{Headroom: Range{-7, -6, true}}, nil},
		{"polariser", Candidate{Feasible: true, Effect: Range{-.6, -.1, true}, Unevenness: Range{.2, .8, true}, Swing: one(.4),
			GlareCut: Range{-.19, .35, true}, HazeCut: one(.5)},
			[]string{"the sky darker by ⅔ stop to hardly changed",
				"graded sky, ⅔ stop from its light to its dark part",
				"changing during a leg by ⅓ stop",
				"glare cut by a third to strengthened by a quarter",
				"veil of haze cut by half"}},
		{"all darker", Candidate{Feasible: true, Effect: Range{-.6, -.34, true}, GlareCut: Range{.1, .5, true}},
			[]string{"the sky darker by ⅔ stop to ⅓ stop", "glare cut by half to a little"}},
		{"brighter", Candidate{Feasible: true, Effect: Range{.3, .34, true}, GlareCut: one(.03)},
			[]string{"the sky brighter by ⅓ stop"}},
	} {
		if got := c.of.MeasureWords(); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// What a density does is the same in every direction: it has words for light alone.
func TestADensityDoesNothingButDim(t *testing.T) {
	r := seaShot(shot.Water, 350, -5)
	r = Solve(r.Shot, r.Bag, Options{SkipSureness: true})
	n := 0
	for _, k := range r.Ranking() {
		words := strings.Join(k.MeasureWords(), "\n")
		if k.HasRing != (strings.Contains(words, "sky") || strings.Contains(words, "glare")) {
			t.Errorf("%s, with a ring %v: %q", k.Filter, k.HasRing, words)
		}
		if !k.HasRing {
			n++
		}
	}
	if n < 3 {
		t.Errorf("only %d filters without a ring", n)
	}
}
