package sun

import (
	"math"
	"testing"
)

// near fails the test unless got lies within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.8g, want %.8g ± %g", what, got, want, tol)
	}
}

// The values are Bodhaine et al. 1999, eq. 30 at one atmosphere; coefficients and values from memory.
func TestRayleighDepthAtSeaLevel(t *testing.T) {
	for _, c := range []struct{ nm, want float64 }{
		{550, 0.097065}, {450, 0.221106}, {650, 0.049184},
	} {
		near(t, "Rayleigh depth", RayleighDepth(c.nm, 1013.25), c.want, 5e-6)
	}
	near(t, "half the air", RayleighDepth(550, 1013.25/2), 0.097065/2, 3e-6)
	if RayleighDepth(450, 1000) <= RayleighDepth(500, 1000) {
		t.Error("blue must scatter more than green")
	}
}

// ISO 2533:1975 standard atmosphere, geopotential heights.
func TestPressureFollowsStandardAtmosphere(t *testing.T) {
	for _, c := range []struct{ m, hpa, tol float64 }{
		{0, 1013.25, 1e-9}, {1000, 898.746, 0.02}, {3000, 701.085, 0.02}, {5000, 540.199, 0.02}, {-500, 1074.78, 0.05},
	} {
		near(t, "pressure", PressureAt(c.m), c.hpa, c.tol)
	}
	if p := PressureAt(1e9); !(p > 0) {
		t.Errorf("pressure far above the air: %g", p)
	}
}

func TestAerosolDepthMatchesPresets(t *testing.T) {
	for _, h := range Hazes() {
		near(t, h.Name, AerosolDepth(h.VisibilityKm, 0), h.AOD, 0.006)
	}
	near(t, "one scale height up", AerosolDepth(20, 1200), AerosolDepth(20, 0)/math.E, 1e-12)
	near(t, "no visibility", AerosolDepth(0, 0), 1, 0)
	near(t, "dense fog", AerosolDepth(0.05, 0), 1, 0)
	near(t, "no haze at all", AerosolDepth(1e6, 0), 0.02, 0)
	near(t, "below ground", AerosolDepth(20, -50), AerosolDepth(20, 0), 0)
	near(t, "at its own wavelength", AerosolDepthAt(0.2, 550), 0.2, 1e-15)
	near(t, "twice the blue of the red end", AerosolDepthAt(0.1, 400)/AerosolDepthAt(0.1, 800), math.Pow(2, 1.3), 1e-12)
}
