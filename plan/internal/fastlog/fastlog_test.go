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

func TestExp2(t *testing.T) {
	for x := -999.0; x <= 999; x += .0173 {
		if got, want := Exp2(x), math.Exp2(x); math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("Exp2(%g) = %g, want %g", x, got, want)
		}
	}
	if Exp2(0) != 1 || Exp2(-4) != 1./16 || Exp2(10) != 1024 {
		t.Error("whole powers must be exact")
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
