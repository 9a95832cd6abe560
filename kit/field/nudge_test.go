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
		{"legs[0].heading_deg", 15, "360"},
		{"legs[0].heading_deg", -58, "355"},
		{"legs[2].heading_deg", 2, "sun+100"},
		{"legs[2].heading_deg", -18, "sun"},
		{"legs[2].heading_deg", -20, "sun-10"},
		{"legs[3].heading_deg", 1, "NW"},      // has no next
		{"ring_deg", 1, "15"},                 // from a word: the default is one, so from 0
		{"legs[0].pitch_deg", -1, "-1"},       // from nothing: the end of the range nearest to 0
		{"legs[0].target.speed_ms", 1, "0.5"}, // in a map that holds other keys
		{"light.cloud_pct", -1, "5"},
		{"fps", 1, "25"}, // no step: a whole number moves by one
		{"shutter_s", 1, "1/50"},
		{"purpose", 1, "still"},
		{"purpose", -1, "long"},
		{"purpose", 7, "still"},
		{"light.sun", 3, "auto"},
		{"legs[0].stills_too", 1, "true"},
		{"legs[2].stills_too", -1, "false"},
		{"legs[3].move", 1, "push"},
		{"gimbal_deg", 1, "-90 20"}, // no step
		{"name", 1, "Breakwater, evening"},
		{"marks", 1, "2 3 4.5"},
		{"fps", 0, "24"},
	} {
		e, faults := d.Nudge(c.path, c.steps)
		if faults != nil {
			t.Errorf("%s by %d: %v", c.path, c.steps, faults)
		} else if got := e.At(c.path).Text(); got != c.want {
			t.Errorf("%s by %d is %q, want %q", c.path, c.steps, got, c.want)
		}
	}
	if _, faults := d.Nudge("moon", 1); len(faults) != 1 {
		t.Error(faults)
	}
}

// A step of a third comes back to whole numbers, and decimals do not pile up.
func TestNudgeTidy(t *testing.T) {
	spec := &Spec{Kind: Map, Fields: []Spec{
		{Key: "bias", Kind: Number, Min: -4, Max: 4, Step: 1.0 / 3, Default: "0"},
		{Key: "tenth", Kind: Number, Min: 0, Max: 10, Step: 0.1},
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
			if e, faults = e.Nudge(path, steps); faults != nil {
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
	for _, path := range []string{"legs[0].speed_ms", "legs[2].height_m", "place.lat", "legs[1].heading_deg", "legs[2].heading_deg", "purpose", "legs[2].stills_too", "light.cloud_pct"} {
		there, faults := d.Nudge(path, 1)
		if faults != nil {
			t.Fatal(path, faults)
		}
		back, faults := there.Nudge(path, -1)
		if faults != nil || string(back.Bytes()) != string(d.Bytes()) {
			t.Errorf("%s: %q, %v", path, back.At(path).Text(), faults)
		}
	}
}
