package plan

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
)

// usualWeights returns the weights of a bag that names none, to judge by.
func usualWeights() *kit.Weights {
	w := kit.DefaultWeights()
	return &w
}

// weighing is a bag as it is read from a file, with a polariser, a density and these weights.
func weighing(t *testing.T, weights string) *kit.Bag {
	t.Helper()
	bag, faults := kit.ReadBag("bag.yaml", []byte(`skywedge_bag: 1
cameras:
  - {name: c, sensor_mm: [13, 8.7], pixels: [5400, 3600], focal_mm: 8.6, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}}
filters:
  - {name: CPL, kind: polariser, cast_mired: 30}
  - {name: ND8, kind: density, stops: 3}
settings: {weights: `+weights+`}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return bag
}

const nothingCounts = "iso: 0, shutter: 0, angle: 0, clipped: 0, buried: 0, blur: 0, unevenness: 0, swing: 0, corners: 0, cast: 0, sun_one_sheet: 0, sun_sheets: 0, landing: 0"

// A weight that the bag writes as 0 counts nothing, also where all of them are 0; with the aim's alone a
// score is the gain, so never above 0 but where a filter works against the aim.
func TestWeightOfNothingIsNothing(t *testing.T) {
	_, az := evening()
	s := plantest.Flight(17, 20, plantest.Turning(az+40, 60, 30))
	score := func(weights string) map[string]float64 {
		scores := map[string]float64{}
		for _, c := range Solve(s, weighing(t, weights), Options{PerLeg: 4, SkipSureness: true}).Candidates {
			scores[c.Filter] = c.Score
		}
		if len(scores) != 3 {
			t.Fatalf("candidates %v", scores)
		}
		return scores
	}
	for name, x := range score("{" + nothingCounts + ", aim: 0}") {
		if x != 0 {
			t.Errorf("nothing counts, and %s costs %g stops", name, x)
		}
	}
	one, two := score("{"+nothingCounts+", aim: 1}"), score("{"+nothingCounts+", aim: 2}")
	if one["CPL"] > -0.05 || one["ND8"] != 0 || math.Abs(two["CPL"]-2*one["CPL"]) > 1e-9 {
		t.Errorf("the aim alone: %v, at twice the weight %v", one, two)
	}
	cast := score("{iso: 0, shutter: 0, angle: 0, clipped: 0, buried: 0, blur: 0, unevenness: 0, swing: 0, aim: 0, corners: 0, sun_one_sheet: 0, sun_sheets: 0}")
	if want := 0.2 * (30 - castFrom) / 10; math.Abs(cast["CPL"]-want) > 1e-9 || cast["ND8"] != 0 {
		t.Errorf("the cast has its default where the rest is 0: %v, want %g", cast, want)
	}
}
