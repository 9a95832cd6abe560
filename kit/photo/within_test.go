package photo

import (
	"math"
	"testing"
)

// A number of a picture's data comes in many kinds; what lies outside of its bounds, and what is no number, is none.
func TestWithin(t *testing.T) {
	for _, v := range []any{42.0, uint8(42), uint16(42), uint32(42), int16(42), int32(42), []any{uint16(42), uint16(7)}} {
		if got := within(v, 0, 360); got == nil || *got != 42 {
			t.Errorf("%T %v: %v", v, v, got)
		}
	}
	for _, v := range []any{nil, "42", []any{}, -0.1, 360.5, math.NaN(), int16(-1), []any{"x"}} {
		if got := within(v, 0, 360); got != nil {
			t.Errorf("%T %v: %v, want none", v, v, *got)
		}
	}
}
