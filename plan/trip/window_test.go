package trip

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
)

// demo returns the cards of the demo trip, not worked out.
func demo(t testing.TB) []Card {
	t.Helper()
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	var list []Card
	for _, name := range examples.Cards() {
		card, _ := shot.ReadCard(name, examples.Card(name))
		s, faults := card.Shot(bag, time.Time{})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		list = append(list, Card{File: name, Shot: s, Bag: bag})
	}
	return list
}

func worked(t testing.TB, cards []Card) []Card {
	t.Helper()
	out, err := WorkAll(t.Context(), cards, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// curve is a meter whose light is a curve; its guess is off by something that changes with the hour.
type curve struct {
	day   Span
	at    func(hour float64) float64
	off   func(hour float64) float64
	shift float64
	reads int
}

func (c *curve) hour(t time.Time) float64 { return t.Sub(c.day.From).Hours() }

func (c *curve) Room(t time.Time) (float64, bool) {
	c.reads++
	c.shift = c.off(c.hour(t))
	return c.at(c.hour(t)), true
}

func (c *curve) Guess(t time.Time) (float64, bool) {
	h := c.hour(t)
	return c.at(h) - c.off(h) + c.shift, true
}

// off tells that an end is found neither to the half minute nor to the fiftieth of a stop.
func off(light func(float64) float64, end, by float64) bool {
	return math.Abs(by) > 1.1*endWithin.Hours() && light(end) > endStops
}

func TestWindowOfACurve(t *testing.T) {
	t.Parallel()
	from := time.Date(2026, 9, 18, 0, 0, 0, 0, time.UTC)
	day := Span{from, from.Add(24*time.Hour - time.Second)}
	at := func(h float64) time.Time { return from.Add(time.Duration(h * float64(time.Hour))) }
	flat := func(float64) float64 { return 0 }
	// Light that falls like an evening's: it holds from 8.5 to 19.25.
	evening := func(h float64) float64 { return min(h-8.5, 2*(19.25-h)) }
	for _, c := range []struct {
		name      string
		light     func(float64) float64
		off       func(float64) float64
		own       float64
		from, to  float64
		mostReads int
	}{
		{"as guessed", evening, flat, 15, 8.5, 19.25, 14},
		{"the frame drifts", evening, func(h float64) float64 { return 0.3 * math.Sin(h) }, 15, 8.5, 19.25, 2*mostReads + 3},
		{"own is too late", evening, flat, 20, 8.5, 19.25, 16},
		{"own is too early", evening, flat, 7, 8.5, 19.25, 16},
		{"all day", func(float64) float64 { return 1 }, flat, 12, 0, 24, 8},
		{"at one end of the window", evening, flat, 19.25, 8.5, 19.25, 14},
	} {
		m := &curve{day: day, at: c.light, off: c.off}
		w := windowIn(m, at(c.own), day)
		if w == nil {
			t.Errorf("%s: no window", c.name)
			continue
		}
		if a, b := m.hour(w.From)-c.from, m.hour(w.To)-c.to; off(c.light, m.hour(w.From), a) || off(c.light, m.hour(w.To), b) {
			t.Errorf("%s: %v to %v, off by %.4f and %.4f h", c.name, w.From, w.To, a, b)
		}
		if x, y := c.light(m.hour(w.From)), c.light(m.hour(w.To)); x < -1e-9 || y < -1e-9 {
			t.Errorf("%s: an end does not hold: %g, %g", c.name, x, y)
		}
		if m.reads > c.mostReads {
			t.Errorf("%s: %d readings", c.name, m.reads)
		}
	}
	if w := windowIn(&curve{day: day, at: func(float64) float64 { return -1 }, off: flat}, at(12), day); w != nil {
		t.Errorf("nothing holds, window %v", w)
	}
}

// The end of a window is where the report itself says that one can take off at the latest, and at both ends the call, made
// anew there, exposes every leg at a clean ISO.
func TestWindowAgreesWithTheReport(t *testing.T) {
	t.Parallel()
	held := 0
	for _, c := range worked(t, demo(t)) {
		if c.Window == nil {
			continue
		}
		w, r := c.Window, c.Report
		if latest := c.Shot.TakeOff.Add(time.Duration(r.LatestStartMin * float64(time.Minute))); r.LatestStartMin > 0 && r.LatestStartMin < 180 && w.Holds(c.Shot.TakeOff) {
			held++
			// The report looks at every moment of the leg that decides, the window at both ends of each.
			if d := w.To.Sub(latest); d > 3*time.Minute || d < -6*time.Minute {
				t.Errorf("%s: window until %v, the report says %v", c.File, w.To, latest)
			}
		}
		for _, at := range []time.Time{w.From, w.From.Add(w.To.Sub(w.From) / 2), w.To} {
			s, err := c.Shot.At(at)
			if err != nil {
				t.Fatal(err)
			}
			s.Filter, s.RingAuto, s.RingDeg = r.Flights[0].Filter, !r.Flights[0].HasRing, r.Flights[0].RingDeg
			for i, l := range plan.Solve(s, c.Bag, plan.Options{SkipSureness: true}).Legs {
				clean := s.Legs[i].Mode.ISO.Clean
				if !l.Feasible || len(r.Flights) == 1 && l.ISO.Max > 1.13*clean { // a third of a stop of marks, halved
					t.Errorf("%s at %v, leg %d with %s: ISO %g, clean %g, short %g", c.File, at, i+1, s.Filter, l.ISO.Max, clean, l.ShortStops)
				}
			}
		}
	}
	if held < 2 {
		t.Errorf("only %d windows could be held against the report", held)
	}
}

// Whoever falls out of the window falls out of the light: a minute after its end the call no longer holds.
func TestWindowEndsWhereTheCallDoes(t *testing.T) {
	t.Parallel()
	for _, c := range worked(t, demo(t)) {
		if c.Window == nil {
			continue
		}
		h, day := c.Report.Held(nil), dayOf(c.Shot)
		for _, at := range []time.Time{c.Window.From.Add(-2 * endWithin), c.Window.To.Add(2 * endWithin)} {
			if x, ok := h.Room(at); day.From.Before(at) && day.To.After(at) && ok && x >= endStops {
				t.Errorf("%s: outside of %v, at %v, it holds with %.3f stops", c.File, c.Window, at, x)
			}
		}
	}
}

func TestWantedLight(t *testing.T) {
	t.Parallel()
	for _, c := range demo(t) {
		day := dayOf(c.Shot)
		list := wantedIn(c.Shot, day)
		in := func(x time.Time) bool {
			for _, w := range list {
				if w.Holds(x) {
					return true
				}
			}
			return false
		}
		if c.Shot.Want == nil && !in(c.Shot.TakeOff) {
			t.Errorf("%s: its own take-off is not in %v", c.File, list)
		}
		want := c.Shot.Wanted()
		r := rand.New(rand.NewPCG(9, 10))
		for range 60 {
			at := day.From.Add(time.Duration(r.Int64N(int64(day.To.Sub(day.From)))))
			s, err := c.Shot.At(at)
			if err != nil {
				continue
			}
			near := false // an end is found to half a minute
			for _, w := range list {
				near = near || abs(at.Sub(w.From)) < time.Minute || abs(at.Sub(w.To)) < time.Minute
			}
			has := want.DegreesOutside(s.MiddleSun().AltitudeDeg) == 0 && (want.Side == "" || want.Side == shot.SideAny || want.SideMet(s.Legs, shot.Path(s, sidePerLeg)))
			if has != in(at) && !near {
				t.Errorf("%s at %v: light wanted %v, said %v of %v", c.File, at, has, in(at), list)
			}
		}
	}
}
