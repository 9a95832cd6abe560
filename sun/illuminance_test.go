package sun

import (
	"math"
	"testing"
)

func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.7g, want %.7g within %g", what, got, want, tol)
	}
}

// circular171 is the closed form of Janiczek & DeYoung 1987, US Naval Observatory Circular 171: the
// illuminance of a clear sky on the horizontal, the sky's part of it, and the beam on a surface square to
// it. Below the horizon there is no beam.
func circular171(altDeg float64) (totalLx, skyLx, directNormalLx float64) {
	m := AirPath(altDeg)
	sinH := math.Sin(altDeg * rad)
	beam := solarLx * math.Exp(-0.21*m)
	skyLx = solarLx * 0.0289 * math.Exp(-0.042*m) * (1 + (altDeg+90)*sinH*rad)
	totalLx = beam*sinH + skyLx
	if altDeg <= 0 {
		beam = 0
	}
	return totalLx, skyLx, beam
}

// The table has the Seidelmann 1992 polynomials and the Circular 171 closed form, computed
// elsewhere (testdata/README.md), to six figures.
func TestIlluminanceTable(t *testing.T) {
	table := rows(t, "illuminance_check.csv")
	if len(table) < 45 {
		t.Fatalf("only %d rows", len(table))
	}
	for _, r := range table {
		h := number(t, r["sun_alt_deg_geometric"])
		e := ClearIlluminance(h)
		at := r["sun_alt_deg_geometric"] + "°"
		relative(t, "polynomial at "+at, e, number(t, r["E_poly_lx"]), 1e-5)
		near(t, "logarithm at "+at, math.Log10(e), number(t, r["log10_E_poly"]), 6e-6)
		total, sky, normal := circular171(h)
		relative(t, "closed form, total at "+at, total, number(t, r["C171_total_lx_same_arg"]), 1e-5)
		relative(t, "closed form, sky at "+at, sky, number(t, r["C171_diffuse_horizontal_lx"]), 1e-5)
		relative(t, "closed form, beam at "+at, normal, number(t, r["C171_direct_normal_lx"]), 1e-5)
		relative(t, "closed form, beam on the horizontal at "+at, normal*math.Sin(h*rad), number(t, r["C171_direct_horizontal_lx"]), 1e-5)
	}
}

// Janiczek & DeYoung 1987 certify 123,786 lx for the sun in the zenith. American Meteorological
// Society, Glossary of Meteorology: 585 to 410 lx at sunset, 3.5 to 2 lx at the end of civil
// twilight. Full moon in the zenith at its mean distance: 0.27 lx (Seidelmann 1992, from memory).
func TestIlluminanceAnchors(t *testing.T) {
	total, _, _ := circular171(90)
	relative(t, "certified zenith sun", total, 123786, 5e-5)
	for _, c := range []struct{ h, lo, hi float64 }{{HorizonDeg, 410, 585}, {CivilDeg, 2, 3.5}} {
		if e := ClearIlluminance(c.h); e < c.lo || e > c.hi {
			t.Errorf("sun at %g°: %.4g lx, want %g to %g", c.h, e, c.lo, c.hi)
		}
	}
	full := Moon{Position: Position{GeometricDeg: 90}, LitFraction: 1}
	near(t, "full moon in the zenith", moonIlluminance(full), 0.27, 0.003)
	near(t, "night", ClearIlluminance(-18), 0.000645, 1e-6)
	near(t, "deep night", ClearIlluminance(-60), ClearIlluminance(-18), 0)
}

// Light falls with the sun. At the borders of the pieces the published polynomials disagree by up
// to 1.1 %; at −12° that makes the lower piece 0.3 % the brighter one.
func TestLightFallsWithTheSun(t *testing.T) {
	last := ClearIlluminance(90)
	lowest := last
	for h := 90.0; h >= -30; h -= 0.01 {
		e := ClearIlluminance(h)
		if e > lowest*1.004 || e < last*0.985 {
			t.Fatalf("at %.2f°: %g lx after %g", h, e, last)
		}
		last, lowest = e, min(lowest, e)
	}
	for _, h := range []float64{90.5, 1e300} {
		if ClearIlluminance(h) != ClearIlluminance(90) {
			t.Errorf("sun at %g°: %g lx", h, ClearIlluminance(h))
		}
	}
}

func TestMoonIlluminanceFollowsPhaseHeightAndDistance(t *testing.T) {
	m := Moon{Position: Position{GeometricDeg: 40}, LitFraction: 1, DistanceKm: moonMeanKm}
	last := math.Inf(1)
	for lit := 1.0; lit >= 0; lit -= 0.01 {
		m.LitFraction = lit
		e := moonIlluminance(m)
		if !(e < last) || e <= 0 {
			t.Fatalf("lit %.2f: %g lx after %g", lit, e, last)
		}
		last = e
	}
	m.LitFraction = 1
	for h := 90.0; h >= -2; h -= 0.01 {
		m.GeometricDeg = h
		if e := moonIlluminance(m); h >= -0.8 && e <= 0 || h < -0.81 && e != 0 {
			t.Fatalf("moon at %.2f°: %g lx", h, e)
		}
	}
	m.GeometricDeg = 40
	e := moonIlluminance(m)
	m.DistanceKm *= 2
	// Parallax is an arcsine, not quite the inverse of distance.
	relative(t, "at twice the distance", moonIlluminance(m), e/4, 1e-3)
	m.DistanceKm = 0
	relative(t, "distance not given", moonIlluminance(m), e, 3e-3)
	// Half lit gives far less than half: the formula of Seidelmann 1992 worked by hand for a phase
	// angle of 90°, −0.7812 − 0.1443 in the logarithm.
	m.LitFraction = 0.5
	relative(t, "half moon", moonIlluminance(m), e*math.Pow(10, -0.92554), 4e-3)
}

// The path through a spherical layer 1/753.66 of the earth's radius high: 1 upwards, 38.8 along the
// horizon by hand (√(2·753.66 + 1)), and 1/sin h where the ground is as good as flat.
func TestAirPath(t *testing.T) {
	near(t, "zenith", AirPath(90), 1, 1e-12)
	near(t, "horizon", AirPath(0), math.Sqrt(2*753.66156+1), 0.01)
	near(t, "30°", AirPath(30), 2, 0.01)
	last := 0.0
	for h := 90.0; h >= -90; h -= 0.1 {
		m := AirPath(h)
		if m < last {
			t.Fatalf("path at %.1f°: %g after %g", h, m, last)
		}
		last = m
	}
}
