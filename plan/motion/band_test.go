package motion

import (
	"math"
	"testing"
)

// A pan of 7 s a width at 24 frames a second is 11.8 minutes of arc a frame (the handbook rule of
// Burum, American Cinematographer Manual, cited by Chapiro et al. 2019), just inside flowing.
func TestHandbookPan(t *testing.T) {
	step := HD.StepArcmin(3840.0/7, 3840, 24)
	if math.Abs(step-11.8) > 0.05 || BandOf(step) != Flowing {
		t.Errorf("7 s pan: %.2f minutes, %s; want 11.8, flowing", step, BandOf(step))
	}
	if r := UHD.StepArcmin(100, 3840, 24) / HD.StepArcmin(100, 3840, 24); math.Abs(r-1.86) > 0.005 {
		t.Errorf("close viewing is %.3f times the step, want 1.86", r)
	}
	// The two widths are those of a 16:9 screen at 3 and at 1.5 of its heights.
	for h, v := range map[float64]Viewing{3: HD, 1.5: UHD} {
		if w := 2 * math.Atan(16.0/9/2/h) * 180 / math.Pi; math.Abs(w-float64(v)) > 0.05 {
			t.Errorf("%v heights: %.2f°, constant %v", h, w, v)
		}
	}
}

func TestBandOf(t *testing.T) {
	for step, want := range map[float64]Band{0: Calm, 1.99: Calm, 2: Flowing, 11.9: Flowing, 12: Fast, 59: Fast, 60: Whip, 400: Whip} {
		if got := BandOf(step); got != want {
			t.Errorf("%v minutes: %s, want %s", step, got, want)
		}
	}
}

// Facts of the trade (common practice, no source): a slow flight over distant ground needs no blur;
// a low fast pass does.
func TestFlights(t *testing.T) {
	calm := Ground(uhdLens, ahead(100, -10, 2))
	if b := BandOf(HD.StepArcmin(calm.P90, uhdLens.W, 25)); b != Calm {
		t.Errorf("2 m/s at 100 m: %s, want calm", b)
	}
	low := Ground(uhdLens, ahead(5, -30, 8))
	if b := BandOf(HD.StepArcmin(low.P90, uhdLens.W, 24)); b != Fast && b != Whip {
		t.Errorf("8 m/s at 5 m: %s, want fast or whip", b)
	}
}

func TestRemedy(t *testing.T) {
	r := RemedyFor(24, 8, 24, []float64{60, 24, 50, 25, 48})
	if r.Slowdown != 0.5 || r.MaxSpeed != 4 || r.FPS != 48 {
		t.Errorf("%+v, want half the speed or 48 frames a second", r)
	}
	if r := RemedyFor(24, 8, 24, []float64{24, 30}); r.FPS != 0 {
		t.Errorf("no rate is enough, got %v", r.FPS)
	}
	if r := RemedyFor(8, 5, 25, nil); r != (Remedy{Slowdown: 1, MaxSpeed: 5, FPS: 25}) {
		t.Errorf("nothing to do: %+v", r)
	}
	// What is proposed does bring the leg there.
	s := ahead(5, -30, 8)
	step := HD.StepArcmin(Ground(uhdLens, s).P90, uhdLens.W, 24)
	s = ahead(5, -30, RemedyFor(step, 8, 24, nil).MaxSpeed)
	if got := HD.StepArcmin(Ground(uhdLens, s).P90, uhdLens.W, 24); math.Abs(got-fastFrom) > 1e-9 {
		t.Errorf("after slowing down: %v minutes", got)
	}
}

// Chapiro, Atkins & Daly 2019: J(24 frames a second, 2.5 cd/m², 7 s) = 5.108.
func TestJudder(t *testing.T) {
	if j, ok := Judder(24, 2.5, 7); !ok || math.Abs(j-JudderAcceptable) > 5e-4 {
		t.Errorf("J = %.5f, valid %v, want 5.108", j, ok)
	}
	clamped, ok := Judder(12, 100, 30)
	if edge, _ := Judder(24, 40, 17); ok || clamped != edge {
		t.Errorf("outside the fit: %v, valid %v, want %v of the edge and false", clamped, ok, edge)
	}
	// The study's findings: more judder when brighter, faster or at a lower frame rate.
	j, _ := Judder(30, 10, 8)
	for name, other := range map[string][3]float64{"brighter": {30, 20, 8}, "faster": {30, 10, 6}, "fewer frames": {24, 10, 8}} {
		if k, ok := Judder(other[0], other[1], other[2]); !ok || k <= j {
			t.Errorf("%s: %.3f, not above %.3f", name, k, j)
		}
	}
}
