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

// What a candidate is set to over the flight: a range where there is one, nothing where it cannot be exposed.
func TestSetWords(t *testing.T) {
	r := &plan.Report{Shot: plantest.Flight(12, 0, plantest.Push(0, 8, 20))}
	for _, c := range []struct {
		shutter, iso          plan.Range
		wantShutter, wantISOs string
	}{
		{plan.Range{Min: .01, Max: .021, OK: true}, one(100), "1/100..1/48", "100"},
		{one(.0205), plan.Range{Min: 105, Max: 390, OK: true}, "1/48", "100..400"},
		{plan.Range{}, one(100), "", ""},
		{one(.02), plan.Range{}, "", ""},
	} {
		s, i := SetWords(r, &plan.Candidate{Shutter: c.shutter, ISO: c.iso})
		if s != c.wantShutter || i != c.wantISOs {
			t.Errorf("%v, %v: %q, %q; want %q, %q", c.shutter, c.iso, s, i, c.wantShutter, c.wantISOs)
		}
	}
}

// Why a candidate cannot be flown is its own reason; of the call, which was taken for want of any other, what costs it most.
func TestShortfall(t *testing.T) {
	for want, c := range map[string]plan.Candidate{
		"":                     {Feasible: true, WhyNot: "nothing"},
		"no shutter so fast":   {WhyNot: "no shutter so fast", Lines: []plan.ScoreLine{{Stops: 9, Words: "dark"}}},
		"too dark by far":      {Lines: []plan.ScoreLine{{Stops: .2, Words: "uneven"}, {Stops: 7, Words: "too dark by far"}, {Stops: -1, Words: "less glare"}}},
		"it cannot be exposed": {},
	} {
		if got := Shortfall(&c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := MeasureWords(&plan.Candidate{Feasible: true, HazeCut: plan.Range{Min: .01, Max: .3, OK: true}}); !slices.Equal(got, []string{"veil of haze cut by a third to as it is"}) {
		t.Errorf("%q", got)
	}
}
