package learn

import (
	"fmt"
	"math"
	"testing"

	"example.org/skywedge/plan/shot"
)

func num(x float64) *float64 { return &x }

// set is what 1/50, ISO 100, f/2.8 comes to: log2(2.8² · 50) = 8.615 (ISO 2720).
var set = math.Log2(2.8 * 2.8 * 50)

func line(change func(f *shot.Flown)) *shot.Flown {
	f := &shot.Flown{Leg: 0, Filter: "none", ShutterS: 1. / 50, ISO: 100, Aperture: 2.8, PlannedEV100: num(9), PlannedMeter: num(0.5)}
	change(f)
	return f
}

// What would have been right comes from the first evidence that there is; a line without any is a repeat of the plan.
func TestWhatALineSaysOfTheLight(t *testing.T) {
	for name, c := range map[string]struct {
		change func(f *shot.Flown)
		want   float64
		ok     bool
	}{
		"did as told":                {func(f *shot.Flown) { f.Worked = "yes" }, 0, false},
		"the meter over what it was": {func(f *shot.Flown) { f.MeterStops = num(1.5) }, set + 1 - 9, true},
		"the meter before the eye":   {func(f *shot.Flown) { f.MeterStops, f.OffStops = num(0.5), num(2) }, set - 9, true},
		"no meter was foretold":      {func(f *shot.Flown) { f.MeterStops, f.PlannedMeter = num(1.5), nil }, 0, false},
		"automatic, and right":       {func(f *shot.Flown) { f.Auto, f.Worked = true, "yes" }, set - 9, true},
		"automatic, and partly":      {func(f *shot.Flown) { f.Auto, f.Worked = true, "partly" }, 0, false},
		"should have been brighter":  {func(f *shot.Flown) { f.OffStops = num(0.5) }, set - 0.5 - 9, true},
		"should have been darker":    {func(f *shot.Flown) { f.OffStops = num(-1) }, set + 1 - 9, true},
		"it was right":               {func(f *shot.Flown) { f.OffStops = num(0) }, set - 9, true},
		"an offset was in the plan":  {func(f *shot.Flown) { f.OffStops, f.OffsetStops = num(0), 0.5 }, set - 8.5, true},
		"another ISO":                {func(f *shot.Flown) { f.OffStops, f.ISO = num(0), 400 }, set - 2 - 9, true},
		"no plan":                    {func(f *shot.Flown) { f.OffStops, f.PlannedEV100 = num(0), nil }, 0, false},
		"no aperture":                {func(f *shot.Flown) { f.OffStops, f.Aperture = num(0), 0 }, 0, false},
	} {
		got, ok := Residual(line(c.change))
		if ok != c.ok || math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: %g, %v; want %g, %v", name, got, ok, c.want, c.ok)
		}
	}
}

// log makes lines of flights: their residuals, with a filter.
func log(filter string, residuals ...float64) (out []Line) {
	for i, r := range residuals {
		f := line(func(f *shot.Flown) { f.Filter, f.OffStops = filter, num(set-9-r) })
		out = append(out, Line{Card: fmt.Sprintf("%s-%d.yaml", filter, i), Day: "2026-09-18", Flown: *f})
	}
	return out
}

func none(string) float64 { return 0 }

