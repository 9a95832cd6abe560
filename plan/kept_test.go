package plan

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/skywedge/plan/shot"
)

// What the last shot left changes no answer, to the last bit: a flight is changed again and again, as an editor would, and
// worked out with and without it.
func TestKeptChangesNoAnswer(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 24))
	bag, other := demoBag(t), twelveFilters()
	s := eightLegs()
	s.Light.CloudPct = 40
	changes := []func(s *shot.Shot){
		func(s *shot.Shot) { s.Legs[r.IntN(len(s.Legs))].Heading.From += 5 },
		func(s *shot.Shot) { s.Legs[r.IntN(len(s.Legs))].Height = [2]float64{20 + 60*r.Float64(), 40} },
		func(s *shot.Shot) { s.Legs[r.IntN(len(s.Legs))].Pitch[0] -= 3 },
		func(s *shot.Shot) { s.Legs[r.IntN(len(s.Legs))].Seconds += 4 },
		func(s *shot.Shot) { s.Legs[r.IntN(len(s.Legs))].Aim = shot.AimWater },
		func(s *shot.Shot) { s.TakeOff = s.TakeOff.Add(5 * time.Minute) },
		func(s *shot.Shot) { s.Light.CloudPct = 100 * r.Float64() },
		func(s *shot.Shot) { s.Light.WindMS = 12 * r.Float64() },
		func(s *shot.Shot) { s.RingAuto, s.RingDeg = !s.RingAuto, 30 },
		func(s *shot.Shot) { s.Filter = []string{"auto", "none", "ND8"}[r.IntN(3)] },
		func(s *shot.Shot) { s.Takes = 1 + r.IntN(3) },
		func(s *shot.Shot) { s.ElevationM += 100 },
		func(s *shot.Shot) { s.Legs = s.Legs[:len(s.Legs)-1] },
		func(s *shot.Shot) { s.Legs = append([]shot.Leg{s.Legs[2]}, s.Legs...) },
		func(*shot.Shot) { bag, other = other, bag },
		func(*shot.Shot) {},
		func(*shot.Shot) { // as when it was measured: the names stay
			next := *bag
			next.Filters = slices.Clone(bag.Filters)
			for i := range next.Filters {
				next.Filters[i].Stops, next.Filters[i].LossStops, next.Filters[i].Grade = next.Filters[i].Stops/2, next.Filters[i].LossStops+1, "1/2"
			}
			bag = &next
		},
	}
	var kept Kept
	var last *Report
	said := ""
	steps := 19
	for step := range steps {
		next := *s
		next.Legs = append([]shot.Leg(nil), s.Legs...)
		n := step
		if step >= len(changes) {
			n = r.IntN(len(changes))
		}
		if len(s.Legs) > 3 || n != 12 {
			changes[n](&next)
		}
		s = &next
		fine := step == 3 || step == 15 // looked at more closely, once after a change and once without
		got := Solve(s, bag, Options{SkipSureness: true, Kept: &kept, Fine: fine})
		want := Solve(s, bag, Options{SkipSureness: true, Fine: fine})
		if sayable(got) != sayable(want) {
			t.Fatalf("step %d, change %d: the call is %s, and %s without what is kept", step, n, got.Call.Filter, want.Call.Filter)
		}
		if last != nil && sayable(last) != said { // the memory it was worked out in is written into again
			t.Fatalf("step %d: the report before is another now", step)
		}
		last, said = got, sayable(got)
	}
}

// How sure the call is may be worked out while the flight is worked out again already, as after a quick nudge: neither writes
// where the other reads.
func TestWorkersOfTwoFlightsAreApart(t *testing.T) {
	s, bag := eightLegs(), demoBag(t)
	s.Light.CloudPct, s.Takes = 40, 3
	var kept Kept
	var all sync.WaitGroup
	const nudges = 5
	var shots [nudges]*shot.Shot
	var beside [nudges]string
	for i := range nudges {
		next := *s
		next.Legs = slices.Clone(s.Legs)
		next.Legs[i].Heading.From += 7
		s, shots[i] = &next, &next
		r := Solve(s, bag, Options{SkipSureness: true, Kept: &kept})
		all.Go(func() { beside[i] = fmt.Sprint(r.Sureness()) })
	}
	all.Wait()
	for i, s := range shots {
		if alone := fmt.Sprint(Solve(s, bag, Options{SkipSureness: true}).Sureness()); beside[i] != alone {
			t.Errorf("nudge %d: %s; alone %s", i, beside[i], alone)
		}
	}
}

// A leg that another one moved is not looked at again: only what its light depends on counts.
func TestAMovedLegIsKept(t *testing.T) {
	s, bag := eightLegs(), demoBag(t)
	var kept Kept
	Solve(s, bag, Options{SkipSureness: true, Kept: &kept})
	before := slices.Clone(kept.found.rough)
	next := *s
	next.Legs = slices.Clone(s.Legs)
	next.Legs[3].Heading.From += 20
	Solve(&next, bag, Options{SkipSureness: true, Kept: &kept})
	for i, l := range kept.found.rough {
		if (l == before[i]) != (i != 3) {
			t.Errorf("leg %d: kept %v", i+1, l == before[i])
		}
	}
}

// sayable prints what a report says of a shot, pointers followed, so that numbers that are not there compare equal.
func sayable(r *Report) string {
	var b strings.Builder
	for _, x := range []any{r.Call, r.Legs, r.Candidates, r.Flights, r.Measures, r.LightLeftMin, r.LatestStartMin} {
		write(&b, reflect.ValueOf(x))
	}
	return b.String()
}

func write(b *strings.Builder, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			write(b, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			b.WriteString(v.Type().Field(i).Name + ":")
			write(b, v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			write(b, v.Index(i))
		}
	default:
		fmt.Fprintf(b, "%v ", v)
	}
}

// A nudge of one leg of a flight, with what the last one left.
func BenchmarkSolveAgain(b *testing.B) {
	for _, c := range []struct {
		name string
		s    *shot.Shot
		long bool
	}{{"8x32", eightLegs(), false}, {"24x60", aLongFlight(), true}} {
		bag := demoBag(b)
		if c.long {
			bag = sixtyFilters(b)
		}
		b.Run(c.name, func(b *testing.B) {
			var kept Kept
			b.ReportAllocs()
			for i := range b.N {
				s := *c.s
				s.Legs = append([]shot.Leg(nil), s.Legs...)
				s.Legs[3].Heading.From += float64(i % 90)
				Solve(&s, bag, Options{SkipSureness: true, Kept: &kept})
			}
		})
	}
}
