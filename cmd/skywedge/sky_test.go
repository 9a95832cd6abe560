package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"
)

// The command line against every row of a vector radiative-transfer calculation without aerosol (see
// sun/testdata/README.md): 550 nm, albedo 0.15. Asked: degree 0.01 rms and 0.04 at most, E within 1°
// where the degree is above 0.1.
func TestSkyCommandAgainstRadiativeTransfer(t *testing.T) {
	f, err := os.Open("../../sun/testdata/sky_truth_rayleigh.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var squares, worst, worstE float64
	n := 0
	for _, row := range rows[1:] {
		var v [6]float64
		for i, text := range row {
			if v[i], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(err)
			}
		}
		// the sun in the north, so that azimuths count from it
		var j skyJSON
		out := answered(t, "sky", "--sun", "0,"+row[0], "--toward", row[2]+","+row[1], "--aod", "0", "--albedo", "0.15", "--json")
		if err := json.Unmarshal(out, &j); err != nil {
			t.Fatal(err)
		}
		d := math.Abs(j.Degree - v[4])
		squares, worst = squares+d*d, max(worst, d)
		n++
		if v[4] > .1 {
			worstE = max(worstE, math.Abs(math.Remainder(j.EVectorDeg-v[5], 180)))
		}
		if j.DegreeLow > j.Degree || j.DegreeHigh < j.Degree || v[4] < j.DegreeLow || v[4] > j.DegreeHigh {
			t.Errorf("sun %s, view %s,%s: degree %.3f (%.3f to %.3f), calculated %.3f", row[0], row[2], row[1], j.Degree, j.DegreeLow, j.DegreeHigh, v[4])
		}
	}
	rms := math.Sqrt(squares / float64(n))
	t.Logf("%d directions: degree rms %.4f, max %.4f; E max %.2f°", n, rms, worst, worstE)
	if n < 500 || rms > .01 || worst > .04 || worstE > 1 {
		t.Errorf("%d directions: degree rms %.4f, max %.4f; E max %.2f°", n, rms, worst, worstE)
	}
}

// A haze by its visibility is its depth, 1.2 (2.996/20 − 0.0116) at 20 km: the same sky, but a depth that is given is
// known better than one that is guessed, and so is a haze whose kind is named.
func TestWhatIsKnownNarrowsTheBar(t *testing.T) {
	look := func(args ...string) (j skyJSON) {
		t.Helper()
		all := append([]string{"sky", "--sun", "0,20", "--toward", "90,45", "--json"}, args...)
		if err := json.Unmarshal(answered(t, all...), &j); err != nil {
			t.Fatal(err)
		}
		return j
	}
	bar := func(j skyJSON) float64 { return j.DegreeHigh - j.DegreeLow }
	guessed, given := look("--visibility", "20"), look("--aod", "0.16584")
	if guessed.Luminance != given.Luminance || guessed.Degree != given.Degree || guessed.EVectorDeg != given.EVectorDeg {
		t.Errorf("20 km is another sky than its depth: %+v, %+v", guessed, given)
	}
	if bar(given) >= bar(guessed) || given.DegreeLow <= guessed.DegreeLow || given.DegreeHigh >= guessed.DegreeHigh {
		t.Errorf("a given depth from %.3f to %.3f, a guessed one from %.3f to %.3f", given.DegreeLow, given.DegreeHigh, guessed.DegreeLow, guessed.DegreeHigh)
	}
	dust, sea, town := look("--visibility", "20", "--air", "dust"), look("--visibility", "20", "--air", "sea"), look("--visibility", "20", "--air", "town")
	if !(dust.Degree < guessed.Degree && guessed.Degree < sea.Degree && sea.Degree < town.Degree) {
		t.Errorf("dust %.3f, not known %.3f, sea %.3f, town %.3f", dust.Degree, guessed.Degree, sea.Degree, town.Degree)
	}
	for name, j := range map[string]skyJSON{"dust": dust, "sea": sea, "town": town} {
		if bar(j) >= bar(guessed) {
			t.Errorf("%s: a bar of %.3f, not known %.3f", name, bar(j), bar(guessed))
		}
	}
}
