package fastlog

import (
	"math"
	"testing"
)

func TestLog2(t *testing.T) {
	for x := 1e-9; x < 1e9; x *= 1.0137 {
		if got, want := Log2(x), math.Log2(x); math.Abs(got-want) > 1.1e-8 {
			t.Fatalf("Log2(%g) = %.12f, want %.12f", x, got, want)
		}
	}
	for _, x := range []float64{.5, 1, 2, 4, math.Nextafter(2, 1), math.Nextafter(1, 2)} {
		if got, want := Log2(x), math.Log2(x); math.Abs(got-want) > 1e-9 {
			t.Errorf("Log2(%g) = %g, want %g", x, got, want)
		}
	}
}

func BenchmarkLog2(b *testing.B) {
	x, sum := .3, 0.0
	for b.Loop() {
		sum += Log2(x)
		x += 1e-9
	}
	_ = sum
}
