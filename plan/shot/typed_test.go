package shot

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit/field"
)

func TestTyped(t *testing.T) {
	text := withLeg("move: push, heading_deg: 285, seconds: 25, speed_ms: 4")
	now := time.Date(2026, 9, 18, 17, 52, 40, 0, time.UTC)
	for _, c := range []struct{ path, takeOff, text, want, said string }{
		{"take_off", "2026-09-18T19:40:00", "20:10", "2026-09-18T20:10", "on 2026-09-18"},
		{"take_off", "2026-09-18 19:40", "8.05", "2026-09-18T08:05", "on 2026-09-18"},
		{"take_off", "2026-09-18T19:40Z", "20:10", "2026-09-18T20:10Z", "on 2026-09-18"},            // a clock of the author's
		{"take_off", "2026-10-25T02:30+02:00", "20:10", "2026-10-25T20:10", "on 2026-10-25"},        // the place's own
		{"take_off", "2026-10-25T02:30+02:00", "2026-09-19", "2026-09-19T02:30", "at 02:30"},        //
		{"take_off", "2026-09-18T19:40:00", "+10", "2026-09-18T20:02:00", "10 min from now, 20:02"}, // 19:52 in Madrid
		{"take_off", "2026-09-18T19:40:00", "now+10", "2026-09-18T20:02:00", "10 min from now, 20:02"},
		{"take_off", "2026-09-18T19:40:00", "now", "2026-09-18T19:52:00", "now, 19:52"},
		{"take_off", "2026-09-18T19:40:00", "-5", "2026-09-18T19:47:00", "5 min ago, 19:47"},
		{"take_off", "2026-09-18T19:40:00", "2026-09-19 07:05", "2026-09-19 07:05", ""},
		{"take_off", "2026-09-18T19:40:00", "25:10", "25:10", ""},
		{"take_off", "2026-09-18T19:40:00", "+9999", "+9999", ""},
		{"legs[0].move", "", "orb", "orbit", ""},
		{"legs[0].move", "", "Tilt", "tilt", ""},
		{"legs[0].move", "", "p", "p", ""}, // push, pull or pan
		{"legs[0].move", "", "pu", "pu", ""},
		{"legs[0].heading_deg", "", "300-60", "300 60", ""},
		{"legs[0].height_m", "", "400ft", "121.9", "400 ft = 121.9 m"},
		{"legs[0].speed_ms", "", "2,5", "2.5", ""},
		{"name", "", "20:10", "20:10", ""},
		{"nowhere", "", "x", "x", ""},
	} {
		card := cardOf(t, text)
		if c.takeOff != "" {
			var faults field.Faults
			if card, faults = card.Set("take_off", c.takeOff); card == nil {
				t.Fatal(faults)
			}
		}
		if got, said := card.Typed(c.path, c.text, testBag(), now); got != c.want || said != c.said {
			t.Errorf("%s %s, %q: %q, %q; want %q, %q", c.path, c.takeOff, c.text, got, said, c.want, c.said)
		}
	}
}

// What was understood stands when it is typed again, and the card takes what a time of day or a time from
// now becomes, unless clocks skip it or show it twice.
func FuzzTyped(f *testing.F) {
	for i, text := range []string{"20:10", "+10", "now", "-1440", "2026-10-25", "02:30", "2026-03-29", "orb", "300-60", "NW"} {
		f.Add(uint8(i), text)
	}
	card := cardOf(f, withLeg(fullLegs[1]))
	paths := []string{"take_off", "legs[0].move", "legs[0].heading_deg", "legs[0].height_m", "filter", "place.lat", "name"}
	now := time.Date(2026, 10, 24, 23, 10, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		path := paths[int(which)%len(paths)]
		plain, said := card.Typed(path, text, testBag(), now)
		next, faults := card.Set(path, plain)
		if next == nil {
			if path == "take_off" && said != "" && !strings.Contains(faults[0].Allowed, "year") && !strings.Contains(faults[0].Allowed, "calendar") {
				t.Fatalf("%q is understood as %q: %v", text, plain, faults)
			}
			return
		}
		if again, _ := next.Typed(path, plain, testBag(), now); again != plain {
			t.Fatalf("%s: %q is %q, and that %q", path, text, plain, again)
		}
	})
}
