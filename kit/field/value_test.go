package field

import (
	"reflect"
	"testing"
)

func TestValues(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for path, want := range map[string]string{
		"version": "1", "name": "Breakwater, evening", "place.lat": "43.3857", "take_off": "2026-09-18T19:40:00", "shutter_s": "1/50",
		"legs[1].heading_deg": "285 15", "legs[1].heading_deg[1]": "15", "legs[2].height_m": "40 60", "marks": "2 3 4.5",
		"skyline": "[250, 4], [290, 9]", "skyline[1][0]": "290", "notes": "Park by the slip.\n\nTwo batteries.",
		"light": "", "legs": "", "legs[9].seconds": "", "fps.of": "", "nowhere": "", "legs[": "",
	} {
		v := d.At(path)
		if got := v.Text(); got != want || v.Path() != path {
			t.Errorf("%s holds %q at %s, want %q", path, got, v.Path(), want)
		}
		if exists := v.Exists(); exists != (want != "" || path == "light") && path != "legs" {
			t.Errorf("%s exists: %v", path, exists)
		}
	}
	if got := d.At("shutter_s").Float(7); got != 0.02 {
		t.Errorf("1/50 is %v", got)
	}
	for path, want := range map[string]float64{"ring_deg": 7, "nowhere": 7, "legs[1].heading_deg": 7, "light": 7, "fps": 24} {
		if got := d.At(path).Float(7); got != want {
			t.Errorf("%s is %v, want %v", path, got, want)
		}
	}
	for path, want := range map[string][2]float64{"legs[1].heading_deg": {285, 15}, "legs[0].height_m": {35, 35}, "legs[3].height_m": {7, 7}, "gimbal_deg": {-90, 20}} {
		from, to := d.At(path).Pair(7)
		if got := [2]float64{from, to}; got != want {
			t.Errorf("%s is %v, want %v", path, got, want)
		}
	}
	from, to := d.At("legs[2].heading_deg").Texts()
	if from != "sun+90" || to != "sun+90" || d.At("legs[2].heading_deg").IsPair() {
		t.Error(from, to)
	}
	if from, to = d.At("legs[1].heading_deg").Texts(); from != "285" || to != "15" || !d.At("legs[1].heading_deg").IsPair() {
		t.Error(from, to)
	}
	if got, want := d.At("skyline").PairList(), [][2]float64{{250, 4}, {290, 9}}; !reflect.DeepEqual(got, want) {
		t.Error(got)
	}
	if d.At("nowhere").PairList() != nil || d.At("nowhere").Word("w") != "w" || d.At("purpose").Word("w") != "video" || d.At("legs").Len() != 4 || d.At("fps").Len() != 0 {
		t.Error("absent values")
	}
	if got, want := d.At("legs[1]").YAML(), "{move: orbit, heading_deg: [285, 15], seconds: 40, height_m: 40, target: {distance_m: 90, speed_ms: 3}}"; got != want {
		t.Error(got)
	}
}

func TestPositions(t *testing.T) {
	d := read(t, valid)
	for path, want := range map[string][2]int{
		"": {1, 1}, "name": {2, 7}, "legs": {5, 7}, "legs[0]": {5, 8}, "legs[0].seconds": {5, 46}, "legs[0].target.speed_ms": {5, 8}, "light.sun": {1, 1}, "legs[3]": {5, 7},
	} {
		line, column := d.At(path).Position()
		if got := [2]int{line, column}; got != want {
			t.Errorf("%s stands at %v, want %v", path, got, want)
		}
	}
	f := d.At("legs[0].seconds").Fault("2 s and 40 m at 4 m/s", "numbers that agree\x1b")
	if got, want := f.Error(), "card.yaml:5:46: legs[0].seconds: found 2 s and 40 m at 4 m/s; allowed: numbers that agree\x1b"; got != want {
		t.Error(got)
	}
}

func TestSpecAt(t *testing.T) {
	d := read(t, valid)
	for path, want := range map[string]string{"name": "name", "legs[7].target.speed_ms": "speed_ms", "legs[0].heading_deg[1]": "", "marks[2]": "", "skyline[1][1]": ""} {
		if s := d.SpecAt(path); s == nil || s.Key != want {
			t.Errorf("%s is governed by %v", path, s)
		}
	}
	for _, path := range []string{"moon", "legs.move", "name[0]", "legs[x]", "legs[-1]", "legs[0", "legs[0]x", ".name", "name.", "legs[0].", "a..b", "legs[0].heading_deg[2]"} {
		if s := d.SpecAt(path); s != nil {
			t.Errorf("%s is governed by %v", path, s)
		}
	}
	if s := d.SpecAt("legs[0].heading_deg[1]"); s.Pair || s.Kind != Custom {
		t.Error(s)
	}
}

func TestEqual(t *testing.T) {
	d := read(t, valid)
	for text, want := range map[string]bool{
		valid: true,
		"# c\nname: 'x'\n" + valid[:11] + valid[19:]: true,
		valid + "fps: 24\n":                          false,
		valid[:17] + "y" + valid[18:]:                false,
	} {
		if e := read(t, text); d.Equal(e) != want || e.Equal(d) != want {
			t.Errorf("equal to %q: %v", text, d.Equal(e))
		}
	}
	if d.Equal(nil) || !(*Doc)(nil).Equal(nil) {
		t.Error("nil")
	}
}
