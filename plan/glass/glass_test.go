package glass

import (
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/mounting"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	cpl  = &kit.Filter{Name: "CPL", Kind: kit.Polariser, LossStops: 1.5}
	dark = &kit.Filter{Name: "ND64/PL", Kind: kit.Hybrid, Stops: 6, LossStops: 1.4, MarkDeg: 33.3, CastMired: 9}
	nd   = &kit.Filter{Name: "ND8", Kind: kit.Density, Stops: 3}
	soft = &kit.Filter{Name: "soft", Kind: kit.Diffusion, Grade: "1/4"}
	pair = &kit.Filter{Name: "variable", Kind: kit.Variable, FromStops: 1.8, ToStops: 4.6, RearDeg: 12, OpensCW: true}
	pile = &kit.Filter{Name: "heavy variable", Kind: kit.Variable, FromStops: 6, ToStops: 9, FixedStops: 4, Grade: "1/8"}
)

// ways are filters of all kinds, in several ways.
func ways() (list []mounting.Way) {
	for _, f := range []*kit.Filter{cpl, dark, nd, soft, pair, pile} {
		for _, setting := range mounting.SettingsOf(f) {
			for _, ring := range mounting.Rings(f)[:min(4, len(mounting.Rings(f)))] {
				list = append(list, mounting.Way{Filter: f, Setting: setting, Ring: ring})
			}
		}
	}
	return list
}

// plainAnswer is a filter's answer worked out for itself, at one sample.
func plainAnswer(m mounting.Way, d, u1, u2 r3.Vec) (t, c, s float64) {
	mount := m.Filter.Mount(m.Ring, m.Setting)
	a := mount.Answer(d)
	x, y := r3.Dot(a.Pass, u1), r3.Dot(a.Pass, u2)
	t = 1
	if m.Kind() == kit.Variable {
		t = a.T * math.Exp2(m.Loss())
	}
	return t, a.D * (x*x - y*y), 2 * a.D * x * y
}

// What is kept agrees with a filter's own answer at every sample: to 1e-9, as the pass axis is rounded to a hundredth of a
// degree, at which all of these stand.
func TestAnswersAreTheFilters(t *testing.T) {
	for _, m := range ways() {
		if !m.Polarises() {
			s := SheetOf(m)
			if s.Answers(Grid(.7, .4, 8), false, 0, 20) != nil {
				t.Errorf("%s answers", m.Name())
			}
			continue
		}
		for _, thin := range []int{4, 32} {
			g := Grid(.7, .4, thin)
			s := SheetOf(m)
			a := s.Answers(g, true, 0, g.Samples())
			g.Each(func(i int, d, u1, u2 r3.Vec) {
				wt, wc, ws := plainAnswer(m, d, u1, u2)
				if at, c, s := a.At(i); math.Abs(at-wt) > 1e-9 || math.Abs(c-wc) > 1e-9 || math.Abs(s-ws) > 1e-9 {
					t.Fatalf("%s at %g, ring %g, sample %d: %v %v %v, want %v %v %v", m.Name(), m.Setting, m.Ring, i, at, c, s, wt, wc, ws)
				}
			})
		}
	}
}

// all is everything that is kept about a way: asked for piece by piece, in an order.
func all(m mounting.Way, backwards bool) []any {
	g := Grid(.755, .425, 8)
	s := SheetOf(m)
	ask := []func() any{
		func() any { return Passes(m, g) },
		func() any { return Corners(m, .755, .425) },
		func() any { return s.Answers(g, false, 0, 40) },
		func() any { return s.Answers(g, true, 150, g.Samples()) },
		func() any { return s.Answers(g, true, 90, 160) },
		func() any { return s.Answers(g, true, 90, g.Samples()) },
		func() any { return s.Answers(g, false, 0, 80) },
	}
	list := make([]any, len(ask))
	for i := range ask {
		if backwards {
			i = len(ask) - 1 - i
		}
		list[i] = ask[i]()
	}
	return list[5:] // those that reach furthest, whatever was asked for before
}

