package kit

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/skywedge/kit/field"
)

var update = flag.Bool("update", false, "write the texts of faults anew into testdata")

func TestGenericBag(t *testing.T) {
	b := Generic()
	c, ok := b.CameraByName("wide fixed 2.8")
	if !ok || len(b.Cameras) != 2 {
		t.Fatalf("cameras: %+v", b.Cameras)
	}
	want := Camera{
		Name: "wide fixed 2.8", SensorMM: [2]float64{12, 8}, Pixels: [2]int{4800, 3200}, VideoPixels: [2]int{3840, 2160},
		FocalMM: 7.94, Aperture: [2]float64{2.8, 2.8}, ISO: ISO{100, 400, 6400}, FastestS: 1. / 8000, SlowestS: 8,
		HighlightStops: 2.5, StillHighlightStops: 3,
		Modes: []Mode{
			{Name: "normal", FPS: []float64{24, 25, 30, 50, 60}, ISO: ISO{100, 400, 6400}, HighlightStops: 2.5, Crop: 1},
			{Name: "flat", FPS: []float64{24, 25, 30}, ISO: ISO{400, 800, 6400}, BiasStops: 1, HighlightStops: 3.5, Crop: 1},
			{Name: "fast", FPS: []float64{100, 120}, ISO: ISO{100, 200, 6400}, HighlightStops: 2.5, Crop: 1.3},
		},
		GimbalDeg: [2]float64{-90, 25}, ReadoutMS: 20, EnduranceMin: 26,
	}
	if !reflect.DeepEqual(c, want) {
		t.Errorf("camera\n got %+v\nwant %+v", c, want)
	}
	if m := c.Modes[1]; m.Name != "flat" || m.ISO.Clean != 800 {
		t.Errorf("mode flat: %+v %v", m, ok)
	}
	long := b.Cameras[1]
	if math.Abs(long.FocalMM-45*15.6/36) > 1e-9 || long.Aperture != [2]float64{4, 16} || long.Sharpest != [2]float64{5.6, 8} || long.Modes[1].ISO.Base != 320 {
		t.Errorf("second camera: %+v", long)
	}
	for name, stops := range map[string]float64{"CPL": 1.5, "ND8": 3, "ND16": 4, "ND32": 5, "ND64": 6, "ND1000": 9.97,
		"ND16/PL": 5.5, "ND32/PL": 6.5, "soft 1/4": diffusionLossStops} {
		f, ok := b.FilterByName(name)
		if !ok || math.Abs(f.TotalStops(0)-stops) > 1e-9 {
			t.Errorf("%s: %v, %v stops, want %v", name, ok, f.TotalStops(0), stops)
		}
	}
	v, _ := b.FilterByName("variable 1.6-5")
	if !v.OpensCW || v.FixedStops != 0 || !reflect.DeepEqual(v.Settings(), []float64{2, 3, 4, 5}) {
		t.Errorf("variable: %+v", v)
	}
	h, _ := b.FilterByName("ND16/PL")
	if h.CastMired != 12 || h.Ring != RingTurns || h.LossStops != 1.5 || h.Stops != 4 {
		t.Errorf("hybrid: %+v", h)
	}
	if b.Settings != settingsFrom(field.Value{}) {
		t.Errorf("settings: %+v", b.Settings)
	}
	if _, ok := b.FilterByName("nd8"); ok {
		t.Error("names are exact")
	}
	if !bytes.Equal(b.Doc.Bytes(), genericBag) {
		t.Error("the document does not give its own bytes back")
	}
}