// The camera's offset is that of bare flights, a filter's is its own less the camera's; medians and errors by hand.
func TestOffsets(t *testing.T) {
	lines := append(log("none", .5, .4, .6, .5, .5, .5, 3), log("ND8", 1, 1.1, .9, 1, 1, 1, 1, 1)...)
	l := Of(append(lines, log("CPL", 1, 1)...), "wide", none)
	if l.Camera == nil || l.Camera.N != 7 || math.Abs(l.Camera.Median-.5) > 1e-9 || !l.Camera.Offered {
		t.Fatalf("the camera: %+v", l.Camera)
	}
	if want := 1.2533 / 3 / math.Sqrt(7); math.Abs(l.Camera.Error-want) > 1e-9 { // its scatter is less than what is believed
		t.Errorf("its error is %g, want %g", l.Camera.Error, want)
	}
	if len(l.Camera.Far) != 1 || l.Camera.Far[0].Card != "none-6.yaml" || math.Abs(l.Camera.Far[0].Stops-3) > 1e-9 {
		t.Errorf("far off: %+v", l.Camera.Far)
	}
	if len(l.Filters) != 1 { // two flights with CPL are too few to be shown
		t.Fatalf("filters: %+v", l.Filters)
	}
	nd := l.Filters[0]
	if want := math.Hypot(1.2533/3/math.Sqrt(7), 1.2533/3/math.Sqrt(8)); nd.WithCamera || math.Abs(nd.Median-.5) > 1e-9 || math.Abs(nd.Error-want) > 1e-9 ||
		nd.Offered || nd.Title() != "ND8" || math.Abs(nd.Write-.5) > 1e-9 {
		t.Errorf("ND8: %+v, want the error %g", nd, want)
	}
	// Without bare flights the two cannot be told apart. What the bag has of the camera is not counted twice.
	l = Of(log("ND8", 1, 1, 1, 1, 1, 1), "wide", func(filter string) float64 { return map[string]float64{"": .25}[filter] })
	if nd = l.Filters[0]; l.Camera != nil || !nd.WithCamera || nd.Title() != "camera with ND8" || math.Abs(nd.Write-.75) > 1e-9 || !nd.Offered {
		t.Errorf("without bare flights: %+v", nd)
	}
	// What is used already is not offered again.
	l = Of(log("none", 1, 1, 1, 1, 1, 1), "wide", func(string) float64 { return 1 })
	if l.Camera.Offered || l.Camera.InUse != 1 {
		t.Errorf("in use: %+v", l.Camera)
	}
}

// The legs of a flight are one value, their median; the same card on another day is another flight.
func TestAFlightIsOneValue(t *testing.T) {
	lines := append(log("none", 0, 5, 1), log("none", 2)...)
	for i := range lines[:3] {
		lines[i].Card = "a.yaml"
	}
	lines[3].Card, lines[3].Day = "a.yaml", "2026-09-19"
	lines = append(lines, Line{Card: "a.yaml", Flown: *line(func(f *shot.Flown) { f.Worked = "yes" })})
	l := Of(lines, "wide", none)
	if l.Lines != 5 || l.Evidence != 4 || l.Flights != 2 || l.Camera != nil {
		t.Errorf("%+v", l)
	}
	if l = Of(append(lines, log("none", 1)...), "wide", none); l.Camera == nil || l.Camera.Median != 1 || l.Camera.N != 3 {
		t.Errorf("the median of 1, 2 and 1: %+v", l.Camera)
	}
}

// An offset is hardly ever offered where there is none, and a true half stop mostly is: counted over many invented logs of
// normal scatter .3 stop (a linear congruential generator by Knuth, from memory, and Box and Muller's way to the normal).
func TestWhatIsOfferedIsThere(t *testing.T) {
	seed := uint64(11)
	uniform := func() float64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return (float64(seed>>11) + .5) / (1 << 53)
	}
	normal := func() float64 { return math.Sqrt(-2*math.Log(uniform())) * math.Cos(2*math.Pi*uniform()) }
	offered := func(n int, truth float64) float64 {
		const logs = 4000
		count := 0
		for range logs {
			values := make([]float64, n)
			for i := range values {
				values[i] = truth + .3*normal()
			}
			if Of(log("none", values...), "wide", none).Camera.Offered {
				count++
			}
		}
		return float64(count) / logs
	}
	for _, n := range []int{6, 10, 20} {
		if p := offered(n, 0); p > .005 {
			t.Errorf("logs of %d: %.2f %% offer what is not there", n, 100*p)
		}
	}
	if p := offered(10, .5); p < .85 {
		t.Errorf("logs of 10: a half stop is found in %.0f %%", 100*p)
	}
	if offered(OfferedFrom-1, 3) != 0 {
		t.Error("offered from too few flights")
	}
}

// Words are counted by how sure the plan was.
func TestWordsAreCounted(t *testing.T) {
	var lines []Line
	for _, f := range []shot.Flown{
		{Confidence: "holds", Worked: "yes", Sky: "as planned"}, {Confidence: "holds", Worked: "no", Sky: "less", Glare: "more"},
		{Confidence: "depends", Worked: "partly"}, {Confidence: "close"}, {Worked: "yes"},
	} {
		lines = append(lines, Line{Flown: f})
	}
	got := Of(lines, "wide", none).Words
	if len(got) != 2 || got[0] != (Words{Confidence: "holds", Yes: 1, No: 1, Sky: [3]int{1, 1, 0}, Glare: [3]int{0, 0, 1}, Judged: 2, JudgedGlass: 3}) ||
		got[1] != (Words{Confidence: "depends", Partly: 1, Judged: 1}) {
		t.Errorf("%+v", got)
	}
}
