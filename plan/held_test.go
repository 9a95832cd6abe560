package plan

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// heldOf works a shot out and asks where its call holds, both with what was kept and without.
func heldOf(t *testing.T, s *shot.Shot) (r *Report, with, without *Held) {
	t.Helper()
	kept := new(Kept)
	r = Solve(s, demoBag(t), Options{SkipSureness: true, Kept: kept})
	return r, r.Held(kept), r.Held(nil)
}

func anEvening(takes int, legs ...shot.Leg) *shot.Shot {
	s := plantest.Flight(17, 0, legs...)
	s.Takes = takes
	return s
}

// At its own take-off the room is the headroom that the report has, for legs that are alike from end to end.
func TestRoomIsTheReportsHeadroom(t *testing.T) {
	t.Parallel()
	for name, leg := range map[string]shot.Leg{
		"a still":       plantest.StillOf(180, -20, 40),
		"straight down": {Move: shot.Hold, Purpose: shot.Still, Seconds: 10, Pitch: [2]float64{-90, -90}, Height: [2]float64{60, 60}},
	} {
		s := anEvening(2, leg)
		r, with, without := heldOf(t, s)
		a, okA := with.Room(s.TakeOff)
		b, okB := without.Room(s.TakeOff)
		if !okA || !okB || math.Abs(a-b) > 1e-9 {
			t.Errorf("%s: room %g with what was kept, %g without", name, a, b)
		}
		a = with.rooms(s, with.read, false)[0][0]
		if want := r.Legs[0].Headroom; math.Abs(a-want) > 0.02 {
			t.Errorf("%s: room %.3f, the report's headroom %.3f", name, a, want)
		}
	}
}

// A flight after a landing is held in its own light: later by the landing, here half an hour of a morning.
func TestRoomOfALaterFlight(t *testing.T) {
	t.Parallel()
	s := conflicting()
	s.Settings.LandingChangeS = 1800
	r := only(s, "CPL")
	if len(r.Flights) != 2 {
		t.Fatalf("%d flights", len(r.Flights))
	}
	h := r.Held(nil)
	for i, room := range h.rooms(r.Shot, h.read, false) {
		if want := r.Legs[i].Headroom; math.Abs(room[0]-want) > 0.02 {
			t.Errorf("leg %d: room %.3f, the report's headroom %.3f", i+1, room[0], want)
		}
	}
}

// While the sun sinks the room shrinks to nothing, near to where the report has the latest take-off; more takes leave less.
func TestRoomEndsWithTheLight(t *testing.T) {
	t.Parallel()
	s := anEvening(2, plantest.Push(180, 6, 20))
	r, h, _ := heldOf(t, s)
	if math.IsInf(r.LatestStartMin, 1) || r.LatestStartMin < 5 {
		t.Fatalf("no evening: %g minutes", r.LatestStartMin)
	}
	at := func(min float64) time.Time { return s.TakeOff.Add(time.Duration(min * float64(time.Minute))) }
	if x, ok := h.Room(at(r.LatestStartMin - 2)); !ok || x < 0 {
		t.Errorf("before the latest take-off %g stops", x)
	}
	if x, _ := h.Room(at(r.LatestStartMin + 3)); x >= 0 {
		t.Errorf("after the latest take-off %g stops", x)
	}
	if x, ok := h.Room(at(7 * 60)); ok || !math.IsInf(x, -1) {
		t.Errorf("at night %g stops", x)
	}
	long := *s
	long.Takes = 9
	_, more, _ := heldOf(t, &long)
	a, _ := h.Room(at(r.LatestStartMin))
	b, _ := more.Room(at(r.LatestStartMin))
	if b >= a {
		t.Errorf("nine takes leave %g stops, two %g", b, a)
	}
}

// A guess right after a reading is that reading.
func TestGuessBeginsAtTheReading(t *testing.T) {
	t.Parallel()
	s := anEvening(2, plantest.Push(180, 6, 20), plantest.Turning(90, 60, 40))
	_, h, _ := heldOf(t, s)
	for _, min := range []int{-90, 0, 30} {
		at := s.TakeOff.Add(time.Duration(min) * time.Minute)
		a, _ := h.Room(at)
		if b, _ := h.Guess(at); math.Abs(a-b) > 1e-9 {
			t.Errorf("%d min: read %g, guessed %g", min, a, b)
		}
	}
}

// Every density of the range holds the flight, none outside of it does: held against the call itself, made with it alone.
func TestDensitiesHold(t *testing.T) {
	t.Parallel()
	s := plantest.Flight(12, 0, plantest.Push(180, 8, 15))
	_, h, _ := heldOf(t, s)
	least, most, ok := h.Densities()
	if !ok || least < 0.5 || most < least+1 {
		t.Fatalf("from %g to %g stops at noon", least, most)
	}
	for _, d := range []float64{least - 0.6, least + 0.1, (least + most) / 2, most - 0.1, most + 0.6} {
		bag := *demoBag(t)
		bag.Filters = bag.Filters[:1:1]
		f := &bag.Filters[0]
		*f = bag.Filters[0]
		f.Name, f.Kind, f.Stops, f.LossStops = "it", "density", d, 0
		z := *s
		z.Filter = "it"
		r := Solve(&z, &bag, Options{SkipSureness: true})
		l := r.Legs[0]
		angle := 360 * s.Legs[0].FPS * l.Shutter.Min
		holds := l.ISO.Max <= 1.13*s.Legs[0].Mode.ISO.Clean && angle >= 90/1.13
		if within := d >= least && d <= most; holds != within {
			t.Errorf("%.2f of %.2f to %.2f stops: ISO %g at %.0f°", d, least, most, l.ISO.Max, angle)
		}
	}
}
