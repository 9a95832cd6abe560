package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// ranges holds between what every number of an answer must lie, by its key, wherever in an answer it stands.
// Where nothing else is said the bound is ours: far beyond what is ever right, so that only a sum that went
// wrong passes it.
var ranges = map[string][2]float64{
	"off_stops": {0, 3},
	"azimuth":   {0, 360}, "altitude": {-90, 90}, "ring_deg": {0, 180}, "pass_axis_deg": {0, 180}, "own_best_ring_deg": {0, 180},
	"heading_deg": {-360 * 21, 360 * 21}, "pitch_deg": {-90, 90}, "sun_relative_deg": {-180, 180}, // at most 20 turns, and one to begin with
	"sun_altitude_deg": {-90, 90}, "sun_azimuth_deg": {0, 360},

	// Of polarised light a polariser passes at most twice what it passes of plain light: one stop, or the double
	// of a share (Malus). What it takes is bounded by its extinction alone.
	"effect_stops": {-12, 1}, "own_best_effect_stops": {-12, 1}, "sky_darker_stops": {-1, 12},
	"effect_swing_stops": {0, 13}, "polarisation_strength_stops": {0, 13}, "unevenness_stops": {0, 13}, "own_best_missed_stops": {0, 13},
	"glare_cut": {-1, 1}, "haze_cut": {-1, 1}, "own_best_glare_cut": {-1, 1},

	// The disc of the sun has 2e9 cd/m² above the air (from memory), which is EV 34; the full sun on the ground
	// has 133 klx at the most (from memory), which is EV 16 by an incident meter.
	"bare_cd_m2": {0, 2e9}, "sky_ev100": {-25, 34}, "land_ev100": {-25, 17}, "frame_ev100": {-45, 34},
	"loss_stops": {-0.01, 40}, "meter_stops": {-60, 60}, "drift_stops": {0, 40}, "short_stops": {-60, 60}, "headroom_stops": {-60, 60},
	"clipped_pct": {0, 100}, "buried_pct": {0, 100}, "level": {0, 1},

	"wb_k": {2000, 15000}, "shutter_angle_deg": {0.01, 360}, "setting_stops": {0, 12}, "bias_stops": {-8, 8},
	"flight_min": {0, 24 * 60}, "batteries": {1, 1000}, "light_left_min": {0, 3 * 24 * 60}, "light_change_stops": {-40, 40},
	"from_s": {0, 24 * 3600}, "to_s": {0, 24 * 3600}, "second": {0, 24 * 3600},
	"step_arcmin": {0, 180 * 60}, "subject_step_arcmin": {0, 180 * 60}, "blur_px": {0, 1e8}, "judder": {0, 1e4},
	"safe_shutter_s": {0, 120}, "burst_shutter_s": {0, 120}, "burst_frames": {1, 1000}, "frames_to_keep_one": {1, 1e6},
	"same": {0, 40}, "tried": {1, 40}, "count": {1, 53 * 24}, "width": {1, 8192}, "height": {1, 8192}, "legs": {0, 63}, "schema": {1, 1},
	"score": {-1e3, 1e3}, "value": {-1e3, 3 * 24 * 60}, "gain_stops": {-1e3, 1e3}, "lead_stops": {-1e3, 1e3}, "stops": {-1e3, 1e3},
}

// held walks an answer and returns what lies outside its range. Every exposure lies within the camera's.
func held(doc any, camera kit.Camera) (wrong []string) {
	const rounded = 1.01 // nominal shutters are rounded
	set := map[string][2]float64{
		"iso": {camera.ISO.Base, camera.ISO.Limit}, "aperture": camera.Aperture,
		"shutter_s": {camera.FastestS / rounded, camera.SlowestS * rounded},
	}
	var walk func(path, key string, v any, within map[string][2]float64)
	walk = func(path, key string, v any, within map[string][2]float64) {
		switch x := v.(type) {
		case map[string]any:
			for k, v := range x {
				walk(path+"."+k, k, v, within)
			}
		case []any:
			for i, v := range x {
				walk(fmt.Sprintf("%s[%d]", path, i), key, v, within)
			}
			if a, b, ok := pairOf(x); ok && a > b && key != "heading_deg" && key != "pitch_deg" && key != "sun_relative_deg" && key != "legs" && path[strings.LastIndex(path, ".")+1:] == key && !imageKeys[key] {
				wrong = append(wrong, fmt.Sprintf("%s from %g to %g", path, a, b))
			}
		case float64:
			r, ok := within[key]
			if !ok {
				r, ok = ranges[key]
			}
			switch {
			case !ok:
				wrong = append(wrong, path+" has no range: add one")
			case !(x >= r[0] && x <= r[1]):
				wrong = append(wrong, fmt.Sprintf("%s is %g, outside %g to %g", path, x, r[0], r[1]))
			}
		}
	}
	walk("", "", doc, set)
	return wrong
}

