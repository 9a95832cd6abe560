package advice

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

func one(x float64) plan.Range { return plan.Range{Min: x, Max: x, OK: true} }

func TestMeasuresInWords(t *testing.T) {
	for _, c := range []struct {
		name string
		of   plan.Candidate
		want []string
	}{
		{"bare", plan.Candidate{Feasible: true, Headroom: plan.Range{Min: 5.33, Max: 6, OK: true}, Effect: one(0), GlareCut: one(0)},
			[]string{"5⅓ stops of headroom in the darkest light"}},
		{"above clean", plan.Candidate{Feasible: true, Headroom: plan.Range{Min: -.67, Max: 1, OK: true}}, []string{"⅔ stop over clean ISO in the darkest light"}},
		{"just clean", plan.Candidate{Feasible: true, Headroom: plan.Range{Min: -.1, Max: 1, OK: true}}, []string{"no headroom in the darkest light"}},
		{"not possible", plan.Candidate{Headroom: plan.Range{Min: -7, Max: -6, OK: true}}, nil},
		{"polariser", plan.Candidate{Feasible: true, Effect: plan.Range{Min: -.6, Max: -.1, OK: true}, Unevenness: plan.Range{Min: .2, Max: .8, OK: true}, Swing: one(.4),
			GlareCut: plan.Range{Min: -.19, Max: .35, OK: true}, HazeCut: one(.5)},
			[]string{"the sky darker by ⅔ stop to hardly changed",
				"graded sky, ⅔ stop from its light to its dark part",
				"changing during a leg by ⅓ stop",
				"glare cut by a third to strengthened by a quarter",
				"veil of haze cut by half"}},
		{"all darker", plan.Candidate{Feasible: true, Effect: plan.Range{Min: -.6, Max: -.34, OK: true}, GlareCut: plan.Range{Min: .1, Max: .5, OK: true}},
			[]string{"the sky darker by ⅔ stop to ⅓ stop", "glare cut by half to a little"}},
		{"brighter", plan.Candidate{Feasible: true, Effect: plan.Range{Min: .3, Max: .34, OK: true}, GlareCut: one(.03)},
			[]string{"the sky brighter by ⅓ stop"}},
	} {
		if got := MeasureWords(&c.of); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// What a density does is the same in every direction: it has words for light alone.
func TestADensityDoesNothingButDim(t *testing.T) {
	r := plan.Solve(plantest.SeaShot(shot.Water, 350, -5), kit.Generic(), plan.Options{SkipSureness: true})
	n := 0
	for _, k := range r.Ranking() {
		if short := Shortfall(&k.Candidate); k.Feasible != (short == "") {
			t.Errorf("%s: feasible %v, shortfall %q", k.Filter, k.Feasible, short)
		}
		words := strings.Join(MeasureWords(&k.Candidate), "\n")
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

// A range of shutters is written in those that the flight can be set to: at 25 frames a second there is no 1/96.
func TestSettableKnowsTheFrameRate(t *testing.T) {
	for fps, want := range map[float64]string{25: "1/100", 24: "1/96"} {
		l := plantest.Push(0, 8, 20)
		l.FPS = fps
		r := &plan.Report{Shot: plantest.Flight(12, 0, l)}
		if got, _ := Settable(r, one(1.0/96), one(100), true); got != want {
			t.Errorf("%g frames a second: %s, want %s", fps, got, want)
		}
	}
}
