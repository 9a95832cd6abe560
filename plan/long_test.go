package plan

import (
	"fmt"
	"slices"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// aLongFlight is three times the flight with every kind of move: 24 legs.
func aLongFlight() *shot.Shot {
	s := eightLegs()
	s.Legs = slices.Concat(s.Legs, s.Legs, s.Legs)
	for i := range s.Legs {
		s.Legs[i].Heading.From += float64(7 * i)
	}
	return s
}

// sixtyFilters is a bag with five of each of twelve.
func sixtyFilters(tb testing.TB) *kit.Bag {
	bag := *demoBag(tb)
	kinds := slices.Clone(bag.Filters)
	bag.Filters = nil
	for i := range 60 {
		f := kinds[i%len(kinds)]
		n := i / len(kinds)
		f.Name = fmt.Sprintf("%s no %d", f.Name, n+1)
		f.MarkDeg += float64(3 * n)
		f.Stops += float64(n) / 10
		f.LossStops += float64(n) / 20
		bag.Filters = append(bag.Filters, f)
	}
	return &bag
}

// The largest job that anybody brings: 24 legs and 60 filters.
func BenchmarkSolve24x60(b *testing.B) {
	s, bag := aLongFlight(), sixtyFilters(b)
	b.ReportAllocs()
	for range b.N {
		Solve(s, bag, Options{SkipSureness: true})
	}
}
