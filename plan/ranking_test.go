package plan

import (
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
)

func TestRankingHasEveryFilterOnce(t *testing.T) {
	r := seaShot(shot.Water, 350, -5)
	r = Solve(r.Shot, r.Bag, Options{SkipSureness: true})
	list := r.Ranking()
	seen := map[string]bool{}
	for i, k := range list {
		if seen[k.Filter] {
			t.Errorf("%s stands there twice", k.Filter)
		}
		seen[k.Filter] = true
		for _, o := range k.Others {
			if o.Filter != k.Filter || o.SettingStops == k.SettingStops {
				t.Errorf("%s at %g has %s at %g among its other settings", k.Filter, k.SettingStops, o.Filter, o.SettingStops)
			}
			if o.Feasible && !k.Feasible || o.Feasible == k.Feasible && o.Score < k.Score-1e-9 {
				t.Errorf("%s: the setting %g is better than %g", k.Filter, o.SettingStops, k.SettingStops)
			}
		}
		if i > 1 && list[i-1].Feasible == k.Feasible && list[i-1].Score > k.Score+.1+1e-9 { // ties go to the simpler
			t.Errorf("%s (%.3f) stands before %s (%.3f)", list[i-1].Filter, list[i-1].Score, k.Filter, k.Score)
		}
	}
	if list[0].Filter != r.Call.Filter || len(list) != len(r.Bag.Filters)+1 || !seen["none"] {
		t.Errorf("%d filters for a bag of %d, first %s, the call is %s", len(list), len(r.Bag.Filters), list[0].Filter, r.Call.Filter)
	}
}

// What can be exposed comes before what cannot, of that the one that misses least; then the lower score; of equal scores
// the plainer glass, and of two that are as plain the one whose settings are nearer to those wanted.
func TestRanksBefore(t *testing.T) {
	plain, glass := mounting.Way{}, mounting.Way{Filter: &kit.Filter{Kind: kit.Density}}
	order := []evaluation{
		{Way: glass, score: -2, tieBreak: 9},
		{Way: plain, score: 1, tieBreak: 3},
		{Way: plain, score: 1.001, tieBreak: 4}, // as good: a hundredth of a stop parts them
		{Way: glass, score: 1, tieBreak: 1},
		{Way: glass, score: 1, tieBreak: 2},
		{Way: plain, score: 1.02},
		{Way: plain, score: -5, beyond: 1},
		{Way: plain, score: -4, bright: 1},
		{Way: plain, score: -9, beyond: 1, bright: 1},
		{Way: plain, score: -9, bright: 3},
	}
	for i := range order {
		for k := range order {
			if got := order[i].ranksBefore(&order[k]); got != (i < k) {
				t.Errorf("%d ranks before %d: %v", i, k, got)
			}
		}
	}
}
