package caution

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

func cautionsOf(s *shot.Shot) string { return strings.Join(Of(s, shot.Path(s, 9), 0), "\n") }

// calmShot returns no caution but those that always stand.
func calmShot(legs ...shot.Leg) *shot.Shot {
	s := plantest.Shot(legs...)
	s.TakeOff = time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC)
	s.Camera, s.Settings = plantest.Camera(), plantest.Bag().Settings
	s.Zone, _ = shot.LoadZone("Europe/Madrid")
	return s
}

func TestCautionsThatAlwaysStand(t *testing.T) {
	want := []string{
		"Turn for home while 25 % of the battery is left.",
		"Never look at the sun through optics.",
		"Check the rules, airspace and permissions for your place and date; this program does not know them.",
		"Power off before changing filters.",
	}
	s := calmShot(shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Heading: shot.Sweep{From: 0}, Height: plantest.Level(40)})
	if got := Of(s, shot.Path(s, 5), 0); !slices.Equal(got, want) {
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
	push := func(speedMS, heightM float64) shot.Leg {
		l := hold
		l.Move, l.SpeedMS, l.Height = shot.Push, speedMS, plantest.Level(heightM)
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
		{"fast and low", push(8.1, 9.9), nil, "Leg 1 is fast and low, over 8 m/s under 10 m. Look ahead, not at the screen, and keep the propellers clear of what stands up.", "spray"},
		{"fast and low over water", with(func(l *shot.Leg) { *l = push(12, 5); l.Ground = shot.Water }), nil,
			"Leg 1 is fast and low, over 8 m/s under 10 m. Look ahead, not at the screen; keep the propellers clear of waves and masts, and the lens of spray.", ""},
		{"at 8 m/s", push(8, 5), nil, "", "fast and low"},
		{"at 10 m", push(12, 10), nil, "", "fast and low"},
		{"low over a hill", with(func(l *shot.Leg) { *l = push(12, 40); l.GroundM = plantest.Level(31) }), nil, "Leg 1 is fast and low", ""},
		{"low over a valley", with(func(l *shot.Leg) { *l = push(12, 5); l.GroundM = plantest.Level(-6) }), nil, "", "fast and low"},
		{"down to it", with(func(l *shot.Leg) { *l = push(12, 5); l.Height = [2]float64{40, 8} }), nil, "Leg 1 is fast and low", ""},
		{"fast up, not along", with(func(l *shot.Leg) { l.Move, l.Climb, l.Height = shot.Rise, 9, [2]float64{2, 92} }), nil, "", "fast and low"},
		{"no reserve set", hold, func(s *shot.Shot) { s.Settings.ReservePct = 0 }, "Keep a reserve of battery", ""},
		{"cold", hold, func(s *shot.Shot) { s.Light.AirC = -3 }, "Cold, -3 °C: plan for a flight about 15 % shorter, and warm the battery before take-off.", ""},
		{"just cold enough for a figure", hold, func(s *shot.Shot) { s.Light.AirC = 0 }, "Cold, 0 °C: plan for a flight about 10 % shorter", ""},
		{"not cold enough for a figure", hold, func(s *shot.Shot) { s.Light.AirC = 0.1 }, "Cold, 0.1 °C: plan for a shorter flight, and", "shorter than"},
		{"fresh", hold, func(s *shot.Shot) { s.Light.AirC = 6 }, "Cold, 6 °C: plan for a shorter flight, and", ""},
		{"bitter", hold, func(s *shot.Shot) { s.Light.AirC = -30 }, "about 30 % shorter", ""},
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

// The rules are pointed to once, whatever there is to mind, and to power off stays the last.
func TestCautionsDeferToTheRules(t *testing.T) {
	hold := shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Height: plantest.Level(40)}
	high, far := hold, hold
	high.Height = plantest.Level(130)
	far.Move, far.SpeedMS, far.Seconds = shot.Push, 10, 60
	for name, legs := range map[string][]shot.Leg{"calm": {hold}, "high": {high}, "far": {far}, "all": {high, far}} {
		for _, hour := range []int{12, 18, 21} {
			s := calmShot(legs...)
			s.TakeOff = time.Date(2026, 9, 18, hour, 30, 0, 0, time.UTC)
			list := Of(s, shot.Path(s, 9), 0)
			if n := strings.Count(strings.Join(list, "\n"), checkRules); n != 1 || list[len(list)-1] != PowerOff {
				t.Errorf("%s at %d h: the rules %d times in %q", name, hour, n, list)
			}
		}
	}
}

// Straight down, on the equator at an equinox, the sun mirrored in level water stands as far from the middle of
// the picture as the sun stands from the zenith, and the shadow as far on the other side (plane geometry).
func TestStraightDownUnderAHighSun(t *testing.T) {
	for _, c := range []struct {
		ground shot.Ground
		says   string
	}{
		{shot.Water, "Straight down on leg 1, the disc of the sun's glitter and the aircraft's own shadow are in the picture"},
		{shot.Grass, "Straight down on leg 1, the aircraft's own shadow is in the picture"},
	} {
		var with, without int
		for minute := 0; minute < 300; minute += 5 {
			leg := shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Height: plantest.Level(40),
				Pitch: plantest.Level(-90), Heading: shot.Sweep{From: 70}, Ground: c.ground}
			s := calmShot(leg)
			s.LatDeg, s.LonDeg = 0, 0
			s.TakeOff = time.Date(2026, 9, 22, 7, minute, 0, 0, time.UTC)
			path := shot.Path(s, 2)
			w, h := shot.HalfField(s.Camera, leg.Mode, false)
			in := false
			for _, p := range path[0].Sun {
				off := math.Tan((90 - p.AltitudeDeg) * math.Pi / 180)
				sin, cos := math.Sincos((p.AzimuthDeg - 70) * math.Pi / 180)
				in = in || off*math.Abs(sin) <= w && off*math.Abs(cos) <= h
			}
			got := strings.Join(Of(s, path[:1], 0), "\n")
			if strings.Contains(got, c.says) != in || !in && strings.Contains(got, "Straight down") {
				t.Errorf("%s, sun at %.1f°: in the picture %v, said\n%s", c.ground, path[0].Sun[0].AltitudeDeg, in, got)
			}
			if in {
				with++
			} else {
				without++
			}
		}
		if with == 0 || without == 0 {
			t.Errorf("%s: %d with, %d without: no edge was crossed", c.ground, with, without)
		}
	}
}

