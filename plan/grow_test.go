package plan

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/skywedge/plan/shot"
)

// What .ci/compare makes a table of: in a benchmark named Grow… the number is how much work there is.

func BenchmarkGrowLegs(b *testing.B) {
	bag := demoBag(b)
	for _, n := range []int{1, 4, 16, 64} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := eightLegs()
			for len(s.Legs) < n {
				s.Legs = append(s.Legs, s.Legs[len(s.Legs)-8])
				s.Legs[len(s.Legs)-1].Heading.From += 7
			}
			s.Legs = s.Legs[:n]
			for b.Loop() {
				Solve(s, bag, Options{SkipSureness: true})
			}
		})
	}
}

func BenchmarkGrowMoments(b *testing.B) {
	s, bag := eightLegs(), demoBag(b)
	for _, n := range []int{8, 32, 128, 256} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Solve(s, bag, Options{PerLeg: n, SkipSureness: true})
			}
		})
	}
}

func BenchmarkGrowFilters(b *testing.B) {
	s, sixty := eightLegs(), sixtyFilters(b)
	for _, n := range []int{1, 4, 15, 60} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			bag := *sixty
			bag.Filters = slices.Clone(sixty.Filters[:n])
			for b.Loop() {
				Solve(s, &bag, Options{SkipSureness: true})
			}
		})
	}
}

func BenchmarkGrowPixels(b *testing.B) {
	r := seaShot(shot.Water, 350, 0)
	for _, w := range []int{43, 160, 640, 1920} {
		h := int(math.Round(float64(w) * 9 / 16))
		b.Run(fmt.Sprint(w*h), func(b *testing.B) {
			for b.Loop() {
				drawn(b, r, "CPL", 45, w, h)
			}
		})
	}
}
