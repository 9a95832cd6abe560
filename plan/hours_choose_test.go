package plan

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// The choice of an hour, which leaves out what cannot win, is that of all candidates: with the cards of
// the demo and with shots of every kind, with and without wishes of the card. The scores may differ by a
// thousandth: the corners of a sheet are worked out once, for the ring that is tried first.
func TestHourChoiceIsTheChoice(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	shots, bag := exampleShots(t)
	type trial struct {
		s   *shot.Shot
		bag *kit.Bag
	}
	var list []trial
	for _, s := range shots {
		for range 12 {
			at := s.TakeOff.Add(time.Duration(r.IntN(365*24*60)) * time.Minute)
			z, err := s.At(at)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, trial{z, bag})
		}
	}
	for range 60 {
		list = append(list, trial{plantest.AnyShot(r, kit.Generic()), kit.Generic()})
	}
	pruned := 0
	for _, x := range list {
		if len(x.s.Legs) == 0 {
			continue
		}
		y := hourLight(x.s, hourPath(x.s), newShared(40), new(memory))
		y.lookAround()
		want := y.choose(x.bag).best
		all := len(y.legs[0].optics)
		z := hourLight(x.s, hourPath(x.s), newShared(40), new(memory))
		z.lookAround()
		got := z.chooseForHour(x.bag)
		pruned += all - len(z.legs[0].optics)
		if got.Way != want.Way || math.Abs(got.score-want.score) > 0.001 || got.nNumber != want.nNumber {
			t.Errorf("%s: %s at %g, f/%g, %.9f; of all candidates %s at %g, f/%g, %.9f", plantest.Describe(x.s), got.Title(), got.Ring, got.nNumber, got.score, want.Title(), want.Ring, want.nNumber, want.score)
		}
	}
	t.Logf("%d of the pairs' settings and rings were not looked at", pruned)
	if pruned == 0 {
		t.Error("nothing was left out")
	}
}

// A pair of sheets is left out exactly where it could not win if it met the aim as well as the best single
// sheet: where the exposure is made for the land alone, what it does to the exposure is what a plain density of its
// stops does, the gain is its weight times how far the aim is met, and glass with the sun near the frame costs what
// several sheets cost.
func TestPairIsLeftOutOnlyWhenItCannotWin(t *testing.T) {
	w := usualWeights()
	bag := kit.Generic()
	f, _ := bag.FilterByName("variable 1.6-5")
	for _, c := range []struct {
		hour, minute int
		aim          shot.Aim
		setting      float64
	}{{12, 0, shot.AimSky, 2}, {17, 30, shot.AimSky, 5}, {17, 30, shot.AimWater, 4}} {
		_, az := evening()
		l := plantest.Push(az, 8, 20) // into the sun in the evening
		l.Aim, l.Ground, l.Expose = c.aim, shot.Water, shot.ExposeLand
		s := plantest.Flight(c.hour, c.minute, l)
		y := newAnalysis(s, shot.Path(s, 4), everyMoment, newShared(s.Legs[0].Height[0]))
		m := mounting.Way{Filter: &f, Setting: c.setting}
		plain := kit.Filter{Name: "as dense", Kind: kit.Density, Stops: m.Loss()}
		density := y.evaluate(mounting.Way{Filter: &plain}, w, 0)
		const met = 0.4
		p := &density.penalty
		bound := p[penaltyISO] + p[penaltyShutter] + p[penaltyAngle] + p[penaltyBlur] - 1.5*met
		if y.legs[0].sunNear {
			bound += 0.5
		}
		if !density.feasible() || math.Abs(bound) < 0.05 {
			t.Fatalf("%+v says nothing: %.2f", c, bound)
		}
		for _, by := range []float64{-0.02, 0.02} {
			best := &evaluation{Way: mounting.Way{Filter: &plain}, score: bound + by}
			if got := y.couldWin(m, w, []float64{met}, best); got != (by > 0) {
				t.Errorf("%+v: at best %.2f, against %.2f it could win: %v", c, bound, best.score, got)
			}
		}
		// A filter less plain gives way to a pair that is worse by what is not worth a word.
		soft := kit.Filter{Name: "soft", Kind: kit.Diffusion, Grade: "1/4"}
		for by, could := range map[float64]bool{-0.02: true, -words.ReasonStops - 0.02: false} {
			best := &evaluation{Way: mounting.Way{Filter: &soft}, score: bound + by}
			if got := y.couldWin(m, w, []float64{met}, best); got != could {
				t.Errorf("%+v: at best %.2f, against a soft filter's %.2f it could win: %v", c, bound, best.score, got)
			}
		}
	}
}

// No ring of a pair is better than its bound, whatever the exposure is made for: shots of every kind, into the sun and
// away from it.
func TestPairIsNoBetterThanItsBound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	bag := kit.Generic()
	w := usualWeights()
	tried, tight := 0, 0
	for range 60 {
		s := plantest.AnyShot(r, bag)
		if len(s.Legs) == 0 {
			continue
		}
		s.Legs = s.Legs[:min(2, len(s.Legs))]
		for i := range s.Legs {
			s.Legs[i].Expose = []shot.Expose{shot.ExposeMiddle, shot.ExposeHighlights, shot.ExposeLand}[r.IntN(3)]
		}
		y := hourLight(s, hourPath(s), newShared(40), new(memory))
		y.lookAround()
		for i := range bag.Filters {
			f := &bag.Filters[i]
			if f.Kind != kit.Variable {
				continue
			}
			settings := f.Settings()
			setting := settings[r.IntN(len(settings))]
			for _, ring := range mounting.Rings(f) {
				j := y.evaluate(mounting.Way{Filter: f, Setting: setting, Ring: ring}, w, 0)
				met := make([]float64, len(y.legs))
				for k := range j.legs {
					met[k] = max(0, j.legs[k].met)
				}
				b := y.pairBound(mounting.Way{Filter: f, Setting: setting}, w, met)
				tried++
				if b.beyond > j.beyond+1e-9 || b.bright > j.bright+1e-9 || j.feasible() && b.score > j.score+1e-9 {
					t.Fatalf("%s: %s at %g, ring %g: %.3f (%.2f, %.2f), bound %.3f (%.2f, %.2f)", plantest.Describe(s), f.Name, setting, ring, j.score, j.beyond, j.bright, b.score, b.beyond, b.bright)
				}
				if j.score-b.score < 0.5 {
					tight++
				}
			}
		}
	}
	t.Logf("%d of %d bounds lie within half a stop", tight, tried)
	if tight*4 < tried {
		t.Errorf("only %d of %d bounds lie within half a stop", tight, tried)
	}
}
