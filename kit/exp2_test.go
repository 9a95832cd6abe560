package kit

import (
	"math"
	"testing"
)

func TestExp2(t *testing.T) {
	for x := -999.0; x <= 999; x += 0.0173 {
		want := math.Exp2(x)
		if got := exp2(x); math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("exp2(%v) = %v, want %v", x, got, want)
		}
	}
	if exp2(0) != 1 || exp2(-4) != 1./16 || exp2(10) != 1024 {
		t.Error("whole powers must be exact")
	}
}

func BenchmarkExp2(b *testing.B) {
	var sum float64
	for i := 0; b.Loop(); i++ {
		sum += exp2(-float64(i&1023) / 100)
	}
	_ = sum
}
