package shot

import (
	"math"
	"strings"
	"testing"
	"time"
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
}
