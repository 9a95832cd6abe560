package plan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// One class either way, by the presets: 100, 40, 20, 10 and 5 km.
func TestHazeClasses(t *testing.T) {
	for _, c := range []struct {
		km   float64
		by   int
		want float64
	}{
		{40, 1, 20}, {40, -1, 100}, {20, 1, 10}, {10, 1, 5}, {5, 1, 5}, {100, -1, 100}, {10, -1, 20},
		{math.Sqrt(40 * 20), 1, math.Sqrt(20 * 10)}, {2, 1, 5}, {300, 1, 40}, {300, -1, 100},
	} {
		if got := light.Hazier(shot.Weather{VisibilityKm: c.km}, c.by).VisibilityKm; math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%g km, %+d class: %g, want %g", c.km, c.by, got, c.want)
		}
	}
	if a, b := light.Cloudier(shot.Weather{CloudPct: 90}, 20), light.Cloudier(shot.Weather{CloudPct: 10}, -20); a.CloudPct != 100 || b.CloudPct != 0 {
		t.Errorf("%v, %v", a, b)
	}
}

// A plain noon film with a clear answer: the same filter wins whatever is a little off.
func TestSurenessHolds(t *testing.T) {
	l := plantest.Push(180, 8, 20)
	l.Aim = shot.AimKeep
	r := only(plantest.Flight(12, 0, l), "ND64")
	s := r.Sureness()
	if s.Confidence != "holds" || s.Same != s.Tried || s.Tried < 9 {
		t.Errorf("%s: %s", s.Confidence, s.Why)
	}
	if !s.ISO.OK || s.ISO.span() <= 0 || s.ISO.Min > r.Call.ISO*1.15 || s.ISO.Max < r.Call.ISO/1.15 {
		t.Errorf("ISO %v round %g", s.ISO, r.Call.ISO)
	}
	plain := Solve(r.Shot, r.Bag, Options{SkipSureness: true})
	if n := plain.WithSureness(s); n.Call.ConfidenceWhy != s.Why || n.Sure == nil || plain.Sure != nil || r.Call.ConfidenceWhy != s.Why {
		t.Error("the report does not take it over")
	}
}

// At first sight there are the scores alone: close where another filter as simple does nearly as well.
func TestAtFirstSight(t *testing.T) {
	bag := *kit.Generic()
	bag.Filters = []kit.Filter{{Name: "a", Kind: kit.Density, Stops: 6}, {Name: "b", Kind: kit.Density, Stops: 6.1}}
	l := plantest.Push(180, 8, 20)
	l.Aim = shot.AimKeep
	s := plantest.Flight(12, 0, l)
	for _, c := range []struct {
		filter, confidence, why string
		hour                    int
	}{
		{"auto", "close", "toss-up with a", 12}, {"a", "holds", "the card asks for a", 12}, {"none", "depends", "the card's own wish", 12},
		{"auto", "depends", "on the light, which is", 22},
	} {
		s.Filter, s.TakeOff = c.filter, time.Date(2026, 3, 20, c.hour, 0, 0, 0, time.UTC)
		if r := Solve(s, &bag, Options{SkipSureness: true}); r.Call.Confidence != c.confidence || !strings.Contains(r.Call.ConfidenceWhy, c.why) || r.Sure != nil {
			t.Errorf("%s at %d h: %s: %s", c.filter, c.hour, r.Call.Confidence, r.Call.ConfidenceWhy)
		}
	}
	bag.Filters = bag.Filters[:1]
	s.Filter, s.TakeOff = "auto", time.Date(2026, 3, 20, 12, 0, 0, 0, time.UTC)
	if r := Solve(s, &bag, Options{SkipSureness: true}); r.Call.Confidence != "holds" {
		t.Errorf("alone: %s: %s", r.Call.Confidence, r.Call.ConfidenceWhy)
	}
}

// Two densities a fifth of a stop apart do as well as one another.
func TestSurenessClose(t *testing.T) {
	bag := *kit.Generic()
	bag.Filters = []kit.Filter{
		{Name: "five", Kind: kit.Density, Stops: 5.8},
		{Name: "six", Kind: kit.Density, Stops: 6.0},
	}
	l := plantest.Push(180, 8, 20)
	l.Aim = shot.AimKeep
	s := Solve(plantest.Flight(12, 0, l), &bag, Options{}).Sureness()
	if s.Confidence != "close" || s.Why != "toss-up with five" {
		t.Errorf("%s: %s", s.Confidence, s.Why)
	}
}

