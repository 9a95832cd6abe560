package field

import (
	"strings"
	"testing"
)

func TestNudge(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for _, c := range []struct {
		path  string
		steps int
		want  string
	}{
		{"legs[0].speed_ms", 1, "4.5"},
		{"legs[0].speed_ms", 2, "5"},
		{"legs[0].speed_ms", -100, "0"}, // held at the range
		{"legs[0].height_m", 10000, "500"},
		{"legs[2].height_m", 5, "45 65"},
		{"legs[2].height_m", -50, "0 10"},
		{"legs[3].pitch_deg", 6, "1"},
		{"place.lat", 1, "43.3867"},
		{"place.lon", 2, "-8.4045"},
		{"legs[1].heading_deg", 20, "25 115"}, // goes round
		{"legs[0].heading_deg", 15, "0"},
		{"legs[0].heading_deg", -58, "355"},
		{"legs[2].heading_deg", 2, "sun+90"},  // only who knows of the sun can turn it
		{"legs[3].heading_deg", 1, "NW"},      // has no next
		{"ring_deg", 1, "0"},                  // a word stands before the numbers
		{"ring_deg", 5, "60"},                 //
		{"ring_deg", -1, "345"},               // and behind them: 360 is 0
		{"legs[0].pitch_deg", -1, "-1"},       // from nothing: from 0
		{"legs[0].target.speed_ms", 1, "0.5"}, // in a map that holds other keys
		{"light.cloud_pct", -1, "5"},
		{"fps", 1, "25"}, // no step: a whole number moves by one
		{"shutter_s", 1, "1/50"},
		{"purpose", 1, "still"},
		{"purpose", -1, "long"},
		{"purpose", 7, "still"}, // one word at a time: three words have no coarse step
		{"purpose", -5, "long"},
		{"light.sun", 3, "shining"},
		{"legs[0].stills_too", 1, "true"},
		{"legs[2].stills_too", -1, "false"},
		{"legs[3].move", 1, "push"},
		{"gimbal_deg", 1, "-90 20"}, // no step
		{"name", 1, "Breakwater, evening"},
		{"marks", 1, "2 3 4.5"},
		{"fps", 0, "24"},
	} {
		e, faults := d.Nudge(c.path, c.steps, nil)
		if faults != nil {
			t.Errorf("%s by %d: %v", c.path, c.steps, faults)
		} else if got := e.At(c.path).Text(); got != c.want {
			t.Errorf("%s by %d is %q, want %q", c.path, c.steps, got, c.want)
		}
	}
	if _, faults := d.Nudge("moon", 1, nil); len(faults) != 1 {
		t.Error(faults)
	}
}

// A step of a third comes back to whole numbers, and decimals do not pile up.
func TestNudgeTidy(t *testing.T) {
	spec := &Spec{Kind: Map, Fields: []Spec{
		{Key: "bias", Kind: Number, Min: -4, Max: 4, Step: 1.0 / 3, Default: "0"},
		{Key: "tenth", Kind: Number, Min: 0, Max: 10, Step: 0.1},
		{Key: "stops", Kind: Number, Min: 0.1, Max: 24, Step: 1.0 / 3},
		{Key: "angle", Kind: Number, Unit: "°", Min: 1, Max: 360, Step: 45},
		{Key: "kelvin", Kind: Number, Min: 2500, Max: 10000, Step: 100, Words: []string{"daylight"}, Default: "daylight"},
		{Key: "relaxed", Kind: Word, Words: []string{"calm", "normal", "windy"}, Default: "normal"},
	}}
	d, faults := Read("x.yaml", []byte("tenth: 2.80\n"), spec)
	if faults != nil {
		t.Fatal(faults)
	}
	walk := func(path string, steps, count int) string {
		var seen []string
		e := d
		for range count {
			if e, faults = e.Nudge(path, steps, nil); faults != nil {
				t.Fatal(faults)
			}
			seen = append(seen, e.At(path).Text())
		}
		return strings.Join(seen, " ")
	}
	for _, c := range []struct {
		path         string
		steps, count int
		want         string
	}{
		{"bias", 1, 7, "0.33 0.67 1 1.33 1.67 2 2.33"},
		{"bias", -1, 4, "-0.33 -0.67 -1 -1.33"},
		{"bias", 3, 2, "1 2"},
		{"tenth", 1, 4, "2.9 3 3.1 3.2"},
		{"tenth", -14, 3, "1.4 0 0"},
		{"stops", 1, 4, "0.33 0.67 1 1.33"}, // from nothing into the thirds, not from the end of the range
		{"stops", -1, 2, "0.1 0.1"},
		{"stops", 100, 2, "24 24"},
		{"angle", 1, 3, "45 90 135"},
		{"kelvin", 1, 2, "2500 2600"},
		{"kelvin", -1, 2, "10000 9900"},
		{"relaxed", 1, 2, "windy calm"},
		{"relaxed", -1, 2, "calm windy"},
	} {
		if got := walk(c.path, c.steps, c.count); got != c.want {
			t.Errorf("%s by %d: %s, want %s", c.path, c.steps, got, c.want)
		}
	}
}

