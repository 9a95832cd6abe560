package exposure

import (
	"math"
	"testing"
	"time"
)

// An evening at latitude 45 on the equinox from sun 3°, f/2.8 and 1/50, a camera clean from ISO 100
// to 1600: the light falls from EV 10.07 to 6.90 in 25 minutes. Worked by hand.
var evening = Settings{NNumber: 2.8, Seconds: 1. / 50}

// A filter that serves the whole flight lies between the one that needs base ISO at its brightest and
// the one that needs clean ISO at its darkest moment: 1.46 and 2.29 stops. Worked by hand.
func TestLimitWorked(t *testing.T) {
	low, high := 10.07-LimitEV100(evening, 0, 100), 6.90-LimitEV100(evening, 0, 1600)
	near(t, "lightest filter", low, 1.46, 0.005)
	near(t, "heaviest filter", high, 2.29, 0.005)
	near(t, "ISO at the start", ISO(10.07, 2.8, 1./50, 2, 0), 146, 0.5)
	near(t, "ISO at the end", ISO(6.90, 2.8, 1./50, 2, 0), 1311, 2)
	near(t, "base with the lightest", ISO(10.07, 2.8, 1./50, low, 0), 100, 1e-9)
	near(t, "clean with the heaviest", ISO(6.90, 2.8, 1./50, high, 0), 1600, 1e-9)
	brighter := evening
	brighter.CompensationStops = 1
	near(t, "a stop of compensation", LimitEV100(brighter, 2, 100), LimitEV100(evening, 2, 100)+1, 1e-12)
}

func TestRunOut(t *testing.T) {
	start := time.Date(2026, 3, 20, 18, 0, 0, 0, time.UTC)
	calls := 0
	// The evening's fall as a parabola through 10.07 now and 6.90 after 25 min, steeper later.
	ev := func(at time.Time) float64 {
		calls++
		m := at.Sub(start).Minutes()
		return 10.07 - 0.0768*m - 0.002*m*m
	}
	limit := LimitEV100(evening, 2, 1600) // 6.61
	at, ok := RunOut(start, 3*time.Hour, limit, ev)
	want := (-0.0768 + math.Sqrt(0.0768*0.0768+4*0.002*(10.07-limit))) / (2 * 0.002) // minutes
	if got := at.Sub(start).Minutes(); !ok || math.Abs(got-want) > 0.1/60 || math.Abs(got-26.5) > 0.8 {
		t.Errorf("runs out after %.3f min, ok %v; want %.3f, near 26.5", got, ok, want)
	}
	if calls > 40 {
		t.Errorf("%d evaluations of the light", calls)
	}
	if _, ok := RunOut(start, 20*time.Minute, limit, ev); ok {
		t.Error("ran out within 20 minutes")
	}
	if at, ok := RunOut(start.Add(time.Hour), time.Hour, limit, ev); !ok || !at.Equal(start.Add(time.Hour)) {
		t.Errorf("already dark: %v, %v", at, ok)
	}
	// A morning: darker than the limit only before the start.
	if _, ok := RunOut(start, 3*time.Hour, limit, func(at time.Time) float64 { return limit + at.Sub(start).Hours() }); ok {
		t.Error("ran out while the light grows")
	}
	// A step, as when the sun goes behind a ridge, and the last sliver of the horizon.
	edge := start.Add(59*time.Minute + 58*time.Second)
	at, ok = RunOut(start, time.Hour, 5, func(at time.Time) float64 {
		if at.Before(edge) {
			return 9
		}
		return 4
	})
	if d := at.Sub(edge); !ok || d < 0 || d > 100*time.Millisecond {
		t.Errorf("step found %v late, ok %v", d, ok)
	}
}

func TestDiffraction(t *testing.T) {
	// The first dark ring of the Airy pattern at f/8 and 550 nm is 10.74 µm across.
	near(t, "f/8 on 2.4 µm", DiffractionPx(8, 2.4), 10.736/2.4, 1e-3)
	if !math.IsNaN(DiffractionPx(8, 0)) {
		t.Error("no pitch, no answer")
	}
}
