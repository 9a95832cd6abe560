package setting

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
)

func TestSubjectFirst(t *testing.T) {
	for _, c := range []struct {
		p    Pace
		want motion.Band
	}{
		{Pace{Ground: 1}, motion.Calm},
		{Pace{Ground: 30}, motion.Fast},
		{Pace{Ground: 30, Subject: 0, Seen: true}, motion.Flowing}, // a follow: only the ground streaks
		{Pace{Ground: 100, Subject: 1, Seen: true}, motion.Flowing},
		{Pace{Ground: 1, Subject: 0, Seen: true}, motion.Calm},
		{Pace{Ground: 5, Subject: 20, Seen: true}, motion.Fast}, // a car that crosses the picture
		{Pace{Ground: 1, Subject: 5, Seen: true}, motion.Flowing},
	} {
		if got := c.p.Band(); got != c.want {
			t.Errorf("%+v: %s, want %s", c.p, got, c.want)
		}
	}
}

// The frames to shoot are held against throwing dice.
func TestFramesToKeepOne(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, blur := range []float64{0.5, 2, 4, 7.7, 12} {
		n := FramesToKeepOne(blur, motion.Loose)
		sigma := blur / math.Sqrt(2*3) // P(length > blur) = exp(−blur²/2σ²) = exp(−3)
		kept := func(n int) float64 {
			hit := 0
			const tries = 20000
			for range tries {
				for range n {
					if math.Hypot(sigma*r.NormFloat64(), sigma*r.NormFloat64()) <= motion.Loose {
						hit++
						break
					}
				}
			}
			return float64(hit) / tries
		}
		if p := kept(n); p < keepChance-0.01 {
			t.Errorf("%g px: %d frames keep one in %.3f of the tries", blur, n, p)
		}
		if n > 1 {
			if p := kept(n - 1); p > keepChance+0.01 {
				t.Errorf("%g px: %d frames would do", blur, n-1)
			}
		}
	}
	if n := FramesToKeepOne(0, 2); n != 1 {
		t.Errorf("without drift %d", n)
	}
	if n := FramesToKeepOne(1e9, 2); n != MostFrames+1 {
		t.Errorf("hopeless: %d", n)
	}
}

func TestBurst(t *testing.T) {
	series := exposure.ShuttersOf(1.0/8000, 8, false)
	if n, s := Burst(1, 1.0/15, series); n != 15 || s != 1.0/15 {
		t.Errorf("%d of %g", n, s)
	}
	if n, s := Burst(1, 2, series); n != 8 || s > 1.0/8 {
		t.Errorf("%d of %g: an average of a few frames shows ghosts", n, s)
	}
	if n, _ := Burst(2, 1.0/1000, series); n != mostBurst {
		t.Errorf("%d frames", n)
	}
	if n, s := Burst(1, 1e-6, series); n != 0 || s != 0 {
		t.Errorf("no shutter is fast enough: %d of %g", n, s)
	}
}
