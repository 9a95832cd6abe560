package motion

import (
	"math"
	"testing"
)

// A bird at 12 m/s and 60 m across 5472 px over 76.3°: 13.9 px at 1/50 s, 0.70 px at 1/1000 s. Ours,
// worked by hand; the aircraft stands still.
func TestBird(t *testing.T) {
	lens := NewCamera(5472, 3648, math.Tan(76.3/2*math.Pi/180))
	speed := lens.FocalPx * 12 / 60
	for _, tt := range []struct{ seconds, want, tol float64 }{{1. / 50, 13.9, 0.05}, {1. / 1000, 0.70, 0.005}} {
		if got := BlurPx(speed, tt.seconds, lens.FocalPx, 60, Steadiness{}); math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%v s: %.3f px, want %v", tt.seconds, got, tt.want)
		}
	}
	if s := SlowestSafe(Normal, speed, lens.FocalPx, 60, Steadiness{}); math.Abs(s-1/speed) > 1e-12 {
		t.Errorf("slowest safe %v, want %v", s, 1/speed)
	}
}

func TestBlurTerms(t *testing.T) {
	// Each term alone: 100 px/s for 0.01 s; 0.1 m/s for 1 s at 100 m with F 3000; 0.1°/s for 1 s.
	if b := BlurPx(100, 0.01, 3000, 100, Steadiness{}); math.Abs(b-1) > 1e-12 {
		t.Errorf("movement: %v", b)
	}
	if b := BlurPx(0, 1, 3000, 100, Steadiness{DriftMS: 0.1, DriftMaxM: 0.3}); math.Abs(b-3) > 1e-12 {
		t.Errorf("drift: %v", b)
	}
	if b := BlurPx(0, 1, 3000, 100, Steadiness{YawDegS: 0.1, YawMaxDeg: 0.2}); math.Abs(b-5.2360) > 1e-4 {
		t.Errorf("yaw: %v", b)
	}
	// Bounded: half a minute is no worse than ten seconds.
	for _, s := range []Steadiness{SteadinessOf("calm"), SteadinessOf("normal"), SteadinessOf("windy")} {
		if a, b := BlurPx(0, 10, 3000, 100, s), BlurPx(0, 30, 3000, 100, s); a != b {
			t.Errorf("%+v: %v px after 10 s, %v after 30 s", s, a, b)
		}
	}
	// Calm air, 2 s, the middle of a landscape at 100 m, F 3000: within a few pixels, as practice has it.
	if b := BlurPx(0, 2, 3000, 100, SteadinessOf("calm")); b > 3 {
		t.Errorf("2 s in calm air: %v px", b)
	}
}

// The slowest safe time is exactly where the blur meets the limit, or there is none.
func TestSlowestSafe(t *testing.T) {
	infinite := 0
	for _, st := range []Steadiness{SteadinessOf("calm"), SteadinessOf("normal"), SteadinessOf("windy"), {}, {DriftMS: 0.1, DriftMaxM: 0.2}, {YawDegS: 0.01, YawMaxDeg: 0.02}} {
		for _, speed := range []float64{0, 0.05, 0.5, 30, 900} {
			for _, depth := range []float64{8, 60, 2000} {
				for _, limit := range []float64{0.5, Normal, Loose, 12, 200} {
					got := SlowestSafe(limit, speed, 3000, depth, st)
					if math.IsInf(got, 1) {
						infinite++
						if b := BlurPx(speed, 1e4, 3000, depth, st); b > limit || speed > 0 {
							t.Errorf("%+v speed %v depth %v: no limit, but %v px against %v", st, speed, depth, b, limit)
						}
						continue
					}
					if b := BlurPx(speed, got, 3000, depth, st); math.Abs(b-limit) > 1e-9*limit {
						t.Errorf("%+v speed %v depth %v: %v px after %v s, limit %v", st, speed, depth, b, got, limit)
					}
				}
			}
		}
	}
	if infinite == 0 {
		t.Error("no case without a limit was met")
	}
}

// The bounds of hovering, ours: calm air wanders and turns least, wind most, and a word that is not
// known counts as normal.
func TestSteadinessOf(t *testing.T) {
	for word, want := range map[string]Steadiness{
		"calm":   {DriftMS: 0.02, DriftMaxM: 0.1, YawDegS: 0.015, YawMaxDeg: 0.05},
		"normal": {DriftMS: 0.1, DriftMaxM: 0.3, YawDegS: 0.1, YawMaxDeg: 0.2},
		"windy":  {DriftMS: 0.3, DriftMaxM: 0.6, YawDegS: 0.5, YawMaxDeg: 0.5},
		"gale":   {DriftMS: 0.1, DriftMaxM: 0.3, YawDegS: 0.1, YawMaxDeg: 0.2},
	} {
		if got := SteadinessOf(word); got != want {
			t.Errorf("%s: %+v", word, got)
		}
	}
}

func TestSkew(t *testing.T) {
	if s := SkewPx(512, 20); math.Abs(s-10.24) > 1e-12 {
		t.Errorf("skew %v px, want 10.24", s)
	}
	if d := LeanDeg(SkewPx(2160*50, 20), 2160); math.Abs(d-45) > 1e-12 {
		t.Errorf("lean %v°, want 45", d)
	}
}