// imageKeys are lists over the pixels of a frame, not pairs.
var imageKeys = map[string]bool{"bare_cd_m2": true, "loss_stops": true}

func pairOf(x []any) (a, b float64, ok bool) {
	if len(x) != 2 {
		return 0, 0, false
	}
	a, ok1 := x[0].(float64)
	b, ok2 := x[1].(float64)
	return a, b, ok1 && ok2
}

// answers asks every command that takes a card for its numbers. A card is answered, or refused with its faults;
// there is nothing in between. It returns whether it was answered.
func answers(t *testing.T, text string, bag *kit.Bag) bool {
	t.Helper()
	answered := true
	for _, args := range [][]string{{"card"}, {"filters"}, {"hours"}, {"frame", "--second", "0", "--size", "9x7"}} {
		var out, errs bytes.Buffer
		e := &env{in: strings.NewReader(text), out: &out, err: &errs, now: func() time.Time { return time.Unix(1789750000, 0) }}
		code := run(e, append(args, "--json", "-"))
		var doc any
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil || errs.Len() > 0 {
			t.Fatalf("%s: exit %d: %v: %s%s\n%s", args[0], code, err, out.String(), errs.String(), text)
		}
		if code == exitInvalid {
			p, _ := doc.(map[string]any)
			if list, _ := p["faults"].([]any); len(list) == 0 && !isBag([]byte(text)) {
				t.Fatalf("%s: refused without a fault: %s\n%s", args[0], out.String(), text)
			}
			answered = false
			continue
		}
		if code != exitDone || !answered {
			t.Fatalf("%s: exit %d, refused by another command %v: %s\n%s", args[0], code, !answered, out.String(), text)
		}
		var camera kit.Camera
		if c, _ := shot.ReadCard("card.yaml", []byte(text)); c != nil {
			camera, _ = bag.CameraByName(c.Doc.At("camera").Text())
		}
		if wrong := held(doc, camera); len(wrong) > 0 {
			t.Fatalf("%s: %s\n%s", args[0], strings.Join(wrong[:min(len(wrong), 20)], "\n"), text)
		}
	}
	return answered
}

// Whatever a card may say, every number of every answer is finite (JSON has no other) and lies in its physical
// range and in that of the camera.
func TestEveryNumberIsInItsRange(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	r, bag := rand.New(rand.NewPCG(20, 26)), kit.Generic()
	const cards = 16
	valid := 0
	for range cards {
		if answers(t, anyCard(r, bag), bag) {
			valid++
		}
	}
	if valid < cards*3/4 {
		t.Errorf("only %d of %d cards were answered", valid, cards)
	}
}

// The test of ranges sees what it is there for.
func TestHeldFindsWhatIsWrong(t *testing.T) {
	camera := kit.Generic().Cameras[0]
	for _, c := range []struct{ text, want string }{
		{`{"call": {"iso": 1e9}}`, "call.iso"}, {`{"call": {"shutter_s": 900}}`, "call.shutter_s"}, {`{"call": {"aperture": 1}}`, "aperture"},
		{`{"legs": [{"glare_cut": [0, 1.5]}]}`, "glare_cut[1]"}, {`{"legs": [{"glare_cut": [0.5, 0.1]}]}`, "from 0.5 to 0.1"},
		{`{"call": {"ring_deg": 200}}`, "ring_deg"}, {`{"new_key": 3}`, "no range"}, {`{"legs": [{"short_stops": 0, "iso": [100, 1e9]}]}`, "iso[1]"},
	} {
		var doc any
		if err := json.Unmarshal([]byte(c.text), &doc); err != nil {
			t.Fatal(err)
		}
		if wrong := held(doc, camera); len(wrong) != 1 || !strings.Contains(wrong[0], c.want) {
			t.Errorf("%s: %q", c.text, wrong)
		}
	}
	if wrong := held(map[string]any{"call": map[string]any{"iso": 100., "ring_deg": 15., "shutter_s": 1. / 8000}}, camera); len(wrong) > 0 {
		t.Error(wrong)
	}
}