// What is kept is what is made anew, to the last bit: whichever filter of the same value asked first, whatever was asked for
// in between, and after everything was given back.
func TestKeptIsWhatIsMadeAnew(t *testing.T) {
	var fresh [][]any
	for _, m := range ways() {
		Forget()
		fresh = append(fresh, append(all(m, false), Passes(m, Grid(.755, .425, 8)), Corners(m, .755, .425)))
	}
	Forget()
	list := ways()
	for k := range list {
		k = len(list) - 1 - k
		m := list[k]
		twin := *m.Filter // another filter of the same value, with another name and another mark
		twin.Name = "twin of " + twin.Name
		other := m
		other.Filter = &twin
		all(other, true)
		got := append(all(m, true), Passes(m, Grid(.755, .425, 8)), Corners(m, .755, .425))
		if !reflect.DeepEqual(got, fresh[k]) {
			t.Errorf("%s at %g, ring %g: kept and fresh differ", m.Name(), m.Setting, m.Ring)
		}
	}
}

// Single sheets with one pass axis share their answers, whatever is written on them; pairs do not share with sheets, nor with
// other pairs.
func TestWhoSharesAnswers(t *testing.T) {
	g := Grid(.7, .4, 8)
	of := func(f *kit.Filter, setting, ring float64) *frame.Answers {
		s := SheetOf(mounting.Way{Filter: f, Setting: setting, Ring: ring})
		return s.Answers(g, false, 0, 60)
	}
	marked := *cpl
	marked.Name, marked.MarkDeg, marked.LossStops = "marked", 30, 2
	if of(cpl, 0, 30) != of(&marked, 0, 0) {
		t.Error("two sheets with the same pass axis are worked out twice")
	}
	if of(cpl, 0, 30) == of(cpl, 0, 45) {
		t.Error("two rings share an answer")
	}
	lighter := *pair
	lighter.FixedStops = .5
	if of(pair, 3, 0) == of(&lighter, 3, 0) || of(pair, 3, 0) == of(pair, 2, 0) {
		t.Error("two different pairs share an answer")
	}
	if Passes(mounting.Way{Filter: nd}, g)[0] == Passes(mounting.Way{Filter: dark}, g)[0] {
		t.Error("two densities darken the rim alike")
	}
}

// However many filters are asked for, no more is kept than was said; and what was given before still serves.
func TestWhatIsKeptIsBounded(t *testing.T) {
	k := answers{most: 5000}
	g := frame.NewGrid(.7, .4, 8)
	var first *frame.Answers
	for n := range 200 {
		m := mounting.Way{Filter: cpl, Ring: float64(n) / 2}
		got := k.covering(answersKey{keyOf(g), m.Key(), false}, m, g, 0, 40+n%30)
		if n == 0 {
			first = got
		}
		sum := 0
		for _, a := range k.kept {
			sum += a.Floats()
		}
		if sum != k.floats || sum > k.most {
			t.Fatalf("after %d filters %d numbers are kept, counted as %d, of %d", n+1, sum, k.floats, k.most)
		}
	}
	if want := k.covering(answersKey{keyOf(g), mounting.Way{Filter: cpl}.Key(), false}, mounting.Way{Filter: cpl}, g, 0, 40); !reflect.DeepEqual(first, want) {
		t.Error("what was given first is not what is made now")
	}
	for n := range 3 * mostGrids {
		Grid(.5+float64(n)/1000, .3, 32)
		Corners(mounting.Way{Filter: nd}, .5+float64(n)/1000, .3)
	}
	if grids.Len() > mostGrids || corners.Len() > mostCorners {
		t.Errorf("%d grids are kept, and %d corners", grids.Len(), corners.Len())
	}
}

// Many may ask at once.
func TestManyAskAtOnce(t *testing.T) {
	want := make([][]any, len(ways()))
	for i, m := range ways() {
		want[i] = all(m, false)
	}
	Forget()
	var wg sync.WaitGroup
	for k := range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			list := ways()
			order := make([]int, len(list))
			for i := range order {
				order[i] = (i*7 + k*5) % len(list)
			}
			for n, i := range order {
				if !reflect.DeepEqual(all(list[i], k%2 == 0), want[i]) {
					t.Errorf("worker %d: %s is another", k, list[i].Name())
				}
				if n == len(list)/2 && k == 0 {
					Forget()
				}
			}
		}()
	}
	wg.Wait()
	if !slices.Equal(Passes(mounting.Way{Filter: nd}, Grid(.7, .4, 8)), Passes(mounting.Way{Filter: nd}, Grid(.7, .4, 8))) {
		t.Error("a density passes another light")
	}
}
