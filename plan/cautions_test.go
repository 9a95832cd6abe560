package plan

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

func cautionsOf(s *shot.Shot) string { return strings.Join(Cautions(s, shot.Path(s, 9)), "\n") }

// calmShot returns no caution but those that always stand.
func calmShot(legs ...shot.Leg) *shot.Shot {
	s := plantest.Shot(legs...)
	s.TakeOff = time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC)
	s.Camera, s.Settings = plantest.Camera(), plantest.Bag().Settings
	return s
}

func TestCautionsThatAlwaysStand(t *testing.T) {
	want := []string{
		"Turn for home while 25 % of the battery is left.",
		"Never look at the sun through optics.",
		"Power off before changing filters.",
	}
	s := calmShot(shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Heading: shot.Sweep{From: 0}, Height: plantest.Level(40)})
	if got := Cautions(s, shot.Path(s, 5)); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}

func TestCautions(t *testing.T) {
	hold := shot.Leg{Move: shot.Hold, Purpose: shot.Video, Seconds: 10, Height: plantest.Level(40)}
	with := func(change func(l *shot.Leg)) shot.Leg {
		l := hold
		change(&l)
		return l
	}
	for _, c := range []struct {
		name string
		leg  shot.Leg
		shot func(s *shot.Shot)
		says string // "": says nothing of this kind
		not  string
	}{
		{"130 m", with(func(l *shot.Leg) { l.Height = plantest.Level(130) }), nil,
			"Planned height 130 m is above the 120 m that many countries allow. Check the rules, airspace and permissions for your place and date; this program does not know them.", ""},
		{"at the limit", with(func(l *shot.Leg) { l.Height = plantest.Level(120) }), nil, "", "Planned height"},
		{"just above it", with(func(l *shot.Leg) { l.Height = plantest.Level(120.02) }), nil, "Planned height 120.1 m is above the 120 m", ""},
		{"over a valley", with(func(l *shot.Leg) { l.Height, l.GroundM = plantest.Level(100), [2]float64{0, -50} }), nil, "Planned height 150 m is above the 120 m", ""},
		{"over a hill", with(func(l *shot.Leg) { l.Height, l.GroundM = plantest.Level(200), plantest.Level(100) }), nil, "", "Planned height"},
		{"own limit", hold, func(s *shot.Shot) { s.Settings.HeightCautionM = 30 }, "Planned height 40 m is above the 30 m of your settings. Check", ""},
		{"no setting", with(func(l *shot.Leg) { l.Height = plantest.Level(130) }), func(s *shot.Shot) { s.Settings.HeightCautionM = 0 }, "above the 120 m that", ""},
		{"by day", hold, nil, "", "Part of this flight"},
		{"twilight", hold, func(s *shot.Shot) { s.TakeOff = time.Date(2026, 9, 18, 18, 40, 0, 0, time.UTC) }, "Part of this flight is in twilight", "optics"},
		{"landing after sunset", hold, func(s *shot.Shot) {
			s.TakeOff, s.TransitS = time.Date(2026, 9, 18, 18, 20, 0, 0, time.UTC), 1200
		}, "Part of this flight is in twilight", ""},
		{"night", hold, func(s *shot.Shot) { s.TakeOff = time.Date(2026, 9, 18, 20, 30, 0, 0, time.UTC) }, "Part of this flight is at night", ""},
		{"far", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds = shot.Push, 10, 60 }), nil, "The flight goes 600 m away (leg 1): keep the aircraft in unaided sight.", ""},
		{"near", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds = shot.Push, 10, 50 }), nil, "", "unaided"},
		{"long", with(func(l *shot.Leg) { l.Seconds = 600 }), nil,
			"The flight takes 35.3 minutes with all takes, and a battery lasts 21 with its reserve: take 2 batteries, or fewer takes. Turn for home while 25 % of the battery is left.", ""},
		{"too far out", with(func(l *shot.Leg) { l.Seconds = 600 }), func(s *shot.Shot) { s.TransitS = 1500 }, "Out and home alone takes 25 minutes, and a battery lasts 21 with its reserve.", ""},
		{"no reserve set", hold, func(s *shot.Shot) { s.Settings.ReservePct = 0 }, "Keep a reserve of battery", ""},
		{"cold", hold, func(s *shot.Shot) { s.Light.AirC = -3 }, "At -3 °C a battery lasts about 13 % less", ""},
		{"cool", hold, func(s *shot.Shot) { s.Light.AirC = 10 }, "", "°C"},
		{"wind", hold, func(s *shot.Shot) { s.Light.WindMS = 11 }, "Wind of 11 m/s", ""},
		{"home against it", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds, l.Heading.From = shot.Push, 5, 60, 90 }), func(s *shot.Shot) { s.Light.WindMS, s.Light.WindFromDeg = 7, 270 },
			"the way home is against 7 m/s from the W", ""},
		{"home with it", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds, l.Heading.From = shot.Push, 5, 60, 270 }), func(s *shot.Shot) { s.Light.WindMS, s.Light.WindFromDeg = 7, 270 },
			"", "way home"},
		// Wind from the west blows towards 90°; a way out counts as downwind within 60° of that, where half of it is.
		{"home half against it", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds, l.Heading.From = shot.Push, 5, 60, 90+55 }), func(s *shot.Shot) { s.Light.WindMS, s.Light.WindFromDeg = 7, 270 },
			"the way home is against 7 m/s from the W", ""},
		{"home across it", with(func(l *shot.Leg) { l.Move, l.SpeedMS, l.Seconds, l.Heading.From = shot.Push, 5, 60, 90-65 }), func(s *shot.Shot) { s.Light.WindMS, s.Light.WindFromDeg = 7, 270 },
			"", "way home"},
		{"gimbal", with(func(l *shot.Leg) { l.Pitch = plantest.Level(35) }), nil, "Leg 1 asks for a pitch outside the gimbal's -90° to +20°.", ""},
		{"propellers", with(func(l *shot.Leg) { l.Pitch = plantest.Level(12) }), nil, "Leg 1 looks up by more than 10°: propellers", ""},
		{"past it", with(func(l *shot.Leg) {
			l.Move, l.SpeedMS, l.PitchAuto, l.Target = shot.Push, 10, true, &shot.Target{DistanceM: 80}
		}), nil, "Leg 1 goes past where the camera can look at the subject.", ""},
		{"up to it", with(func(l *shot.Leg) {
			l.Move, l.SpeedMS, l.PitchAuto, l.Target = shot.Push, 10, true, &shot.Target{DistanceM: 100}
		}), nil, "", "past where"},
		{"higher than the gimbal", with(func(l *shot.Leg) { l.PitchAuto, l.Target = true, &shot.Target{DistanceM: 50, HeightM: 90} }), nil, "Leg 1 goes past where the camera can look", ""},
		{"pull", with(func(l *shot.Leg) { l.Move, l.SpeedMS = shot.Pull, 2 }), nil, "Leg 1 flies where the camera does not look", ""},
		{"into the sun", with(func(l *shot.Leg) { l.Heading.From = 255 }), func(s *shot.Shot) { s.TakeOff = time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC) },
			"The sun stands in the picture on leg 1. Never look at the sun through optics.", ""},
	} {
		l := c.leg
		l.Mode = plantest.Camera().Modes[0]
		s := calmShot(l)
		if c.shot != nil {
			c.shot(s)
		}
		got := cautionsOf(s)
		if !strings.Contains(got, c.says) {
			t.Errorf("%s: nothing says %q in\n%s", c.name, c.says, got)
		}
		if c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s: %q in\n%s", c.name, c.not, got)
		}
		if strings.Contains(strings.ToLower(got), "legal") {
			t.Errorf("%s: a judgement of law in\n%s", c.name, got)
		}
	}
}

func TestLegsAreNamed(t *testing.T) {
	path := []shot.Moment{{Leg: 0}, {Leg: 0}, {Leg: 1}, {Leg: 2}, {Leg: 3}}
	for want, in := range map[string][]int{"": {}, "leg 1": {0}, "legs 1 and 3": {0, 2}, "legs 1, 2 and 4": {0, 1, 3}} {
		if got := legsWhere(path, func(m shot.Moment) bool { return slices.Contains(in, m.Leg) }); got != want {
			t.Errorf("%v: %q, want %q", in, got, want)
		}
	}
}
