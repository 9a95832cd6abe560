package kit

import (
	"strings"
	"testing"
)

const partsBag = `skywedge_bag: 1
cameras:
  - name: wide   # mine
    sensor_mm: [12, 8]
    pixels: [4800, 3200]
    focal_mm: 8
    aperture: 2.8
    iso: {base: 100, clean: 400, limit: 6400}
    modes:
      - {name: normal, fps: [24, 25]}
filters:
  - {name: ND8, kind: density, stops: 3}
`

func bagOfParts(t *testing.T, text string) *Bag {
	t.Helper()
	b, faults := ReadBag("bag.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

func names(b *Bag) string {
	var all []string
	for _, p := range b.Parts() {
		all = append(all, p.Kind+" "+p.Name)
	}
	return strings.Join(all, ", ")
}

// Every part can be copied, joined by another, and taken out; comments stay.
func TestPartsOfABag(t *testing.T) {
	b := bagOfParts(t, partsBag)
	if got := names(b); got != "filter ND8, camera wide, mode wide: normal, settings settings" {
		t.Fatal(got)
	}
	for _, c := range []struct{ part, doubled, added string }{
		{"filters[0]", "filter ND8, filter ND8 2", "filter ND8, filter new filter"},
		{"cameras[0]", "camera wide, mode wide: normal, camera wide 2, mode wide 2: normal", "camera wide, mode wide: normal, camera new camera"},
		{"cameras[0].modes[0]", "mode wide: normal, mode wide: normal 2", "mode wide: normal, mode wide: new mode"},
	} {
		double, part, faults := b.Duplicate(c.part)
		if len(faults) > 0 || !strings.Contains(names(double), c.doubled) {
			t.Fatalf("%s doubled: %v %s", c.part, faults, names(double))
		}
		if less, faults := double.Remove(part); len(faults) > 0 || names(less) != names(b) {
			t.Errorf("%s out again: %v", part, faults)
		}
		more, part, faults := b.AddBeside(c.part)
		if len(faults) > 0 || !strings.Contains(names(more), c.added) || !strings.Contains(string(more.Doc.Bytes()), "# mine") {
			t.Fatalf("beside %s: %v %s", c.part, faults, names(more))
		}
		if !more.Doc.At(part).Exists() {
			t.Errorf("the new part is not at %s", part)
		}
	}
	if more, part, faults := b.AddMode("cameras[0]"); len(faults) > 0 || part != "cameras[0].modes[1]" || len(more.Cameras[0].Modes) != 2 {
		t.Errorf("a mode: %v %s", faults, part)
	}
	if _, faults := b.Remove("cameras[0]"); len(faults) == 0 {
		t.Error("the last camera is gone")
	}
	if _, _, faults := b.Duplicate("settings"); len(faults) == 0 {
		t.Error("two sets of settings")
	}
}

// Every field of every part can be set to its own text or its default, and what cannot stand is refused in words.
func TestPartFields(t *testing.T) {
	b := bagOfParts(t, partsBag)
	count := map[string]int{}
	for _, p := range b.Parts() {
		keys, specs := b.PartFields(p.Path)
		for i, key := range keys {
			count[p.Kind]++
			path := p.Path + "." + key
			if b.Doc.SpecAt(path) == nil || specs[i].Key != key[strings.LastIndexByte(key, '.')+1:] {
				t.Errorf("%s is no field", path)
			}
			text := b.Doc.At(path).Text()
			if text == "" {
				text = specs[i].Default
			}
			if text == "" {
				continue
			}
			if _, faults := b.Set(path, text); len(faults) > 0 {
				t.Errorf("%s: %s: %v", path, text, faults)
			}
		}
	}
	if count["camera"] < 15 || count["mode"] < 8 || count["settings"] < 7 || count["filter"] < 5 {
		t.Errorf("%v", count)
	}
	for _, c := range []struct{ path, text, is, wrong string }{
		{"cameras[0].iso.clean", "800", "800", ""},
		{"cameras[0].iso.clean", "9000", "", "limit"},
		{"cameras[0].focal_35_mm", "24", "24", ""},
		{"cameras[0].modes[0].fps", "24 30 60", "24 30 60", ""},
		{"cameras[0].sensor_mm", "13.2 8.8", "13.2 8.8", ""},
		{"settings.reserve_pct", "30", "30", ""},
		{"settings.weights.iso", "2", "2", ""},
		{"filters[0].kind", "polariser", "polariser", ""},
		{"nowhere", "2", "", "nowhere"},
	} {
		next, faults := b.Set(c.path, c.text)
		if c.wrong != "" {
			if len(faults) == 0 || !strings.Contains(faults.Error(), c.wrong) {
				t.Errorf("%s: %s: %v", c.path, c.text, faults)
			}
			continue
		}
		if len(faults) > 0 || next.Doc.At(c.path).Text() != c.is {
			t.Errorf("%s: %s: %v", c.path, c.text, faults)
		}
	}
	lens, _ := b.Set("cameras[0].focal_35_mm", "24")
	if lens.Doc.At("cameras[0].focal_mm").Exists() || lens.Cameras[0].FocalMM != 8 {
		t.Errorf("a lens has one focal length: %v", lens.Cameras[0].FocalMM)
	}
}

func TestEmptyBag(t *testing.T) {
	for _, name := range []string{"", "wide fixed 2.8", "yes", "a: b", "x\ny"} {
		b := bagOfParts(t, string(EmptyBag(name)))
		if len(b.Filters) != 0 || len(b.Cameras) != 1 || name == "wide fixed 2.8" && b.Cameras[0].Name != name {
			t.Errorf("%q: %+v", name, b)
		}
		if more, _, faults := b.AddBeside("settings"); len(faults) > 0 || len(more.Filters) != 1 {
			t.Errorf("a first filter: %v", faults)
		}
	}
}

// One's own offset comes with the day it was learned, and goes with it; no other part of the bag changes for it.
func TestSetOffset(t *testing.T) {
	b := bagOfParts(t, partsBag)
	for _, c := range []struct {
		camera bool
		name   string
		at     func(*Bag) (float64, string)
	}{
		{true, "wide", func(b *Bag) (float64, string) { return b.Cameras[0].OffsetStops, b.Cameras[0].OffsetOn }},
		{false, "ND8", func(b *Bag) (float64, string) { return b.Filters[0].OffsetStops, b.Filters[0].OffsetOn }},
	} {
		learned, faults := b.SetOffset(c.camera, c.name, -0.234, "2026-09-18")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if stops, on := c.at(learned); stops != -0.23 || on != "2026-09-18" {
			t.Errorf("%s: %g stops of %q", c.name, stops, on)
		}
		if !strings.Contains(string(learned.Doc.Bytes()), "# mine") || names(learned) != names(b) {
			t.Errorf("%s: something else changed:\n%s", c.name, learned.Doc.Bytes())
		}
		gone, faults := learned.SetOffset(c.camera, c.name, 0.004, "2026-10-01")
		if len(faults) > 0 || string(gone.Doc.Bytes()) != partsBag {
			t.Errorf("%s: %v\n%s", c.name, faults, gone.Doc.Bytes())
		}
		if wrong, faults := b.SetOffset(!c.camera, c.name, 1, "2026-09-18"); wrong != nil || len(faults) != 1 || !strings.HasPrefix(faults[0].Allowed, "the name of one of the ") {
			t.Errorf("%s on the wrong list: %v", c.name, faults)
		}
		if wrong, faults := b.SetOffset(c.camera, c.name, 99, "2026-09-18"); wrong != nil || len(faults) != 1 || !strings.HasSuffix(faults[0].Field, "offset_stops") {
			t.Errorf("%s by 99 stops: %v", c.name, faults)
		}
		if wrong, faults := b.SetOffset(c.camera, c.name, 0.5, "yesterday"); wrong != nil || len(faults) != 1 || !strings.HasSuffix(faults[0].Field, "offset_on") {
			t.Errorf("%s yesterday: %v", c.name, faults)
		}
	}
	if _, faults := ReadBag("bag.yaml", []byte(strings.Replace(partsBag, "stops: 3", "stops: 3, offset_on: 2026-09-18", 1))); len(faults) != 1 || !strings.Contains(faults.Error(), "found nothing; allowed: what was learned, in stops, beside offset_on") {
		t.Errorf("a day without an offset: %v", faults)
	}
}

// A bag without filters has a place where the first one goes.
func TestABagWithoutFilters(t *testing.T) {
	b := bagOfParts(t, string(EmptyBag("mine")))
	if got := names(b); got != "filter no filters, camera mine, settings settings" {
		t.Error(got)
	}
	more, part, faults := b.AddBeside(b.Parts()[0].Path)
	if len(faults) > 0 || part != "filters[0]" || len(more.Filters) != 1 {
		t.Errorf("%s: %v", part, faults)
	}
	if _, ok := b.CameraByName("another"); ok {
		t.Error("a camera of another name")
	}
}

// A bag is told from a card by its first key, also where it is broken; a card that speaks of a bag is none.
func TestIsBag(t *testing.T) {
	for text, want := range map[string]bool{
		partsBag: true, "# mine\n\nskywedge_bag: 1\ncameras: {\n": true, "\ufeffskywedge_bag: 1\n": true, "skywedge_bag": true,
		"": false, "skywedge: 1\nname: skywedge_bag: 1\n": false, "notes: |\n  skywedge_bag: 1\n": false,
	} {
		if IsBag([]byte(text)) != want {
			t.Errorf("%.30q is a bag: %v", text, !want)
		}
	}
	slow := strings.Replace(partsBag, "aperture: 2.8", "aperture: 2.8\n    shutter_s: {fastest: 60}", 1)
	if _, faults := ReadBag("bag.yaml", []byte(slow)); len(faults) != 1 || faults[0].Field != "cameras[0].shutter_s.fastest" {
		t.Errorf("one wrong time: %v", faults)
	}
}