// Before sunset the density is right, and 20 minutes later nothing is.
func TestSurenessDepends(t *testing.T) {
	l := plantest.Push(180, 8, 20)
	l.Aim, l.Seconds = shot.AimKeep, 30
	s := plantest.Flight(17, 51, l)
	r := only(s, "ND16")
	got := r.Sureness()
	if got.Confidence != "depends" || !strings.Contains(got.Why, "20 minutes") {
		t.Errorf("%s with %s: %s", got.Confidence, r.Call.Filter, got.Why)
	}
	beaten := false
	for _, run := range got.Runs {
		if strings.Contains(run.What, "minutes") && run.Lead < -words.CloseStops {
			beaten = true
		}
		if run.Same != (run.Lead >= -words.ReasonStops) {
			t.Errorf("%+v", run)
		}
	}
	if !beaten {
		t.Errorf("%+v", got.Runs)
	}
}

// What each change must do to the numbers: a third of a stop of density moves the ISO by as much, the
// aerosol moves the polarisation and not the light, cloud takes light.
func TestEachChangeMovesItsNumbers(t *testing.T) {
	az := sun.At(time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC), 45, 0).AzimuthDeg
	l := plantest.Push(az+90, 8, 20)
	l.Pitch, l.ShutterS, l.ShutterSet = [2]float64{6, 6}, 1.0/50, true
	s := plantest.Flight(9, 0, l)
	s.Filter, s.RingAuto, s.RingDeg = "ND16/PL", false, 45
	s.Legs[0].Mode.ISO = kit.ISO{Base: 25, Clean: 800, Limit: 6400}
	y := newAnalysis(s, shot.Path(s, 32), turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
	bag := kit.Generic()
	p := plannedFlight{analysis: y, c: y.choose(bag)}
	base := (&likelyError{study: y}).evaluate(&p, p.c.best)
	for _, c := range y.changes([]plannedFlight{p}) {
		j := c.evaluate(&p, p.c.best)
		dISO := math.Log2(j.legs[0].exposure.dark.ISO / base.legs[0].exposure.dark.ISO)
		dEffect := j.legs[0].optics.effect - base.legs[0].optics.effect
		switch {
		case strings.Contains(c.what, "heavier"):
			if math.Abs(dISO-1.0/3) > 1e-6 || dEffect != 0 {
				t.Errorf("%s: ISO %+.3f stop, effect %+.3f", c.what, dISO, dEffect)
			}
		case strings.Contains(c.what, "lighter"):
			if math.Abs(dISO+1.0/3) > 1e-6 || dEffect != 0 {
				t.Errorf("%s: ISO %+.3f stop, effect %+.3f", c.what, dISO, dEffect)
			}
		case strings.Contains(c.what, "ring"), strings.Contains(c.what, "heading"):
			if math.Abs(dEffect) < 0.01 {
				t.Errorf("%s: effect %+.3f", c.what, dEffect)
			}
		case strings.Contains(c.what, "clean air"):
			if dEffect > -0.01 || math.Abs(dISO) > 0.01 { // the meter reads the sky through the sheet: next to nothing
				t.Errorf("%s: effect %+.3f, ISO %+.3f", c.what, dEffect, dISO)
			}
		case strings.Contains(c.what, "dust"), strings.Contains(c.what, "thicker"):
			if dEffect < 0.01 {
				t.Errorf("%s: effect %+.3f", c.what, dEffect)
			}
		case strings.Contains(c.what, "more cloud"):
			if dEffect < 0.01 {
				t.Errorf("%s: effect %+.3f", c.what, dEffect)
			}
		case strings.Contains(c.what, "late"): // the sun rises
			if dISO > -0.02 {
				t.Errorf("%s: ISO %+.3f", c.what, dISO)
			}
		case strings.Contains(c.what, "early"):
			if dISO < 0.02 {
				t.Errorf("%s: ISO %+.3f", c.what, dISO)
			}
		}
	}
}

// Whatever the card says, the bands hold the plan's own numbers and are numbers.
func TestSurenessNeverFails(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	bag := kit.Generic()
	for range 25 {
		s := plantest.AnyShot(r, bag)
		rep := Solve(s, bag, Options{PerLeg: 3, SkipSureness: true})
		got := rep.Sureness()
		if got.Confidence == "" || got.Why == "" || len(got.Legs) != len(s.Legs) || got.Same > got.Tried {
			t.Fatalf("%+v", got)
		}
		for _, run := range got.Runs {
			if math.IsNaN(run.Lead) || math.IsInf(run.Lead, 0) || run.Filter == "" || run.What == "" {
				t.Errorf("%+v", run)
			}
		}
		for i, l := range got.Legs {
			for _, g := range []Range{l.Effect, l.Unevenness, l.GlareCut, l.ISO, l.Shutter} {
				if math.IsNaN(g.Min+g.Max) || g.Min > g.Max {
					t.Errorf("leg %d: %v", i+1, g)
				}
			}
		}
		for _, w := range got.Words {
			for _, bad := range []string{"NaN", "Inf", "%!", "score"} {
				if strings.Contains(w, bad) {
					t.Errorf("%q", w)
				}
			}
		}
	}
	if got := Solve(plantest.Flight(12, 0), bag, Options{}).Sureness(); got.Confidence != "depends" {
		t.Errorf("without legs: %+v", got)
	}
}

