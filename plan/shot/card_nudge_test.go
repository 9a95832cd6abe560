package shot

import (
	"strings"
	"testing"
)

// nudgeCard has every kind of value that can move.
const nudgeCard = `skywedge: 1
name: Test
place: {lat: 43.3857, lon: -8.4065, zone: Europe/Madrid}
take_off: 2026-03-29T01:55
camera: wide
purpose: still   # for the legs too
shutter_s: 1/50
notes: a note
legs:
  - {move: push, heading_deg: 285, seconds: 25, speed_ms: 4}
  - {move: orbit, heading_deg: [330, 60], turn: cw, seconds: 3, target: {distance_m: 90, toward_deg: NW}}
  - {move: hold, heading_deg: sun+90, seconds: 10, purpose: long, exposure_s: 60}
flown:
  - {when: 2026-10-25T02:30:00+01:00, leg: 1, shutter_s: 1/8000}
`

// Where the table's own steps and those of a card could disagree, this is what a pilot expects.
func TestNudgeCard(t *testing.T) {
	c, bag := cardOf(t, nudgeCard), testBag()
	for _, n := range []struct {
		path string
		n    int
		want string
	}{
		{"take_off", 1, "2026-03-29T03:00"}, // the clocks go forward
		{"take_off", -1, "2026-03-29T01:50"},
		{"flown[0].when", 1, "2026-10-25T02:35:00+01:00"}, // and back
		{"place.lat", 1, "43.3867"},
		{"place.elevation_m", -1, "-10"}, // from the default
		{"camera", 1, "long lens"},
		{"camera", -1, "long lens"},
		{"filter", 1, "none"}, // from auto
		{"filter", -1, "ND16/PL"},
		{"filter", 5, "none"},
		{"mode", 1, "fast"},
		{"legs[0].mode", -1, "fast"},
		{"ring_deg", 1, "0"}, // 12 o'clock comes after auto
		{"ring_deg", -1, "345"},
		{"light.cloud_pct", 1, "20"},
		{"light.wind_from_deg", 1, "255"},
		{"light.sun", 1, "shining"},
		{"flight.takes", 1, "4"},
		{"bias_stops", 1, "0.33"},
		{"purpose", 1, "long"},
		{"legs[0].purpose", 1, "long"}, // from the card's, which holds
		{"legs[0].bias_stops", -2, "-0.67"},
		{"shutter_angle_deg", 1, "45"},
		{"shutter_s", 1, "1/48"}, // along the marks of a shutter
		{"shutter_s", -1, "1/60"},
		{"shutter_s", 3, "1/30"},
		{"legs[0].shutter_s", 1, "1/48"},
		{"legs[2].exposure_s", 1, "60"}, // beyond the marks
		{"legs[2].exposure_s", -1, "30"},
		{"legs[2].exposure_s", -2, "25"},
		{"exposure_s", 1, "1.3"},
		{"flown[0].shutter_s", -5, "1/8000"},
		{"legs[0].heading_deg", 1, "290"},
		{"legs[1].heading_deg", 6, "0 90"},
		{"legs[2].heading_deg", 1, "sun+95"},
		{"legs[2].heading_deg", -18, "sun"},
		{"legs[1].target.toward_deg", 1, "320"},
		{"legs[0].course_deg", -1, "355"},
		{"legs[0].move", 1, "pull"},
		{"legs[1].turn", 1, "ccw"},
		{"legs[0].turn", 1, "cw"},
		{"legs[1].seconds", -1, "1"},
		{"legs[0].stills_too", 1, "true"},
		{"flown[0].worked", 1, "yes"},
		// These do not move.
		{"name", 1, "Test"}, {"notes", 1, "a note"}, {"place.zone", 1, "Europe/Madrid"}, {"skywedge", 1, "1"}, {"skyline", 1, ""}, {"legs", 1, ""}, {"place", 1, ""},
	} {
		e, faults := c.Nudge(n.path, n.n, bag)
		if len(faults) > 0 {
			t.Errorf("%s by %d: %v", n.path, n.n, faults)
		} else if got := e.Doc.At(n.path).Text(); got != n.want {
			t.Errorf("%s by %d is %q, want %q", n.path, n.n, got, n.want)
		}
	}
	if next, faults := c.Nudge("moon", 1, bag); next != nil || len(faults) != 1 {
		t.Error("a field that is not there moves")
	}
}

// A nudge is an edit like any other: what means nothing any more goes.
func TestNudgeDropsToo(t *testing.T) {
	c := cardOf(t, nudgeCard)
	e, faults := c.Nudge("legs[0].move", -1, testBag())
	if len(faults) > 0 || e.Doc.At("legs[0]").YAML() != "{move: hold, heading_deg: 285, seconds: 25}" {
		t.Errorf("%s, %v", e.Doc.At("legs[0]").YAML(), faults)
	}
}

// There and back again is where it started, away from the ends of the range.
func TestNudgeCardBack(t *testing.T) {
	c, bag := cardOf(t, nudgeCard), testBag()
	for _, path := range []string{"take_off", "place.lon", "camera", "shutter_s", "legs[0].heading_deg", "legs[1].heading_deg", "legs[2].heading_deg", "legs[0].seconds", "legs[1].turn", "legs[0].speed_ms", "flown[0].when"} {
		for _, n := range []int{1, -1} {
			there, faults := c.Nudge(path, n, bag)
			if len(faults) > 0 || there == c {
				t.Fatal(path, faults)
			}
			back, faults := there.Nudge(path, -n, bag)
			if len(faults) > 0 || string(back.Bytes()) != string(c.Bytes()) {
				t.Errorf("%s: %q, %v", path, back.Doc.At(path).Text(), faults)
			}
		}
	}
}

func TestHolds(t *testing.T) {
	c := cardOf(t, nudgeCard)
	for _, h := range []struct {
		path, text string
		written    bool
	}{
		{"name", "Test", true}, {"legs[1].heading_deg", "330 60", true}, {"legs[2].purpose", "long", true},
		{"legs[0].purpose", "still", false}, {"legs[0].shutter_s", "1/50", false}, // the card's
		{"legs[0].aim", "water", false}, {"aim", "water", false}, {"legs[0].height_m", "40", false}, {"ring_deg", "auto", false}, // the default
		{"legs[0].target.speed_ms", "0", false}, {"legs[0].pitch_deg", "", false}, {"moon", "", false}, {"legs[0].moon", "", false},
	} {
		if text, written := c.Holds(h.path); text != h.text || written != h.written {
			t.Errorf("%s: %q, %v", h.path, text, written)
		}
	}
}

func TestChoices(t *testing.T) {
	c := cardOf(t, nudgeCard)
	for path, want := range map[string]string{
		"camera": "wide, long lens", "filter": "auto, none, CPL, ND8, ND16/PL", "mode": "normal, fast", "legs[1].turn": "cw, ccw",
		"legs[0].stills_too": "false, true", "purpose": "video, still, long", "name": "", "moon": "",
	} {
		if got := strings.Join(c.Choices(path, testBag()), ", "); got != want {
			t.Errorf("%s: %s", path, got)
		}
	}
	if got := c.Choices("camera", nil); len(got) > 0 {
		t.Errorf("of no bag %v", got)
	}
}
