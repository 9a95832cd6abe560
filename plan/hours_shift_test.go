package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/internal/angle"
)

const sunCard = head + `legs:
  - {move: push, heading_deg: sun+90, seconds: 25, speed_ms: 4, height_m: 35, target: {distance_m: 180}}
  - {move: pan, heading_deg: [sun-30, 40], turn: cw, seconds: 40, height_m: 40}
  - {move: orbit, heading_deg: [sun-40, sun+50], seconds: 60, height_m: 40, target: {distance_m: 90}}
  - {move: hold, heading_deg: 285, seconds: 10, height_m: 40}
`

// A shot at another time is what the card with that take-off is.
func TestShotAtIsTheCardThen(t *testing.T) {
	s := shotOf(t, sunCard)
	line := "take_off: "
	from := strings.Index(sunCard, line) + len(line)
	to := from + strings.IndexByte(sunCard[from:], '\n')
	for _, when := range []string{"2026-06-01T06:10:00", "2026-09-18T13:00:00", "2026-12-24T16:20:00"} {
		want := shotOf(t, sunCard[:from]+when+sunCard[to:])
		got, err := s.At(want.TakeOff)
		if err != nil {
			t.Fatal(err)
		}
		if !got.TakeOff.Equal(want.TakeOff) {
			t.Errorf("take-off %v, want %v", got.TakeOff, want.TakeOff)
		}
		for i := range want.Legs {
			a, b := got.Legs[i], want.Legs[i]
			a.wrote, b.wrote, a.Target, b.Target = nil, nil, nil, nil
			// Courses go by the heading that the card was read with, to a rounding.
			if math.Abs(a.CourseDeg-b.CourseDeg) < 1e-9 {
				a.CourseDeg = b.CourseDeg
			}
			if a.Heading != b.Heading || a.SpeedMS != b.SpeedMS || a.CourseDeg != b.CourseDeg || a.Pitch != b.Pitch || a.HeadingOff != b.HeadingOff {
				t.Errorf("%s, leg %d:\n%+v, want\n%+v", when, i+1, a, b)
			}
		}
	}
	if again := shotOf(t, sunCard); again.Legs[0].Heading != s.Legs[0].Heading || again.Legs[1].Heading != s.Legs[1].Heading {
		t.Error("the shot itself was changed")
	}
}

// What fits at one hour may not at another: the orbit must not be flown faster than it can be.
func TestShotAtContradicts(t *testing.T) {
	s := shotOf(t, withLeg("move: orbit, heading_deg: [sun+10, 300], turn: cw, seconds: 9, height_m: 40, target: {distance_m: 150}"))
	good, bad := 0, 0
	for h := range 24 {
		at := time.Date(s.TakeOff.Year(), s.TakeOff.Month(), s.TakeOff.Day(), h, 0, 0, 0, s.Zone)
		z, err := s.At(at)
		if err == nil {
			if good++; z.Legs[0].SpeedMS > maxSpeedMS {
				t.Errorf("%d h: %.0f m/s", h, z.Legs[0].SpeedMS)
			}
			continue
		}
		if bad++; !strings.Contains(err.Error(), "leg 1: seconds") {
			t.Errorf("%d h: %v", h, err)
		}
	}
	if good == 0 || bad == 0 {
		t.Errorf("%d hours fit, %d do not", good, bad)
	}
	h := hoursOf(t, s, OverDay)
	unfit := 0
	for i := range h.Cells {
		if c := &h.Cells[i]; c.State == HourUnfit {
			unfit++
			if !strings.Contains(c.StateWords(HourScore), "does not fit") || math.IsNaN(c.Values[HourSun]) {
				t.Errorf("%+v", c)
			}
		}
	}
	if unfit == 0 {
		t.Error("no hour of the day is unfit")
	}
}

// A leg made by hand follows the sun too.
func TestShotAtByHand(t *testing.T) {
	s := flight(9, 0, push(0, 4, 40))
	l := &s.Legs[0]
	l.HeadingSun, l.HeadingOff = [2]bool{true, true}, [2]float64{90, 90}
	z, err := s.At(s.TakeOff.Add(3 * time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	k := newTrack(z)
	if want := angle.Wrap360(k.sunAzimuth(0, 0) + 90); math.Abs(angle.Wrap180(z.Legs[0].Heading.From-want)) > 1e-9 {
		t.Errorf("heading %g, want %g", z.Legs[0].Heading.From, want)
	}
	if l.Heading.From != 0 {
		t.Error("the shot itself was changed")
	}
}
