package plan

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

func allCautions(r *Report) string { return strings.Join(r.Call.Cautions, "\n") }

// Each caution of the glass appears where it applies and not where it does not, and to power off stays the
// last (common practice, no source).
func TestGlassCautions(t *testing.T) {
	at := time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	film := func(off float64, aim shot.Aim) shot.Leg {
		l := plantest.Push(az+off, 8, 20)
		l.Aim = aim
		return l
	}
	forced := func(s *shot.Shot, filter string) *Report {
		s.Filter = filter
		return solve(s)
	}
	tiles := plantest.StillOf(az+60, 4, 60)
	tiles.Move, tiles.Heading.By = shot.Pan, 90
	lamp := film(90, shot.AimKeep)
	lamp.Ground = shot.Town
	long := plantest.StillOf(az+90, -35, 45)
	long.Purpose, long.ShutterS, long.ShutterSet, long.Aim = shot.Long, 2, true, shot.AimKeep
	slow := plantest.Push(180, 1, 100)
	slow.Aim = shot.AimKeep
	for _, c := range []struct {
		word    string
		with    *Report
		without *Report
	}{
		{"tiles of a panorama", forced(plantest.Flight(9, 0, tiles), "CPL"), forced(plantest.Flight(9, 0, tiles), "none")},
		{"tiles of a panorama", forced(plantest.Flight(9, 0, tiles), "CPL"), forced(plantest.Flight(9, 0, plantest.StillOf(az+60, 4, 60)), "CPL")},
		{"flat glass before the lens", forced(plantest.Flight(7, 30, towards(7, 30)), "ND16"), forced(plantest.Flight(9, 0, film(180, shot.AimKeep)), "ND16")},
		{"flat glass before the lens", forced(plantest.Flight(7, 30, towards(7, 30)), "ND16"), forced(plantest.Flight(7, 30, towards(7, 30)), "none")},
		{"Lamps in the picture", forced(plantest.Flight(18, 30, lamp), "ND8"), forced(plantest.Flight(12, 0, lamp), "ND8")},
		{"sheets of a variable", forced(plantest.Flight(7, 30, towards(7, 30)), "variable 1.6-5"), forced(plantest.Flight(12, 0, film(90, shot.AimKeep)), "ND64")},
		{"Two filters stacked", forced(plantest.Flight(12, 0, long), "ND1000"), forced(plantest.Flight(12, 0, film(90, shot.AimKeep)), "ND16")},
		{"Very fast shutters into a high sun", forced(plantest.Flight(12, 0, slow), "none"), forced(plantest.Flight(12, 0, slow), "ND64")},
	} {
		if all := allCautions(c.with); !strings.Contains(all, c.word) {
			t.Errorf("no %q in\n%s", c.word, all)
		}
		if all := allCautions(c.without); strings.Contains(all, c.word) {
			t.Errorf("%q for no reason in\n%s", c.word, all)
		}
		if list := c.with.Call.Cautions; list[len(list)-1] != caution.PowerOff {
			t.Errorf("ends with %q", list[len(list)-1])
		}
	}
	// A film by day wants a light density, and a long exposure the darkest.
	fast := plantest.Push(180, 10, 15)
	fast.Aim = shot.AimKeep
	s := plantest.Flight(12, 0, fast, fast, long)
	s.TransitS, s.Settings.LandingChangeS = 240, 240
	if all := allCautions(only(s, "ND16", "ND1000")); !strings.Contains(all, "Land with the reserve and change filters out of the wind: change to ND1000 before leg 3.") {
		t.Errorf("a flight with a landing: %s", all)
	}
	if s.Camera.EnduranceMin = 9; s.Times().Batteries != 1 {
		t.Fatalf("%d batteries without a landing", s.Times().Batteries)
	}
	r := only(s, "ND16", "ND1000")
	if all := allCautions(r); r.Batteries < 2 || !strings.Contains(all, fmt.Sprintf("take %d batteries", r.Batteries)) ||
		!strings.HasPrefix(caution.InShort(r.Shot, r.Path, len(r.Flights)-1)[0], fmt.Sprintf("%d batteries · home with", r.Batteries)) {
		t.Errorf("%d batteries: %s, in short %q", r.Batteries, all, caution.InShort(r.Shot, r.Path, len(r.Flights)-1))
	}
}

