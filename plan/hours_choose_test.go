package plan

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
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
		y := hourLight(x.s, hourPath(x.s), newOpticsCache())
		y.lookAround()
		want := y.choose(x.bag).best
		all := len(y.legs[0].optics)
		z := hourLight(x.s, hourPath(x.s), newOpticsCache())
		z.lookAround()
		got := z.chooseForHour(x.bag)
		pruned += all - len(z.legs[0].optics)
		if got.mounted != want.mounted || math.Abs(got.score-want.score) > 0.001 || got.nNumber != want.nNumber {
			t.Errorf("%s: %s at %g, f/%g, %.9f; of all candidates %s at %g, f/%g, %.9f", plantest.Describe(x.s), got.title(), got.ring, got.nNumber, got.score, want.title(), want.ring, want.nNumber, want.score)
		}
	}
	t.Logf("%d of the pairs' settings and rings were not looked at", pruned)
	if pruned == 0 {
		t.Error("nothing was left out")
	}
}
