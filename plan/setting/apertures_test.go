package setting

import (
	"slices"
	"testing"

	"example.org/skywedge/kit"
)

// The f-numbers to choose from, the sharpest first: whole stops as they are marked on lenses (the series of √2 with its
// usual rounding), and the ends of the lens.
func TestApertures(t *testing.T) {
	for name, c := range map[string]struct {
		lens, sharpest [2]float64
		want           []float64
	}{
		"one aperture":            {lens: [2]float64{2.8, 2.8}, want: []float64{2.8}},
		"not said where sharpest": {lens: [2]float64{2.8, 11}, want: []float64{2.8, 4, 5.6, 8, 11}},
		"a short range":           {lens: [2]float64{2.8, 4}, want: []float64{2.8, 4}},
		"sharpest in the middle":  {lens: [2]float64{2, 16}, sharpest: [2]float64{4, 8}, want: []float64{4, 5.6, 8, 2.8, 2, 11, 16}},
		"sharpest at one":         {lens: [2]float64{2.8, 11}, sharpest: [2]float64{5.6, 5.6}, want: []float64{5.6, 4, 2.8, 8, 11}},
		"ends between the stops":  {lens: [2]float64{1.7, 13}, sharpest: [2]float64{2.8, 5.6}, want: []float64{2.8, 4, 5.6, 2, 1.7, 8, 11, 13}},
	} {
		t.Run(name, func(t *testing.T) {
			got := Apertures(&kit.Camera{Aperture: c.lens, Sharpest: c.sharpest})
			if !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}