// One exposure serves a leg whose light moves by up to two stops; beyond, the leg is to be split or set again.
func TestDriftIsACaution(t *testing.T) {
	at := time.Date(2026, 3, 20, 7, 0, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	turn := plantest.Turning(az+180, 180, 40)
	turn.Expose = shot.ExposeLand
	dusk := plantest.Push(90, 2, 40)
	dusk.Aim, dusk.Seconds = shot.AimKeep, 60
	evening := plantest.Flight(17, 50, dusk)
	evening.Takes, evening.ResetS = 12, 60
	once := plantest.Flight(17, 50, dusk)
	for _, c := range []struct {
		name            string
		shot            *shot.Shot
		within, between bool
	}{
		{"a turn against a low sun, exposed for the land", plantest.Flight(7, 0, turn), true, false},
		{"dusk, many takes", evening, false, true},
		{"dusk, once", once, false, false},
	} {
		c.shot.Filter = "none"
		r := solve(c.shot)
		all := allCautions(r)
		if strings.Contains(all, "The light moves by more than 2 stops in a take of leg 1: split the leg or ride the exposure.") != c.within ||
			strings.Contains(all, "The light moves by more than 2 stops between the takes of leg 1: set the exposure again for each.") != c.between {
			t.Errorf("%s, drift %.2f:\n%s", c.name, r.Legs[0].DriftStops, all)
		}
		if drifts := r.Legs[0].DriftStops > SplitStops; drifts != (c.within || c.between) {
			t.Errorf("%s: drift %.2f", c.name, r.Legs[0].DriftStops)
		}
	}
}

// towards looks at the sun at a time of day.
func towards(hour, minute int) shot.Leg {
	at := time.Date(2026, 3, 20, hour, minute, 0, 0, time.UTC)
	l := plantest.Push(sun.At(at, 45, 0).AzimuthDeg, 8, 20)
	l.Aim = shot.AimKeep
	return l
}

// No polariser is called for tiles that are to be stitched.
func TestNoPolariserForTiles(t *testing.T) {
	at := time.Date(2026, 3, 20, 8, 0, 0, 0, time.UTC)
	l := plantest.StillOf(sun.At(at, 45, 0).AzimuthDeg+90, 4, 60)
	l.Move, l.Heading.By, l.Seconds = shot.Pan, 90, 30
	r := solve(plantest.Flight(8, 0, l))
	if r.Call.HasRing {
		t.Errorf("%s: %q", r.Call.Filter, r.Call.Reasons)
	}
	l.Move, l.Heading.By = shot.Hold, 0
	if r := solve(plantest.Flight(8, 0, l)); !r.Call.HasRing {
		t.Errorf("a single still: %s", r.Call.Filter)
	}
}

// Wind is stronger higher up: the same wind is spoken of at 100 m and not at 20.
func TestWindHigherUp(t *testing.T) {
	said := func(height, wind float64) bool {
		s := plantest.Flight(12, 0, plantest.Push(180, 5, height))
		s.Light.WindMS = wind
		return strings.Contains(strings.Join(caution.Of(s, shot.Path(s, 4), 0), "\n"), "stronger aloft")
	}
	if !said(100, 6) || said(20, 6) || !said(20, 11) || said(100, 3) {
		t.Errorf("100 m %v, 20 m %v, strong %v, weak %v", said(100, 6), said(20, 6), said(20, 11), said(100, 3))
	}
}

func TestLegList(t *testing.T) {
	for want, n := range map[string][]string{"": nil, "leg 2": {"2"}, "legs 1 and 3": {"1", "3"}, "legs 1, 2 and 4": {"1", "2", "4"}} {
		if got := words.Legs(n); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := legsOf([]plannedFlight{{analysis: &analysis{}, c: &ranking{best: &evaluation{}}}}, func(*kit.Filter) bool { return true }, nil); got != "" {
		t.Errorf("bare: %q", got)
	}
}
