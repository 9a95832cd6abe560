package exposure

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

// The definitions of ISO 2720:1974 at round numbers: 2.5 lx is EV 0 on a flat receptor, 0.125 cd/m²
// is EV 0; a white-ish wall of luminance L under E = πL/ρ meets both when ρ = π·12.5/250 = 0.157.
func TestEV100(t *testing.T) {
	near(t, "2.5 lx flat", EV100OfIlluminance(2.5, Flat), 0, 1e-12)
	near(t, "3.4 lx dome", EV100OfIlluminance(3.4, Dome), 0, 1e-12)
	near(t, "81920 lx flat", EV100OfIlluminance(81920, Flat), 15, 1e-12)
	near(t, "0.125 cd/m²", EV100OfLuminance(0.125), 0, 1e-12)
	near(t, "4096 cd/m²", EV100OfLuminance(4096), 15, 1e-12)
	near(t, "grey ground", EV100OfLuminance(0.05*math.Pi*1000/math.Pi), EV100OfIlluminance(1000, Flat), 1e-12)
	if v := EV100OfIlluminance(0, Flat); !math.IsInf(v, -1) {
		t.Errorf("no light: %v", v)
	}
}

// EV 15 at f/2.8, worked by hand from ISO 2720.
func TestNoonVideo(t *testing.T) {
	near(t, "stops of ISO with 6.39 stops of filter at base 100", math.Log2(ISO(15, 2.8, 1./50, 6.39, 0)/100), 0, 0.005)
	near(t, "stops of ISO with 8.39 stops of filter at base 400", math.Log2(ISO(15, 2.8, 1./50, 8.39, 0)/400), 0, 0.005)
	for stops, want := range map[float64]float64{0: 4180, 5: 131, 6: 65, 7: 33} {
		near(t, "one over the time", 1/Seconds(15, 2.8, 100, stops, 0), want, 0.5) // stated to whole numbers
	}
	if got := FormatShutter(Seconds(15, 2.8, 100, 10, 0)); got != "1/4.1" {
		t.Errorf("ten stops: %s", got)
	}
	for stops, want := range map[float64]string{10: "1/4", 13: "2 s"} {
		if got := NearestShutter(Seconds(15, 2.8, 100, stops, 0), 0, 0, false).Label; got != want {
			t.Errorf("%v stops: %s, want %s", stops, got, want)
		}
	}
}

// Sunny sixteen: full sun (EV 15) at f/16 asks for about 1/ISO; common practice, no source.
func TestSunnySixteen(t *testing.T) {
	for _, iso := range []float64{100, 200, 400} {
		near(t, "stops from 1/ISO", math.Log2(Seconds(15, 16, iso, 0, 0)*iso), 0, 0.4)
	}
}

// The forms of the equation undo each other.
func TestInverses(t *testing.T) {
	for _, ev := range []float64{-3, 7.5, 15} {
		for _, loss := range []float64{0, 1.5, 10} {
			for _, compensation := range []float64{-1, 0, 1} {
				iso := ISO(ev, 4, 1./30, loss, compensation)
				near(t, "time", Seconds(ev, 4, iso, loss, compensation), 1./30, 1e-12)
				near(t, "light", LimitEV100(Settings{4, 1. / 30, compensation}, loss, iso), ev, 1e-12)
				near(t, "one stop of filter", ISO(ev, 4, 1./30, loss+1, compensation), 2*iso, 1e-9*iso)
				near(t, "one stop of light", ISO(ev+1, 4, 1./30, loss, compensation), iso/2, 1e-9*iso)
			}
		}
	}
}

func TestMixEV100(t *testing.T) {
	for pitch, want := range map[float64]float64{20: 12, 0: 12, -60: 12, -75: 11.5, -90: 11, -100: 11} {
		near(t, "mix", MixEV100(12, 11, pitch), want, 1e-12)
	}
}

func TestSky(t *testing.T) {
	// 100 D / (π 12.5) at D = 12.5 π 2¹⁰/100.
	near(t, "mean sky", SkyEV100(12.5*math.Pi*1024/100), 10, 1e-12)
}