// There and back again is where it started, away from the ends of the range.
func TestNudgeBack(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for _, path := range []string{"legs[0].speed_ms", "legs[2].height_m", "place.lat", "legs[1].heading_deg", "purpose", "legs[2].stills_too", "light.cloud_pct"} {
		there, faults := d.Nudge(path, 1, nil)
		if faults != nil {
			t.Fatal(path, faults)
		}
		back, faults := there.Nudge(path, -1, nil)
		if faults != nil || string(back.Bytes()) != string(d.Bytes()) {
			t.Errorf("%s: %q, %v", path, back.At(path).Text(), faults)
		}
	}
}

// What the table does not know, the caller brings along: steps along marks, the names in another
// document, what holds where nothing is written.
func TestNudgeSteps(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	steps := &Steps{
		Move: func(path string, row *Spec, text string, n int) (string, bool) {
			switch {
			case row.Key == "heading_deg" && text == "NW":
				return "NE", true
			case row.Key == "shutter_s":
				return map[int]string{1: "1/48", -1: "1/60"}[n], true
			}
			return "", false
		},
		Words: func(path string, row *Spec) []string {
			if path == "name" {
				return []string{"ebb", "flow"}
			}
			return nil
		},
		Start: func(path string, row *Spec) string {
			if path == "legs[0].pitch_deg" {
				return "-20"
			}
			return ""
		},
	}
	for _, c := range []struct {
		path string
		n    int
		want string
	}{
		{"legs[3].heading_deg", 1, "NE"},
		{"legs[0].heading_deg", 1, "290"}, // the table's step
		{"legs[1].heading_deg", 1, "290 20"},
		{"shutter_s", 1, "1/48"},
		{"shutter_s", 2, "1/50"}, // cannot move
		{"name", 1, "ebb"},
		{"name", -1, "flow"},
		{"legs[0].pitch_deg", 1, "-19"},
		{"legs[3].pitch_deg", 1, "-4"}, // it is written
		{"purpose", 1, "still"},
	} {
		e, faults := d.Nudge(c.path, c.n, steps)
		if faults != nil {
			t.Errorf("%s by %d: %v", c.path, c.n, faults)
		} else if got := e.At(c.path).Text(); got != c.want {
			t.Errorf("%s by %d is %q, want %q", c.path, c.n, got, c.want)
		}
	}
}

// A text that is being typed moves before it stands in the document.
func TestNudgeText(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for _, c := range []struct {
		path, text string
		n          int
		want       string
		moved      bool
	}{
		{"legs[2].height_m", " [10, 20] ", 3, "13 23", true},
		{"legs[2].height_m", "10", 3, "13", true},
		{"legs[2].height_m", "10 x", 3, "10 x", false},
		{"legs[2].height_m", "500", 1, "500", true}, // it could, but this is the end of the range
		{"legs[3].pitch_deg", "−5", 1, "-4", true},
		{"gimbal_deg", "-90 20", 1, "-90 20", false},
		{"purpose", "vid", 1, "video", true},
		{"purpose", "vid", -1, "long", true},
		{"place.zone", "UTC", 1, "UTC", false},
		{"marks", "2 3", 1, "2 3", false},
		{"moon", "1", 1, "1", false},
		{"fps", "24", 0, "24", false},
	} {
		if got, moved := d.NudgeText(c.path, c.text, c.n, nil); got != c.want || moved != c.moved {
			t.Errorf("%s %q by %d: %q, %v", c.path, c.text, c.n, got, moved)
		}
	}
}
