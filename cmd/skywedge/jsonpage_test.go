package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit/photo/phototest"
)

var (
	keyLine  = regexp.MustCompile("^- `([^`]+)` (text|number|true or false|pair|object|list of text|list of pairs of text|list of numbers|list of true or false)( or null)?: .")
	likeLine = regexp.MustCompile("^- `([^`]+)`: as (?:`([^`]+)`|when it fails)")
)

// toldKey is what the page says of one key.
type toldKey struct {
	kind        string
	null, fault bool
	as          string
	seen        bool
}

// pageKeys reads the page: its sections, and in each the keys.
func pageKeys(t *testing.T) map[string]map[string]*toldKey {
	t.Helper()
	sections := map[string]map[string]*toldKey{}
	section := ""
	for _, line := range strings.Split(jsonPage, "\n") {
		if name, ok := strings.CutPrefix(line, "## "); ok {
			section = name
			sections[section] = map[string]*toldKey{}
			continue
		}
		if !strings.HasPrefix(line, "- ") {
			continue
		}
		if m := keyLine.FindStringSubmatch(line); m != nil {
			sections[section][m[1]] = &toldKey{kind: m[2], null: m[3] != ""}
		} else if m := likeLine.FindStringSubmatch(line); m != nil {
			sections[section][m[1]] = &toldKey{as: m[2], fault: m[2] == ""}
		} else {
			t.Errorf("%s: this line tells no key: %s", section, line)
		}
	}
	return sections
}

// resolve follows a path that the page says is like another.
func resolve(sections map[string]map[string]*toldKey, section, path string) (string, string) {
	for like, k := range sections[section] {
		rest, ok := strings.CutPrefix(path, like+".")
		switch {
		case k.kind != "" || !ok:
		case k.fault:
			k.seen = true
			return "When it fails", "faults[]." + rest
		default:
			k.seen = true
			return section, k.as + "." + rest
		}
	}
	return section, path
}

// TestTheJSONPageIsTrue runs every command that has --json: every key that it prints is on the page, with what it is,
// and every key of the page is printed. Who adds a key adds its line to JSON.md, and a run that shows it.
func TestTheJSONPageIsTrue(t *testing.T) {
	dir := t.TempDir()
	if err := copyExamples(dir); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Chdir(dir)
	write(t, "haze.yaml", strings.Replace(fmt.Sprintf(goodCard, "Haze"), "camera:", "aim: haze\nlight: {visibility_km: 12}\ncamera:", 1))
	write(t, "zone.yaml", strings.Replace(fmt.Sprintf(goodCard, "Zone"), "Europe/Madrid", "Asia/Tokyo", 1))
	write(t, "bad.yaml", "skywedge: 1\nname: x\n")
	write(t, "one.jpg", string(phototest.Shot{Clock: "2026:09:18 19:41:40", Shutter: [2]uint32{1, 50}, ISO: 100, Aperture: 2.8}.JPEG()))
	if err := os.Mkdir("trip", 0o777); err != nil {
		t.Fatal(err)
	}
	before, rest, _ := strings.Cut(string(examples.Bag()), "filters:")
	_, after, _ := strings.Cut(rest, "settings:")
	write(t, "trip/bag.yaml", before+"filters: [{name: CPL, kind: polariser, loss_stops: 1.5}]\nsettings:"+after)
	noon := strings.Replace(fmt.Sprintf(goodCard, "Noon"), "T19", "T13", 1)
	write(t, "trip/a.yaml", strings.Replace(noon, "move: hold", "move: push, speed_ms: 9, height_m: 10", 1))
	write(t, "learned/taught.yaml", taughtCard())
	write(t, "learned/bag.yaml", strings.Replace(string(examples.Bag()), "variable light", "variable", 1))
	locked := phototest.Shot{Shutter: [2]uint32{1, 1}, ISO: 100, WhiteBalance: new(uint16)}
	*locked.WhiteBalance = 1
	wall := func(light float64) string {
		return string(phototest.Wall{Wide: 144, Tall: 96, Light: [3]float64{light, light, light}}.JPEG(locked))
	}
	write(t, "bare.jpg", wall(0.2))
	locked.ISO = 800
	write(t, "through.jpg", wall(0.19/8))
	for ring, light := range map[string]float64{"0": 0.05, "45": 0.02, "90": 0.01, "135": 0.04} {
		write(t, "g"+ring+".jpg", wall(light))
	}
	for _, name := range []string{"N43W009.hgt", "N43W010.hgt"} {
		write(t, name, string(wallTile(name, []float64{3, -8.55, 400, -8.7})))
	}
	sections := pageKeys(t)
	runs := map[string][]string{
		"card":          {"card 1-breakwater.yaml", "card 2-lighthouse.yaml", "card 4-forest-road.yaml", "card 5-sea-stacks.yaml", "card 7-surf.yaml", "card haze.yaml", "card zone.yaml"},
		"filters":       {"filters 2-lighthouse.yaml", "filters haze.yaml"},
		"hours":         {"hours 2-lighthouse.yaml --by sky", "hours haze.yaml"},
		"trip":          {"trip .", "trip trip"},
		"frame":         {"frame 2-lighthouse.yaml --second 3 --size 8x4", "frame 7-surf.yaml --second 1 --size 2x2"},
		"rose":          {"rose 2-lighthouse.yaml --second 3 --step 60", "rose 7-surf.yaml --second 1 --step 60", "rose 1-breakwater.yaml --second 1"},
		"above":         {"above 1-breakwater.yaml", "above 3-estuary.yaml"},
		"legs":          {"legs headland.gpx", "legs headland.gpx --toward track -o drafted.yaml"},
		"path":          {"path 1-breakwater.yaml -o one.gpx", "path 2-lighthouse.yaml -o two.geojson"},
		"flown":         {"flown 2-lighthouse.yaml --leg 1 --worked yes --sky less --glare more --off 1 --meter 0 --saw pale", "flown 1-breakwater.yaml one.jpg gone.jpg"},
		"flown --learn": {"flown learned/taught.yaml --learn", "flown learned/taught.yaml --learn --use"},
		"measure": {"measure CPL", "measure ND8 --bag learned/bag.yaml --bare bare.jpg --through through.jpg --yes",
			"measure variable --bag learned/bag.yaml --bare bare.jpg --setting 3 --through through.jpg",
			"measure CPL --glare 12:00=g0.jpg 1:30=g45.jpg 3:00=g90.jpg 4:30=g135.jpg"},
		"skyline":       {"skyline 3-estuary.yaml --tiles .", "skyline 1-breakwater.yaml --tiles . --height 60"},
		"sun":           {"sun --at 43,-8 --when 2026-09-18T19:40Z", "sun --at 78,15 --when 2026-12-18T19:40Z"},
		"sky":           {"sky --sun 90,10", "sky --sun 90,10 --toward 0,80"},
		"check":         {"check 1-breakwater.yaml", "check bad.yaml nowhere.yaml"},
		"fields":        {"fields card", "fields bag"},
		"folders":       {"folders", "folders 1-breakwater.yaml", "folders --bag -"},
		"version":       {"version"},
		"When it fails": {"card bad.yaml", "filters nowhere.yaml", "sky --sun 90,100", "frobnicate"},
	}
	for _, c := range program().Commands {
		if c.Flag("json") != nil && runs[c.Name] == nil {
			t.Errorf("%s has --json and is not run here", c.Name)
		}
	}
	for section, lines := range runs {
		if sections[section] == nil {
			t.Errorf("the page has no section %q", section)
		}
		for _, line := range lines {
			var out strings.Builder
			e := &env{in: strings.NewReader(""), out: &out, err: &out, now: demoNow}
			run(e, append(strings.Fields(line), "--json"))
			var doc map[string]any
			if err := json.Unmarshal([]byte(out.String()), &doc); err != nil {
				t.Errorf("%s: %v\n%s", line, err, out.String())
				continue
			}
			if doc["schema"] != 1. {
				t.Errorf("%s: schema is %v", line, doc["schema"])
			}
			eachLeaf(doc, "", func(path string, v any) {
				at, like := resolve(sections, section, path)
				k := sections[at][like]
				if k == nil {
					if list, ok := v.([]any); !ok || len(list) > 0 || !hasInside(sections[at], like) {
						t.Errorf("%s prints %s, which is not on the page under %q", line, path, section)
					}
					return
				}
				k.seen = true
				if v == nil && !k.null || v != nil && !fits(k.kind, v) {
					t.Errorf("%s: %s is %v, the page says %s, or null: %v", line, path, v, k.kind, k.null)
				}
			})
		}
	}
	for section, keys := range sections {
		for path, k := range keys {
			if !k.seen && (k.kind != "object" || !hasInside(keys, path)) && path != "left_out[].faults[]" {
				t.Errorf("%s: nothing prints %s", section, path)
			}
		}
	}
}

