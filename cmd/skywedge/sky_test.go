package main

import (
	"encoding/json"
	"testing"
)

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