// The analyses of the changes, made of the samples alone, agree with a flight that is worked out anew with
// the change written into its card.
func TestChangesAgreeWithAChangedCard(t *testing.T) {
	l := plantest.Push(285, 5, 30)
	l.Pitch, l.Ground, l.Aim = [2]float64{-4, -4}, shot.Water, shot.AimBalance
	s := plantest.Flight(16, 20, l, plantest.Turning(15, 60, 40))
	s.Takes, s.Light.CloudPct = 2, 30
	y := newAnalysis(s, shot.Path(s, 32), turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
	bag := kit.Generic()
	p := plannedFlight{analysis: y, c: y.choose(bag)}
	anew := map[string]func(s *shot.Shot){
		"the heading 10° to the left":  func(s *shot.Shot) { s.Legs[0].Heading.From -= 10; s.Legs[1].Heading.From -= 10 },
		"the heading 10° to the right": func(s *shot.Shot) { s.Legs[0].Heading.From += 10; s.Legs[1].Heading.From += 10 },
		"the haze one class thicker":   func(s *shot.Shot) { s.Light.VisibilityKm = 20 },
		"the haze one class thinner":   func(s *shot.Shot) { s.Light.VisibilityKm = 100 },
		"a fifth more cloud":           func(s *shot.Shot) { s.Light.CloudPct += 20 },
		"a fifth less cloud":           func(s *shot.Shot) { s.Light.CloudPct -= 20 },
		"the start 20 minutes late":    func(s *shot.Shot) { s.TakeOff = s.TakeOff.Add(20 * time.Minute) },
		"the start 20 minutes early":   func(s *shot.Shot) { s.TakeOff = s.TakeOff.Add(-20 * time.Minute) },
	}
	seen := 0
	for _, c := range y.changes([]plannedFlight{p}) {
		change := anew[c.what]
		if change == nil {
			continue
		}
		seen++
		z := *s
		z.Legs = append([]shot.Leg(nil), s.Legs...)
		change(&z)
		full := newAnalysis(&z, shot.Path(&z, 32), turnKeys(roughTurnDeg, roughMost), newShared(40))
		for _, j := range p.c.ranked {
			a, b := c.evaluate(&p, j), full.evaluate(j.Way, usualWeights(), 0)
			if math.Abs(a.score-b.score) > 0.02 {
				t.Errorf("%s, %s: %.3f, worked out anew %.3f", c.what, j.Title(), a.score, b.score)
			}
		}
	}
	if seen != len(anew) {
		t.Errorf("%d of %d changes were tried", seen, len(anew))
	}
}

// A quarter of a stop parts a toss-up from a call that holds, and a change that turns the call from one that
// merely comes close to it (ours).
func TestAQuarterOfAStopDecides(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(0, 8, 20))
	s.Filter = "auto"
	bag := kit.Generic()
	nd8, _ := bag.FilterByName("ND8")
	nd16, _ := bag.FilterByName("ND16")
	y := newAnalysis(s, shot.Path(s, 2), turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
	flight := func(rivalBehind float64) plannedFlight {
		best, rival := &evaluation{Way: mounting.Way{Filter: &nd8}, score: 1}, &evaluation{Way: mounting.Way{Filter: &nd16}, score: 1 + rivalBehind}
		return plannedFlight{analysis: y, c: &ranking{ranked: []*evaluation{best, rival}, best: best, free: best}}
	}
	for _, c := range []struct {
		behind, lead float64 // by which the rival is behind, in the plan and under a change
		want         string
	}{
		{0.2, 0.2, "close"},
		{0.3, 0.3, "holds"},
		{1, -0.2, "close"},
		{1, -0.3, "depends"},
	} {
		p := flight(c.behind)
		run := SureRun{What: "a change", Filter: "ND16", Same: c.lead > 0, Lead: c.lead}
		sure := Sureness{Runs: []SureRun{run}, Tried: 1}
		if sure.decide([]plannedFlight{p}); sure.Confidence != c.want {
			t.Errorf("the rival %.1f behind, the call leading by %+.1f under a change: %s %s, want %s", c.behind, c.lead, sure.Confidence, sure.Why, c.want)
		}
		if c.lead > 0 {
			if got, why := p.atFirstSight(); got != c.want {
				t.Errorf("the rival %.1f behind: at first sight %s %s, want %s", c.behind, got, why, c.want)
			}
		}
	}
}