// hasInside tells whether the page has keys within an object or a list that is empty here.
func hasInside(keys map[string]*toldKey, path string) bool {
	for k := range keys {
		if strings.HasPrefix(k, path+".") || strings.HasPrefix(k, path+"[]") {
			return true
		}
	}
	return false
}

// eachLeaf visits what is no object: figures, words, null, and lists of these.
func eachLeaf(v any, path string, visit func(path string, v any)) {
	switch x := v.(type) {
	case map[string]any:
		for k, inside := range x {
			eachLeaf(inside, strings.TrimPrefix(path+"."+k, "."), visit)
		}
	case []any:
		if len(x) == 0 || !isObject(x[0]) {
			visit(path, v)
			return
		}
		for _, inside := range x {
			eachLeaf(inside, path+"[]", visit)
		}
	default:
		visit(path, v)
	}
}

func isObject(v any) bool {
	_, ok := v.(map[string]any)
	return ok
}

// fits tells whether a value is what the page says.
func fits(kind string, v any) bool {
	all := func(of string) bool {
		list, ok := v.([]any)
		return ok && !slices.ContainsFunc(list, func(x any) bool { return !fits(of, x) })
	}
	switch kind {
	case "text":
		_, ok := v.(string)
		return ok
	case "number":
		_, ok := v.(float64)
		return ok
	case "true or false":
		_, ok := v.(bool)
		return ok
	case "pair":
		list, _ := v.([]any)
		return all("number") && len(list) == 2
	case "list of text":
		return all("text")
	case "list of pairs of text":
		return all("list of text")
	case "list of numbers":
		return all("number")
	case "list of true or false":
		return all("true or false")
	}
	return false
}

// The page on a terminal is the page: nothing of it is lost.
func TestTheJSONPageIsPrinted(t *testing.T) {
	var out strings.Builder
	e := discard(nil)
	e.out = &out
	run(e, []string{"help", "json"})
	flat := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	want := regexp.MustCompile(`(?m)^#+ |^- |`+"`").ReplaceAllString(jsonPage, "")
	if flat(out.String()) != flat(want) {
		t.Errorf("skywedge help json prints\n%s", out.String())
	}
	if file, err := os.ReadFile("JSON.md"); err != nil || string(file) != jsonPage {
		t.Error("the page that is built in is another one")
	}
}
