package exposure

import (
	"math"
	"testing"
)

// Shutter times for 180°, and what is set: common practice, no source.
func TestAngle(t *testing.T) {
	for _, tt := range []struct {
		fps, exact float64
		set        string
	}{
		{24, 48, "1/50"}, {23.976, 47.952, "1/50"}, {25, 50, "1/50"}, {29.97, 59.94, "1/60"}, {30, 60, "1/60"},
		{50, 100, "1/100"}, {60, 120, "1/125"}, {100, 200, "1/200"}, {120, 240, "1/250"},
	} {
		near(t, "one over the time", 1/AngleSeconds(tt.fps, 180), tt.exact, 1e-9)
		near(t, "angle", AngleDeg(tt.fps, AngleSeconds(tt.fps, 137)), 137, 1e-9)
		if s := AngleShutter(tt.fps, LookDeg, 1./8000, 8); s.Label != tt.set {
			t.Errorf("%v frames a second: %s, want %s", tt.fps, s.Label, tt.set)
		}
	}
	near(t, "1/50 at 24", AngleDeg(24, 1./50), 172.8, 1e-9)
	if s := AngleShutter(24, 360, 0, 0); s.Label != "1/25" {
		t.Errorf("360° at 24: %s, must fit into the frame", s.Label)
	}
	if s := AngleShutter(24, 180, 1./8000, 1./100); s.Label != "1/100" {
		t.Errorf("a camera no slower than 1/100: %s", s.Label)
	}
}

// Under 50 Hz lamps n/100 s, under 60 Hz n/120 s: common practice, no source.
func TestFlicker(t *testing.T) {
	for _, tt := range []struct {
		seconds, hz float64
		want        bool
	}{
		{1. / 50, 50, true}, {1. / 100, 50, true}, {1. / 25, 50, true}, {1. / 48, 50, false}, {1. / 60, 50, false}, {1. / 200, 50, false},
		{1. / 60, 60, true}, {1. / 120, 60, true}, {1. / 40, 60, true}, {1. / 50, 60, false}, {1. / 125, 60, false}, {2, 50, true},
	} {
		if got := Steady(tt.seconds, tt.hz); got != tt.want {
			t.Errorf("%s under %v Hz: %v", FormatShutter(tt.seconds), tt.hz, got)
		}
	}
	for _, tt := range []struct {
		fps, wanted, hz float64
		want            string
	}{
		{24, 1. / 50, 50, "1/50"}, {25, 1. / 50, 50, "1/50"}, {30, 1. / 60, 50, "1/50"}, {24, 1. / 48, 60, "1/60"},
		{30, 1. / 60, 60, "1/60"}, {60, 1. / 125, 60, "1/120"}, {50, 1. / 100, 50, "1/100"}, {60, 1. / 125, 50, "1/100"}, {120, 1. / 250, 60, "1/120"},
	} {
		if s, ok := SteadyShutter(tt.fps, tt.wanted, tt.hz, 0, 0); !ok || s.Label != tt.want {
			t.Errorf("%v frames a second under %v Hz: %s, %v, want %s", tt.fps, tt.hz, s.Label, ok, tt.want)
		}
	}
	if s, ok := SteadyShutter(120, 1./250, 50, 0, 0); ok {
		t.Errorf("120 frames a second under 50 Hz: %v", s)
	}
}

func TestWhiteBalance(t *testing.T) {
	near(t, "5600 K under +12 mired", WhiteBalanceK(5600, 12), 5250, 0)
	near(t, "no cast", WhiteBalanceK(5600, 0), 5600, 0)
	near(t, "cool filter", WhiteBalanceK(5600, -12), 6000, 0)
	near(t, "mired of 5000 K", Mired(5000), 200, 1e-12)
}

// The rough table of daylight: its anchors, its order, and no jumps. Common practice, no source.
func TestSceneK(t *testing.T) {
	for _, tt := range []struct {
		name          string
		alt, cloud    float64
		shining       bool
		lowest, highK float64
	}{
		{"high sun", 50, 0, true, 5500, 5700},
		{"sun at 6°", 6, 0, true, 5000, 5000},
		{"sun on the horizon", 0, 0, true, 3500, 3500},
		{"overcast", 40, 1, false, 6500, 7000},
		{"open shade", 40, 0, false, 6500, 7000},
		{"civil twilight", -4, 0, false, 7500, 9000},
		{"night", -15, 0, false, 9000, 9000},
	} {
		if k := SceneK(tt.alt, tt.cloud, tt.shining); k < tt.lowest || k > tt.highK {
			t.Errorf("%s: %.0f K, want %v to %v", tt.name, k, tt.lowest, tt.highK)
		}
	}
	for _, cloud := range []float64{0, 0.4, 1} {
		for _, shining := range []bool{true, false} {
			last := SceneK(-20, cloud, shining)
			for alt := -20.0; alt < 90; alt += 0.05 {
				k := SceneK(alt, cloud, shining)
				if math.Abs(Mired(k)-Mired(last)) > 8 {
					t.Errorf("cloud %v shining %v: jump from %.0f to %.0f K at %.2f°", cloud, shining, last, k, alt)
				}
				last = k
			}
		}
	}
	for alt := 0.0; alt < 30; alt++ {
		if SceneK(alt, 0, true) > SceneK(alt+1, 0, true)+1e-9 {
			t.Errorf("the sun warms as it rises from %v°", alt)
		}
	}
}
