package kit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestPassAxis(t *testing.T) {
	for _, c := range []struct{ ring, mark, want float64 }{
		{0, 0, 0},
		{135, 0, 45}, // the mark at half past ten facing the lens is half past one in the picture
		{45, 90, 45}, // a mark a quarter turn off the pass axis
		{45, 0, 135},
		{90, 0, 90},
		{0, 90, 90},
		{30, -30, 0},
		{179.5, 0.5, 0},
		{720 + 135, 0, 45},
	} {
		if got := PassAxisDeg(c.ring, c.mark); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("PassAxisDeg(%v, %v) = %v, want %v", c.ring, c.mark, got, c.want)
		}
	}
}

func TestRingForIsTheInverse(t *testing.T) {
	for ring := 0.0; ring < 180; ring += 7.5 {
		for mark := -180.0; mark <= 180; mark += 22.5 {
			axis := PassAxisDeg(ring, mark)
			if axis < 0 || axis >= 180 {
				t.Fatalf("PassAxisDeg(%v, %v) = %v, outside 0..180", ring, mark, axis)
			}
			if back := RingFor(axis, mark); math.Abs(back-ring) > 1e-9 {
				t.Errorf("RingFor(%v, %v) = %v, want %v", axis, mark, back, ring)
			}
		}
	}
	if a := PassAxisDeg(180+1e-15, 0); a < 0 || a >= 180 {
		t.Errorf("a hair past the half turn gives %v", a)
	}
}

func TestClock(t *testing.T) {
	for _, c := range []struct {
		ring float64
		want string
	}{
		{0, "12:00 or 6:00"},
		{15, "12:30 or 6:30"},
		{45, "1:30 or 7:30"},
		{37, "1:00 or 7:00"},
		{38, "1:30 or 7:30"},
		{90, "3:00 or 9:00"},
		{105, "9:30 or 3:30"},
		{135, "10:30 or 4:30"},
		{165, "11:30 or 5:30"},
		{172, "11:30 or 5:30"},
		{173, "12:00 or 6:00"},
		{-45, "10:30 or 4:30"},
		{225, "1:30 or 7:30"},
	} {
		if got := Clock(c.ring); got != c.want {
			t.Errorf("Clock(%v) = %q, want %q", c.ring, got, c.want)
		}
	}
}

// With the sun towards half past one in the picture, single-scattered light of the sky ahead
// vibrates square to that direction, so the sky is darkest with the pass axis pointing at the sun:
// mark at half past ten facing the lens when the mark is on the pass axis.
func TestDarkestRing(t *testing.T) {
	e := r3.Vec{X: math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}
	for _, c := range []struct{ mark, want float64 }{{0, 135}, {90, 45}} {
		f := Filter{Kind: Polariser, LossStops: defaultLossStops, MarkDeg: c.mark}
		best, least := -1.0, math.Inf(1)
		most := 0.0
		for ring := 0.0; ring < 180; ring++ {
			m := f.Mount(ring, 0)
			p := m.Answer(r3.Vec{Z: 1}).Passed(0.75, e)
			if p < least {
				best, least = ring, p
			}
			most = max(most, p)
		}
		if best != c.want {
			t.Errorf("mark %v: darkest at ring %v, want %v", c.mark, best, c.want)
		}
		m := f.Mount(180-c.want, 0)
		wrong := math.Log2(m.Answer(r3.Vec{Z: 1}).Passed(0.75, e) / least)
		if math.Abs(wrong-2.8) > 0.05 {
			t.Errorf("mark %v: taking front for behind costs %.3f stops, want 2.8", c.mark, wrong)
		}
		if math.Abs(math.Log2(most/least)-wrong) > 1e-9 {
			t.Errorf("mark %v: the mistaken ring should be the lightest one", c.mark)
		}
	}
}
