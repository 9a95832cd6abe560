package flown

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// reportOf solves a card of the demo trip.
func reportOf(t *testing.T, at int) *plan.Report {
	t.Helper()
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	name := examples.Cards()[at]
	card, faults := shot.ReadCard(name, examples.Card(name))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s, faults := card.Shot(bag, time.Time{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return plan.Solve(s, bag, plan.Options{SkipSureness: true})
}

// The planned exposure is what shutter, ISO and aperture of the plan come to, but for the marks: a third of a stop apart, they
// are half of one off at most; EV = log2(N²/t) − log2(ISO/100) (ISO 2720).
func TestThePlannedExposureIsThatOfTheSettings(t *testing.T) {
	for at := range examples.Cards() {
		r := reportOf(t, at)
		for leg := range r.Legs {
			if !r.Legs[leg].Feasible {
				continue
			}
			f := Planned(r, leg)
			ev := math.Log2(f.Aperture*f.Aperture/f.ShutterS) - math.Log2(f.ISO/100)
			if f.PlannedEV100 == nil || math.Abs(*f.PlannedEV100-ev) > setting.ExposureSlack+setting.StepSlack {
				t.Errorf("card %d, leg %d: planned %v, set %g", at+1, leg+1, f.PlannedEV100, ev)
			}
			if flight := r.FlightOf(leg); f.Filter != flight.Filter || (f.RingDeg != nil) != flight.HasRing || f.Leg != leg {
				t.Errorf("card %d, leg %d: %+v", at+1, leg+1, f)
			}
		}
	}
}

// Another filter on the lens lets through more or less, and so much is planned for: ND16 takes 4 stops (the bag), none 0.
func TestAnotherFilterOnTheLens(t *testing.T) {
	r := reportOf(t, 0)
	f := Planned(r, 0)
	if f.Filter != "ND16" {
		t.Fatalf("the first card is flown with %s", f.Filter)
	}
	bare := With(f, r, "none")
	if math.Abs(*bare.PlannedEV100-*f.PlannedEV100-4) > 1e-9 || bare.RingDeg != nil || bare.PlannedMeter != nil {
		t.Errorf("bare: %+v, planned %g after %g", bare, *bare.PlannedEV100, *f.PlannedEV100)
	}
	if k := With(f, r, "variable light"); k.PlannedEV100 != nil || k.Filter != "variable light" {
		t.Errorf("a variable one: %+v", k)
	}
	if k := With(f, r, "lent by a friend"); k.PlannedEV100 != nil {
		t.Errorf("one that is not in the bag: %+v", k)
	}
	if same := With(f, r, "ND16"); same != f {
		t.Errorf("the same: %+v", same)
	}
}

// A picture is of the leg that is flown at its time, and of the take; near the seam both fit, unless it looks one way.
func TestWhichLegAPictureIsOf(t *testing.T) {
	r := reportOf(t, 0)
	heading := func(x float64) *float64 { return &x }
	at := func(clock string) time.Time {
		t.Helper()
		w, err := time.ParseInLocation("2006-01-02 15:04:05", "2026-09-18 "+clock, r.Shot.Zone)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	for _, c := range []struct {
		clock   string
		heading *float64
		want    []Fit
	}{
		{"19:40:00", nil, nil},
		{"19:40:45", nil, []Fit{{0, 1}}}, // a minute early
		{"19:41:35", nil, []Fit{{0, 1}}},
		{"19:42:50", nil, []Fit{{0, 2}}},
		{"19:43:50", nil, []Fit{{0, 3}}},
		{"19:45:05", nil, []Fit{{0, 3}, {1, 1}}},
		{"19:45:05", heading(40), []Fit{{1, 1}}},          // only the orbit comes round there
		{"19:45:05", heading(330), []Fit{{0, 3}, {1, 1}}}, // both look there
		{"19:45:05", heading(180), []Fit{{0, 3}, {1, 1}}}, // neither does: it says nothing
		{"19:46:10", heading(180), []Fit{{1, 1}}},         // there is one anyway
		{"19:46:31", nil, []Fit{{1, 2}}},
		{"19:55:00", nil, nil},
	} {
		got := Legs(r, at(c.clock), c.heading)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.clock, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %v, want %v", c.clock, got, c.want)
			}
		}
	}
}

// A heading from magnetic north is brought to true north by the card's declination, and is nothing without one.
func TestAMagneticHeading(t *testing.T) {
	h, d := 10., -1.2
	s := &shot.Shot{DeclinationDeg: &d}
	if got := Heading(&photo.Picture{HeadingDeg: &h, MagneticNorth: true}, s); got == nil || math.Abs(*got-8.8) > 1e-9 {
		t.Errorf("%v", got)
	}
	if got := Heading(&photo.Picture{HeadingDeg: &h}, s); *got != 10 {
		t.Errorf("%v", got)
	}
	if got := Heading(&photo.Picture{HeadingDeg: &h, MagneticNorth: true}, &shot.Shot{}); got != nil {
		t.Errorf("%v", *got)
	}
}

// Along a meridian a degree is a ninetieth of a quarter: 111.19 km on a sphere of 6371 km.
func TestHowFarAway(t *testing.T) {
	lat, lon := 44., 2.
	p := &photo.Picture{LatDeg: &lat, LonDeg: &lon}
	if m, ok := AwayM(p, &shot.Shot{LatDeg: 43, LonDeg: 2}); !ok || math.Abs(m-111195) > 5 {
		t.Errorf("%g, %v", m, ok)
	}
	if _, ok := AwayM(&photo.Picture{}, &shot.Shot{}); ok {
		t.Error("a picture without a place is somewhere")
	}
}

// What is written down within a day of the plan was flown as planned; before it, or long after it, nobody knows when.
func TestWhenNothingTellsIt(t *testing.T) {
	r := reportOf(t, 0)
	start := r.Path[0].Time[0]
	for after, known := range map[time.Duration]bool{-time.Minute: false, 0: true, 5 * time.Hour: true, 23 * time.Hour: true, 25 * time.Hour: false} {
		if got := When(r, 0, start.Add(after)); got.IsZero() == known || known && !got.Equal(start) {
			t.Errorf("written %v after it: %v", after, got)
		}
	}
	if got := When(r, 9, start); !got.IsZero() {
		t.Errorf("a leg that there is not: %v", got)
	}
}

// A line of a picture has what stands beside the picture, and nothing of the plan in the place of what does not.
func TestALineOfAPicture(t *testing.T) {
	r := reportOf(t, 0)
	planned, at := Planned(r, 0), time.Date(2026, 9, 18, 17, 43, 0, 0, time.UTC)
	s, iso, n, auto := 1./125, 200., 4., true
	got := Of(planned, &photo.Picture{ShutterS: &s, ISO: &iso, Aperture: &n, AutoExposure: &auto}, at, "IMG_0001.jpg")
	if got.ShutterS != s || got.ISO != iso || got.Aperture != n || !got.Auto || !got.When.Equal(at) || got.Picture != "IMG_0001.jpg" {
		t.Errorf("%+v", got)
	}
	if got.Filter != planned.Filter || got.PlannedEV100 != planned.PlannedEV100 || got.Leg != planned.Leg {
		t.Errorf("the plan is gone: %+v", got)
	}
	if got := Of(planned, &photo.Picture{}, at, "x.jpg"); got.ShutterS != 0 || got.ISO != 0 || got.Aperture != 0 || got.Auto {
		t.Errorf("a picture that tells nothing: %+v", got)
	}
}

// A leg that a plan does not have is planned with nothing, and no picture is of a leg that has no moment.
func TestALegThatThereIsNot(t *testing.T) {
	r := reportOf(t, 0)
	for _, leg := range []int{-1, len(r.Legs)} {
		if got := Planned(r, leg); got != (shot.Flown{Leg: leg}) {
			t.Errorf("leg %d: %+v", leg, got)
		}
	}
	less := *r
	less.Path = nil
	for _, m := range r.Path {
		if m.Leg != 0 {
			less.Path = append(less.Path, m)
		}
	}
	if got := Legs(&less, r.Path[0].Time[0], nil); len(got) != 0 {
		t.Errorf("of a leg without a moment: %v", got)
	}
}
