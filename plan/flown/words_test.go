package flown

import (
	"slices"
	"testing"

	"example.org/skywedge/plan/shot"
)

// A line of the log says what was set and what was seen, and nothing of what was not noted.
func TestWhatALineOfTheLogSays(t *testing.T) {
	stops := func(x float64) *float64 { return &x }
	for _, c := range []struct {
		f    shot.Flown
		set  string
		seen []string
	}{
		{shot.Flown{}, "", nil},
		{shot.Flown{ShutterS: 1. / 60, ISO: 100, Aperture: 2.8}, "1/60, ISO 100, f/2.8", nil},
		{shot.Flown{ISO: 400, Auto: true}, "ISO 400", []string{"the camera's own exposure"}},
		{shot.Flown{MeterStops: stops(-1. / 3), OffStops: stops(0)}, "", []string{"meter at −⅓", "exposed right"}},
		{shot.Flown{OffStops: stops(1. / 3), Worked: shot.WorkedPartly, Sky: "more", Glare: "less"}, "", []string{"should have been ⅓ stop brighter", "worked partly", "sky more", "glare less"}},
		{shot.Flown{OffStops: stops(-1), Worked: shot.WorkedNo, Saw: " a dark\n  corner "}, "", []string{"should have been 1 stop darker", "did not work", "a dark corner"}},
		{shot.Flown{Worked: shot.WorkedYes}, "", []string{"worked"}},
	} {
		if set, seen := Set(&c.f), Seen(&c.f); set != c.set || !slices.Equal(seen, c.seen) {
			t.Errorf("%+v: %q %q, want %q %q", c.f, set, seen, c.set, c.seen)
		}
	}
}