func TestDefaultSettings(t *testing.T) {
	want := Settings{ReservePct: 25, LandingChangeS: 240, HeightCautionM: 120, ShutterToleranceDeg: [2]float64{90, 270},
		Steadiness: "normal", TravelKmh: 40, Weights: Weights{ISO: 1, Shutter: .7, Angle: .15, Blur: 2, Unevenness: 1, Swing: 1, Aim: 1.5,
			Clipped: .3, Buried: .2, Corners: 1, Cast: .2, SunOneSheet: .2, SunSheets: .5, Landing: 1}}
	if got := settingsFrom(field.Value{}); got != want {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

// camera is the least that a camera needs.
const camera = `skywedge_bag: 1
cameras:
  - {name: c, sensor_mm: [36, 24], pixels: [6000, 4000], focal_35_mm: 24, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}}
`

func mustRead(t *testing.T, text string) *Bag {
	t.Helper()
	b, faults := ReadBag("bag.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

func TestLeastBag(t *testing.T) {
	b := mustRead(t, camera)
	c := b.Cameras[0]
	if c.FocalMM != 24 || c.FastestS != 1./8000 || c.SlowestS != 8 || c.VideoPixels != [2]int{3840, 2160} ||
		c.HighlightStops != 2.5 || c.StillHighlightStops != 3 || c.GimbalDeg != [2]float64{-90, 20} || c.ReadoutMS != 20 || c.EnduranceMin != 28 {
		t.Errorf("%+v", c)
	}
	if m := c.Modes[0]; m.Name != "normal" || m.ISO != c.ISO || m.HighlightStops != 2.5 || m.Crop != 1 || len(m.FPS) != 5 {
		t.Errorf("a camera without modes has the usual one, got %+v", c.Modes)
	}
	if len(b.Filters) != 0 || b.Settings != settingsFrom(field.Value{}) {
		t.Errorf("%+v", b)
	}
	c.Modes[0].FPS[0] = 99
	if usualModes[0].FPS[0] != 24 {
		t.Error("two cameras share their frame rates")
	}
}

// What white is over middle grey: the camera's own, its modes' where they say so, and a raw still's. The
// fields can be edited like any other, and an absent one means its default.
func TestHighlights(t *testing.T) {
	const text = `skywedge_bag: 1
cameras:
  - name: c
    sensor_mm: [36, 24]
    pixels: [6000, 4000]
    focal_35_mm: 24
    aperture: 2.8
    iso: {base: 100, clean: 400, limit: 6400}
    highlight_stops: 2.2
    still_highlight_stops: 3.4
    modes:
      - {name: normal, fps: [24]}
      - {name: flat, fps: [24], highlight_stops: 3.5}
`
	got := func(b *Bag) [4]float64 {
		c := b.Cameras[0]
		return [4]float64{c.HighlightStops, c.StillHighlightStops, c.Modes[0].HighlightStops, c.Modes[1].HighlightStops}
	}
	b := mustRead(t, text)
	if want := [4]float64{2.2, 3.4, 2.2, 3.5}; got(b) != want {
		t.Errorf("%v, want %v", got(b), want)
	}
	for _, c := range []struct {
		path, text string
		want       [4]float64
	}{
		{"cameras[0].highlight_stops", "2.7", [4]float64{2.7, 3.4, 2.7, 3.5}},
		{"cameras[0].highlight_stops", "", [4]float64{2.5, 3.4, 2.5, 3.5}},
		{"cameras[0].still_highlight_stops", "", [4]float64{2.2, 3, 2.2, 3.5}},
		{"cameras[0].modes[0].highlight_stops", "4", [4]float64{2.2, 3.4, 4, 3.5}},
		{"cameras[0].modes[1].highlight_stops", "", [4]float64{2.2, 3.4, 2.2, 2.2}},
	} {
		d, faults := b.Doc.Set(c.path, c.text)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if now := got(mustRead(t, string(d.Bytes()))); now != c.want {
			t.Errorf("%s set to %q: %v, want %v", c.path, c.text, now, c.want)
		}
	}
	for path, allowed := range map[string]string{
		"cameras[0].highlight_stops": "a number from 0.5 to 10 stops", "cameras[0].still_highlight_stops": "a number from 0.5 to 10 stops",
		"cameras[0].modes[1].highlight_stops": "a number from 0.5 to 10 stops",
	} {
		for _, text := range []string{"0", "12", "-1", "much"} {
			if _, faults := b.Doc.Set(path, text); len(faults) != 1 || faults[0].Field != path || faults[0].Allowed != allowed {
				t.Errorf("%s set to %s: %v", path, text, faults)
			}
		}
	}
}

func TestSettingsAreRead(t *testing.T) {
	b := mustRead(t, camera+`settings:
  reserve_pct: 30
  shutter_tolerance_deg: [120, 200]
  viewing: uhd
  steadiness: windy
  weights: {aim: 2, landing: 0, sun_sheets: 0.75, angle: 0.3, clipped: 1, buried: 0}
`)
	s := b.Settings
	want := settingsFrom(field.Value{})
	want.ReservePct, want.ShutterToleranceDeg, want.ViewingUHD, want.Steadiness = 30, [2]float64{120, 200}, true, "windy"
	want.Weights.Aim, want.Weights.Landing, want.Weights.SunSheets = 2, 0, 0.75
	want.Weights.Angle, want.Weights.Clipped, want.Weights.Buried = 0.3, 1, 0
	if s != want {
		t.Errorf("got %+v\nwant %+v", s, want)
	}
}

// Every weight has its own field: a slip in the table would set one twice and one never.
func TestWeightsAreDistinct(t *testing.T) {
	var w Weights
	for i, r := range weightRows {
		*r.address(&w) = float64(i + 1)
	}
	v := reflect.ValueOf(w)
	if v.NumField() != len(weightRows) {
		t.Fatalf("%d weights, %d rows", v.NumField(), len(weightRows))
	}
	for i := range v.NumField() {
		if v.Field(i).Float() != float64(i+1) {
			t.Errorf("row %d does not set %s", i, v.Type().Field(i).Name)
		}
	}
}

func TestFilterDefaultsAndMeasurements(t *testing.T) {
	b := mustRead(t, camera+`filters:
  - {name: plain sheet, kind: polariser}
  - {name: measured glass, kind: density, stops: 6, measured_stops: 6.3, measured_on: 2026-03-02}
  - {name: measured both, kind: hybrid, stops: 4, loss_stops: 1.4, measured_stops: 5.7, mark_deg: 90}
  - {name: measured sheet, kind: polariser, loss_stops: 1.5, measured_stops: 1.3}
  - {name: undated haze, kind: diffusion, grade: 1, measured_stops: 0.2}
  - {name: heavy unit, kind: variable, from_stops: 6, to_stops: 9, marks: [6, 7, 8, 9], opens: ccw, ring: fixed, fixed_deg: 225}
  - {name: ends only, kind: variable, from_stops: 2, to_stops: 5}
  - {name: half stops, kind: variable, from_stops: 1.6, to_stops: 4, marks: [2, 3, 3.7], between: true}
  - {name: clicks, kind: polariser, ring: clicks, click_deg: 15, grade: 1/8}
`)
	get := func(name string) Filter {
		f, ok := b.FilterByName(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		return f
	}
	if f := get("plain sheet"); f.LossStops != 1.5 || f.Ring != RingTurns || !f.Polarises() || f.Settings()[0] != 0 {
		t.Errorf("%+v", f)
	}
	if f := get("measured glass"); f.Stops != 6.3 || f.MeasuredOn != "2026-03-02" || f.Ring != "" || f.Polarises() {
		t.Errorf("%+v", f)
	}
	if f := get("measured both"); math.Abs(f.Stops-4.3) > 1e-9 || f.LossStops != 1.4 || f.MarkDeg != 90 || math.Abs(f.TotalStops(0)-5.7) > 1e-9 {
		t.Errorf("%+v", f)
	}
	if f := get("measured sheet"); f.LossStops != 1.3 || f.TotalStops(0) != 1.3 {
		t.Errorf("%+v", f)
	}
	if f := get("undated haze"); f.Grade != "1" || f.TotalStops(0) != 0.2 {
		t.Errorf("%+v", f)
	}
	if f := get("heavy unit"); f.FixedStops != 4 || f.OpensCW || f.FixedDeg != 45 || f.Ring != RingFixed || f.TotalStops(8) != 8 {
		t.Errorf("%+v", f)
	}
	if f := get("ends only"); !reflect.DeepEqual(f.Settings(), []float64{2, 5}) {
		t.Errorf("%+v", f.Settings())
	}
	if f := get("half stops"); !reflect.DeepEqual(f.Settings(), []float64{1.6, 2, 2.5, 3, 3.5, 3.7, 4}) {
		t.Errorf("%+v", f.Settings())
	}
	if f := get("clicks"); f.ClickDeg != 15 || f.TotalStops(0) != 1.5+diffusionLossStops {
		t.Errorf("%+v", f)
	}
	for _, f := range b.Filters {
		for _, s := range f.Settings() {
			m := f.Mount(0, s)
			if got := m.onAxisStops(); math.Abs(got-f.TotalStops(s)) > 1e-6 {
				t.Errorf("%s at %v: says %v, loses %v", f.Name, s, f.TotalStops(s), got)
			}
		}
	}
}

// Between its ends a variable that may be set anywhere has every half stop, the first and the last
// included, with or without marks of its own.
func TestSettingsBetween(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		marks    []float64
		want     []float64
	}{
		{1.6, 4, nil, []float64{1.6, 2, 2.5, 3, 3.5, 4}},
		{1.5, 3, nil, []float64{1.5, 2, 2.5, 3}},
		{1.4, 2.6, nil, []float64{1.4, 1.5, 2, 2.5, 2.6}},
		{2, 3.2, []float64{2.8}, []float64{2, 2.5, 2.8, 3, 3.2}},
		{2.1, 2.4, nil, []float64{2.1, 2.4}},
	} {
		f := Filter{Kind: Variable, FromStops: c.from, ToStops: c.to, Marks: c.marks, Between: true}
		if got := f.Settings(); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%g to %g with marks %v: %v, want %v", c.from, c.to, c.marks, got, c.want)
		}
	}
}

// The two sheets of a variable take a stop between them at the least (half of plain light in the first,
// nothing in the second: Malus' law), so fixed density may take no more than the rest.
func TestFixedStopsLeaveRoomForTheSheets(t *testing.T) {
	for fixed, ok := range map[string]bool{"4.9": true, "5": true, "5.1": false, "5.2": false, "5.5": false} {
		_, faults := ReadBag("bag.yaml", []byte(camera+"filters:\n  - {name: unit, kind: variable, from_stops: 6, to_stops: 8, fixed_stops: "+fixed+"}\n"))
		if (len(faults) == 0) != ok {
			t.Errorf("fixed_stops %s: %v", fixed, faults)
		}
		for _, f := range faults {
			if f.Field != "filters[0].fixed_stops" || !strings.HasPrefix(f.Allowed, "at most 5 stops") {
				t.Errorf("fixed_stops %s: %v", fixed, f)
			}
		}
	}
}

// The text of every fault, bag by bag: testdata/bad/NAME.yaml gives NAME.txt.
func TestFaultTexts(t *testing.T) {
	files, _ := filepath.Glob("testdata/bad/*.yaml")
	if len(files) < 5 {
		t.Fatalf("only %d bad bags", len(files))
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		b, faults := ReadBag(filepath.Base(file), data)
		if len(faults) == 0 {
			t.Errorf("%s is not bad", file)
			continue
		}
		if b != nil && len(b.Cameras)+len(b.Filters) > 0 {
			t.Errorf("%s: a bag with faults must not be used", file)
		}
		got := faults.Error() + "\n"
		golden := strings.TrimSuffix(file, ".yaml") + ".txt"
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s\ngot\n%swant\n%s", file, got, want)
		}
	}
}

// The table is complete: each row has help, a field of one kind of filter is in the table, and a
// default is a value that the row allows.
func TestTable(t *testing.T) {
	field.Walk(BagSpec(), func(path string, s *field.Spec) {
		if s.Help == "" && !strings.HasSuffix(path, "[]") {
			t.Errorf("%s has no help", path)
		}
		if s.Help != strings.TrimSpace(s.Help) || strings.HasSuffix(s.Help, ".") {
			t.Errorf("%s: help is a fragment without a full stop: %q", path, s.Help)
		}
		if s.Default == "" || s.Kind == field.Word || s.Kind == field.Bool {
			return
		}
		for _, word := range strings.Fields(s.Default) {
			if v := parse(word); v < s.Min || v > s.Max {
				t.Errorf("%s: the default %s is outside %v..%v", path, word, s.Min, s.Max)
			}
		}
	})
	for key := range belongs {
		row(filterTable, key) // panics when the table has no such row
	}
}

func FuzzReadBag(f *testing.F) {
	f.Add(genericBag)
	files, _ := filepath.Glob("testdata/bad/*.yaml")
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, faults := ReadBag("bag.yaml", data)
		if b == nil && len(faults) == 0 {
			t.Fatal("neither a bag nor a fault")
		}
		for _, fault := range faults {
			if fault.Found == "" || fault.Allowed == "" {
				t.Fatalf("a fault without words: %+v", fault)
			}
		}
		if len(faults) > 0 {
			return
		}
		for _, filter := range b.Filters {
			for _, s := range filter.Settings() {
				m := filter.Mount(filter.FixedDeg, s)
				if got := m.onAxisStops(); !(math.Abs(got-filter.TotalStops(s)) < 0.01) {
					t.Fatalf("%+v at %v loses %v", filter, s, got)
				}
			}
		}
		for _, c := range b.Cameras {
			if !(c.FocalMM > 0) || len(c.Modes) == 0 || c.FastestS >= c.SlowestS {
				t.Fatalf("%+v", c)
			}
			for _, m := range c.Modes {
				if m.ISO.Base > m.ISO.Clean || m.ISO.Clean > m.ISO.Limit || len(m.FPS) == 0 {
					t.Fatalf("%+v", m)
				}
			}
		}
	})
}

// A card in the place of a bag is one mistake, not one for each of its fields.
func TestACardIsNoBag(t *testing.T) {
	b, faults := ReadBag("bag.yaml", []byte("skywedge: 1\nname: dam\nlegs:\n  - move: hold\n    seconds: 5\n"))
	if b != nil || len(faults) != 1 || faults[0].Line != 1 || faults[0].Found != "a card" {
		t.Errorf("%v, %v", b, faults)
	}
	if b, faults := ReadBag("bag.yaml", []byte("skywedge_bag: 1\nskywedge: 1\n")); b == nil || len(faults) < 2 {
		t.Errorf("a bag with a field too many: %v, %v", b, faults)
	}
}