// From any text to all four answers: no panic, no number out of its range, refused with faults or answered. An
// answer takes its time, so a longer run wants -fuzzminimizetime 5x.
func FuzzAnswers(f *testing.F) {
	f.Setenv("XDG_CONFIG_HOME", f.TempDir())
	bag := kit.Generic()
	files, err := filepath.Glob("../../examples/[0-9]*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal(err)
	}
	for _, name := range files[:2] {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		f.Add(anyCard(r, bag))
	}
	f.Add("skywedge_bag: 1\n")
	f.Fuzz(func(t *testing.T, text string) { answers(t, text, bag) })
}

// Of any command line that reads no file: no panic, an exit code of the contract, nothing hidden on its way out,
// JSON when it is asked for, and numbers that JSON can say.
func FuzzCommandLine(f *testing.F) {
	for _, line := range []string{
		"sun\n--at\n43,-8\n--when\n2026-09-18T19:40Z\n--json", "sun\n--at\n90,180\n--when\nnow+10\n--zone\nEurope/Madrid",
		"sky\n--sun\n90,10\n--toward\n0,80\n--aod\n0\n--json", "sky\n--at\n1,1\n--when\n2026-10-25T02:30\n--zone\nEurope/Madrid",
		"sky\n--sun=0,-18\n--cloud=100\n--visibility=1\n--ground=snow\n--json", "fields\nbag", "help\ncard", "sky\n--\n--json", "sun\n--json\n--\x1b[2J",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		args := strings.Split(line, "\n")
		if !strings.Contains(" sun sky fields help ", " "+args[0]+" ") {
			args = append([]string{"sky"}, args...)
		}
		var out, errs bytes.Buffer
		e := &env{in: strings.NewReader(""), out: &out, err: &errs, now: func() time.Time { return time.Unix(1789750000, 0) }, columns: 60}
		code := run(e, args)
		if code != exitDone && code != exitUsage {
			t.Fatalf("%q: exit %d: %s%s", args, code, out.String(), errs.String())
		}
		if text := out.String() + errs.String(); strings.ContainsFunc(text, func(r rune) bool { return r != '\n' && (r < ' ' || hidden(r)) }) {
			t.Fatalf("%q: %q", args, text)
		}
		if code == exitUsage && out.Len()+errs.Len() == 0 || code == exitUsage && out.Len() > 0 && !json.Valid(out.Bytes()) {
			t.Fatalf("%q: %s%s", args, out.String(), errs.String())
		}
		if out.Len() > 0 && out.Bytes()[0] == '{' {
			if !json.Valid(out.Bytes()) {
				t.Fatalf("%q: %s", args, out.String())
			}
		} else if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") {
			t.Fatalf("%q: %s", args, out.String())
		}
	})
}

func FuzzPixels(f *testing.F) {
	for _, s := range []string{"1920x1080", "8192x2048", "0x0", "x", "1e3x4", "4294967297x4294967297"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, h, err := pixels(text)
		if err == nil && (w < 1 || h < 1 || w > frameMost || h > frameMost || w*h > framePixels) {
			t.Fatalf("%q is %d by %d", text, w, h)
		}
	})
}

func FuzzPair(f *testing.F) {
	for _, s := range []string{"43,-8", "NaN,0", "1e400,0", "0x1p3,1", " 1 , 2 ", ",", "1,2,3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if lat, lon, err := placed(text); err == nil && !(math.Abs(lat) <= 90 && math.Abs(lon) <= 180) {
			t.Fatalf("%q is %g, %g", text, lat, lon)
		}
		if az, alt, err := bearing(text, -18); err == nil && !(math.Abs(az) <= 360 && alt >= -18 && alt <= 90) {
			t.Fatalf("%q is %g, %g", text, az, alt)
		}
	})
}