// Of a view that is not quite straight down the glitter or the shadow may be in the picture alone; of a flat one, a
// hidden sun or a ridge nothing is said.
func TestGlitterOrShadowAlone(t *testing.T) {
	leg := shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Height: plantest.Level(40),
		Pitch: plantest.Level(-70), Ground: shot.Water}
	said := func(change func(s *shot.Shot)) string {
		l := leg
		s := calmShot(l)
		s.LatDeg, s.LonDeg, s.TakeOff = 0, 0, time.Date(2026, 9, 22, 9, 50, 0, 0, time.UTC) // sun 60° up in the east
		s.Legs[0].Heading = shot.Sweep{From: 90}
		change(s)
		return cautionsOf(s)
	}
	const down = "Straight down"
	for _, c := range []struct {
		name   string
		change func(s *shot.Shot)
		says   string
		not    string
	}{
		{"towards it", func(*shot.Shot) {}, "Straight down on leg 1, the disc of the sun's glitter is in", "shadow"},
		{"away from it", func(s *shot.Shot) { s.Legs[0].Heading.From = 270 }, "Straight down on leg 1, the aircraft's own shadow is in", "glitter"},
		{"one leg each", func(s *shot.Shot) {
			s.Legs = append(s.Legs, s.Legs[0])
			s.Legs[1].Heading.From = 270
		}, "Straight down, the disc of the sun's glitter is in the picture on leg 1, and the aircraft's own shadow on leg 2:", ""},
		{"at the edge of down", func(s *shot.Shot) { s.Legs[0].Pitch = plantest.Level(-60) }, down, ""},
		{"not down", func(s *shot.Shot) { s.Legs[0].Pitch = plantest.Level(-59.9) }, "", down},
		{"overcast", func(s *shot.Shot) { s.Light.CloudPct = 100 }, "", down},
		{"a ridge", func(s *shot.Shot) { s.Skyline = [][2]float64{{60, 80}, {90, 80}, {120, 80}} }, "", down},
		{"night", func(s *shot.Shot) { s.TakeOff = s.TakeOff.Add(12 * time.Hour) }, "", down},
	} {
		got := said(c.change)
		if !strings.Contains(got, c.says) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s: want %q and not %q in\n%s", c.name, c.says, c.not, got)
		}
	}
}

// A landing to change filters costs the way out and home again, and with it perhaps a battery.
func TestLandingsCostBatteries(t *testing.T) {
	s := calmShot(shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 300, Height: plantest.Level(40)})
	s.TransitS = 240
	one := s.Times()
	for landings := range 6 {
		minutes := one.Minutes + float64(landings)*4
		want := shot.BatteriesFor(minutes, 4, one.BatteryMin)
		got := batteryCaution(s, landings)
		if strings.Contains(got.short, fmt.Sprintf("%d batteries", want)) != (want > 1) ||
			want > 1 && !strings.Contains(got.text, fmt.Sprintf("takes %s minutes with all takes", field.Figure(math.Round(minutes*10)/10, 3))) {
			t.Errorf("%d landings, %g minutes, %d batteries: %q, %q", landings, minutes, want, got.short, got.text)
		}
	}
	if a, b := batteryCaution(s, 0).short, batteryCaution(s, 5).short; a == b {
		t.Errorf("five landings cost nothing: %q", a)
	}
	s.Legs[0].Height = plantest.Level(130)
	got := InShort(s, shot.Path(s, 9), 0)
	if !slices.Equal(got, []string{batteryCaution(s, 0).short, "130 m high: check the rules"}) {
		t.Errorf("in short: %q", got)
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
