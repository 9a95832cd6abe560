package rank

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestKth(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 61))
	for n := 1; n < 60; n++ {
		a := make([]float64, n)
		for i := range a {
			a[i] = float64(rng.IntN(12)) // with many equal values
		}
		sorted := slices.Sorted(slices.Values(a))
		for k := range n {
			b := slices.Clone(a)
			Kth(b, k)
			if b[k] != sorted[k] || slices.Max(b[:k+1]) != sorted[k] || slices.Min(b[k:]) != sorted[k] {
				t.Fatalf("n %d k %d: %v", n, k, b)
			}
		}
	}
}

func BenchmarkKth(b *testing.B) {
	rnd := rand.New(rand.NewPCG(1, 61))
	x := make([]float64, 576)
	for b.Loop() {
		for i := range x {
			x[i] = rnd.Float64()
		}
		Kth(x, 288)
	}
}
