package field

import (
	"bytes"
	"strings"
	"testing"
)

// changed returns the lines that an edit took out (-) and put in (+).
func changed(before, after []byte) string {
	a, b := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	var out strings.Builder
	for _, line := range a {
		out.WriteString("-" + line + "\n")
	}
	for _, line := range b {
		out.WriteString("+" + line + "\n")
	}
	return out.String()
}

const (
	push  = "  - {move: push,  heading_deg: 285, seconds: 25, speed_ms: 4, height_m: 35, target: {distance_m: 180}}\n"
	round = "  # round the light\n"
	orbit = "  - {move: orbit, heading_deg: [285, 15], seconds: 40, height_m: 40, target: {distance_m: 90, speed_ms: 3}}   # slowly\n"
	still = `  - move: hold
    heading_deg: sun+90   # abeam
    seconds: 10
    height_m:
      - 40
      - 60
    stills_too: true
    # foot of the third leg
`
	hold = "  - {move: hold, heading_deg: NW, seconds: 10, pitch_deg: -5}\n"
)

// minus and plus mark every line of a text.
func minus(text string) string { return mark("-", text) }
func plus(text string) string  { return mark("+", text) }
func mark(sign, text string) string {
	return sign + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n"+sign) + "\n"
}

func TestSet(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for _, c := range []struct{ path, text, want string }{
		{"fps", "25", "-fps: 24\n+fps: 25\n"},
		{"fps", "24", ""},
		{"shutter_s", "1/100", "-shutter_s: 1/50\n+shutter_s: 1/100\n"},
		{"purpose", "still", "-purpose:   video\n+purpose:   still\n"},
		{"ring_deg", "22.50", "-ring_deg: auto\n+ring_deg: 22.50\n"},
		{"take_off", "2026-09-19T07:00:00", "-take_off: 2026-09-18T19:40:00     # local to the zone\n+take_off: 2026-09-19T07:00:00     # local to the zone\n"},
		{"name", " The light, again ", "-name: Breakwater, evening\n+name: The light, again\n"},
		{"name", "Dusk: the slip # 2", "-name: Breakwater, evening\n+name: \"Dusk: the slip # 2\"\n"},
		{"name", "2026", "-name: Breakwater, evening\n+name: \"2026\"\n"},
		{"name", `"so" \ it`, "-name: Breakwater, evening\n+name: \"\\\"so\\\" \\\\ it\"\n"},
		{"notes", "one\n\n  two", "-notes: |\n-  Park by the slip.\n-\n-  Two batteries.\n+notes: |-\n+  one\n+\n+    two\n"},
		{"notes", "gone", "-notes: |\n-  Park by the slip.\n-\n-  Two batteries.\n+notes: gone\n"},
		{"gimbal_deg", "-85, 20", "-gimbal_deg: [-90, 20]\n+gimbal_deg: [-85, 20]\n"},
		{"marks", "2 3", "-marks: [2, 3, 4.5]\n+marks: [2, 3]\n"},
		{"marks[1]", "3.5", "-marks: [2, 3, 4.5]\n+marks: [2, 3.5, 4.5]\n"},
		{"skyline", "[250, 4], [300, 10]", "-skyline: [[250, 4], [290, 9]]     # a ridge\n+skyline: [[250, 4], [300, 10]]     # a ridge\n"},
		{"light.cloud_pct", "", "-light: {cloud_pct: 10, sun: auto}   # as forecast\n+light: {sun: auto}   # as forecast\n"},
		{"light.sun", "", "-light: {cloud_pct: 10, sun: auto}   # as forecast\n+light: {cloud_pct: 10}   # as forecast\n"},
		{"purpose", "", "-purpose:   video\n"},
		{"notes", "", "-notes: |\n-  Park by the slip.\n-\n-  Two batteries.\n"},
		// legs
		{"legs[0].height_m", "40 60", minus(push) + plus(strings.Replace(push, "height_m: 35", "height_m: [40, 60]", 1))},
		{"legs[0].height_m", "[40,60]", minus(push) + plus(strings.Replace(push, "height_m: 35", "height_m: [40, 60]", 1))},
		{"legs[0].seconds", "5.", minus(push) + plus(strings.Replace(push, "25", "5.", 1))},
		{"legs[0].pitch_deg", "−5", minus(push) + plus(strings.Replace(push, "35, ", "35, pitch_deg: -5, ", 1))},
		{"legs[0].target.distance_m", "", minus(push) + plus(strings.Replace(push, ", target: {distance_m: 180}", "", 1))},
		{"legs[1].heading_deg", "300 15", minus(orbit) + plus(strings.Replace(orbit, "285", "300", 1))},
		{"legs[1].heading_deg", "NW", minus(orbit) + plus(strings.Replace(orbit, "[285, 15]", "NW", 1))},
		{"legs[1].heading_deg[1]", "sun+90", minus(orbit) + plus(strings.Replace(orbit, "15", "sun+90", 1))},
		{"legs[2].heading_deg", "sun", "-    heading_deg: sun+90   # abeam\n+    heading_deg: sun   # abeam\n"},
		{"legs[2].height_m", "50", "-    height_m:\n-      - 40\n-      - 60\n+    height_m: 50\n"},
		{"legs[2].height_m", "40 70", "-      - 60\n+      - 70\n"},
		{"legs[2].pitch_deg", "-5", "+    pitch_deg: -5\n"},
		{"legs[2].speed_ms", "0", "+    speed_ms: 0\n"},
		{"legs[2].target.distance_m", "50", "+    target: {distance_m: 50}\n"},
		{"legs[2].stills_too", "", "-    stills_too: true\n"},
	} {
		e, faults := d.Set(c.path, c.text)
		if faults != nil {
			t.Errorf("%s = %s: %v", c.path, c.text, faults)
			continue
		}
		if got := changed(d.Bytes(), e.Bytes()); got != c.want {
			t.Errorf("%s = %s:\n%swant\n%s", c.path, c.text, got, c.want)
		}
		if c.text != "" && !strings.HasSuffix(c.path, "]") && c.path != "skyline" {
			typed := strings.NewReplacer("−", "-", "[", "", "]", "", "-85, ", "-85 ", "40,60", "40 60").Replace(strings.TrimSpace(c.text))
			if got := e.At(c.path).Text(); got != typed {
				t.Errorf("%s = %s reads back as %s", c.path, c.text, got)
			}
		}
	}
}

func TestSetRefuses(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	for _, c := range []struct{ path, text, want string }{
		{"legs[1].height_m", "1300", `card.yaml:18:66: legs[1].height_m: found "1300"; allowed: a number from 0 to 500 m, or a pair [from, to] of them`},
		{"legs[1].height_m", "40 x", `card.yaml:18:66: legs[1].height_m[1]: found "x"; allowed: a number from 0 to 500 m`},
		{"legs[1].height_m", "1 2 3", `card.yaml:18:66: legs[1].height_m: found a list of 3; allowed: a number from 0 to 500 m, or a pair [from, to] of them`},
		{"legs[1].pitch_deg", "up", `card.yaml:18:5: legs[1].pitch_deg: found "up"; allowed: a number from -90 to 30°, or a pair [from, to] of them`},
		{"legs[1].seconds", "", `card.yaml:18:52: legs[1].seconds: found nothing; allowed: a number from 1 to 600 s; it must be given`},
		{"name", "a\x1b[2J", `card.yaml:3:7: name: found the control character U+001B; allowed: text without control characters`},
		{"name", "a\nb", `card.yaml:3:7: name: found "a\nb"; allowed: one line of text that is not empty`},
		{"name", "\xff", `card.yaml:3:7: name: found "` + "<0xFF>" + `"; allowed: UTF-8 text`},
		{"fps", "~", `card.yaml:11:6: fps: found "~"; allowed: a whole number from 1 to 240 fps; leave the field out for the default, 24`},
		{"light", "bright", `card.yaml:8:8: light: found "bright"; allowed: a map with cloud_pct, sun; set its fields one by one`},
		{"legs[9].seconds", "3", `card.yaml:16:3: legs[9].seconds: found no such item; allowed: a place inside the document`},
		{"moon", "3", `card.yaml:2:1: moon: found no such field; allowed: a field of the table`},
		{"legs[", "3", `card.yaml:2:1: legs[: found no such field; allowed: a field of the table`},
		{"light.cloud_pct", "2,8", `card.yaml:8:20: light.cloud_pct: found "2,8"; allowed: a number from 0 to 100 %; with a point: 2.8`},
		{"skyline", "[1, 2], 3", `card.yaml:31:10: skyline[1]: found "3"; allowed: a pair [a, b], each a number from 0 to 360°`},
	} {
		e, faults := d.Set(c.path, c.text)
		got := faults.Error()
		if e != nil || got != c.want {
			t.Errorf("%s = %q:\n got %s\nwant %s", c.path, c.text, got, c.want)
		}
	}
}

func TestListEdits(t *testing.T) {
	d := read(t, fixture(t, "card.yaml"))
	const item = "{move: hold, heading_deg: 9, seconds: 4}"
	for _, c := range []struct {
		name string
		edit func() (*Doc, Faults)
		want string
	}{
		{"insert first", func() (*Doc, Faults) { return d.Insert("legs", 0, item) }, "+  - " + item + "\n"},
		{"insert between", func() (*Doc, Faults) { return d.Insert("legs", 1, item) }, "+  - " + item + "\n"},
		{"insert last", func() (*Doc, Faults) { return d.Insert("legs", 4, item+" # new") }, "+  - " + item + " # new\n"},
		{"insert a block", func() (*Doc, Faults) { return d.Insert("legs", 1, "move: hold\nheading_deg: 9\nseconds: 4\n") },
			"+  - move: hold\n+    heading_deg: 9\n+    seconds: 4\n"},
		{"insert a copy", func() (*Doc, Faults) { return d.Insert("legs", 4, d.At("legs[2]").YAML()) },
			"+  - {move: hold, heading_deg: sun+90, seconds: 10, height_m: [40, 60], stills_too: true}\n"},
		{"insert a pair", func() (*Doc, Faults) { return d.Insert("skyline", 1, "[260, 5]") },
			"-skyline: [[250, 4], [290, 9]]     # a ridge\n+skyline: [[250, 4], [260, 5], [290, 9]]     # a ridge\n"},
		{"insert a number", func() (*Doc, Faults) { return d.Insert("marks", 0, "1") }, "-marks: [2, 3, 4.5]\n+marks: [1, 2, 3, 4.5]\n"},
		{"remove the first", func() (*Doc, Faults) { return d.Remove("legs[0]") }, minus(push)},
		{"remove the second", func() (*Doc, Faults) { return d.Remove("legs[1]") }, minus(round + orbit)},
		{"remove the third", func() (*Doc, Faults) { return d.Remove("legs[2]") }, minus(still)},
		{"remove the last", func() (*Doc, Faults) { return d.Remove("legs[3]") }, minus(hold)},
		{"remove a key with a comment", func() (*Doc, Faults) { return d.Remove("light") }, "-light: {cloud_pct: 10, sun: auto}   # as forecast\n+# as forecast\n"},
		{"remove a block", func() (*Doc, Faults) { return d.Remove("legs[2].height_m") }, "-    height_m:\n-      - 40\n-      - 60\n"},
		{"remove what is not there", func() (*Doc, Faults) { return d.Remove("legs[0].pitch_deg") }, ""},
		{"remove all numbers", func() (*Doc, Faults) {
			e := d
			for range 3 {
				e, _ = e.Remove("marks[0]")
			}
			return e, nil
		}, "-marks: [2, 3, 4.5]\n+marks: []\n"},
		{"swap 0 1", func() (*Doc, Faults) { return d.Swap("legs", 0, 1) }, minus(push+round+orbit) + plus(round+orbit+push)},
		{"swap 2 1", func() (*Doc, Faults) { return d.Swap("legs", 2, 1) }, minus(round+orbit+still) + plus(still+round+orbit)},
		{"swap 2 3", func() (*Doc, Faults) { return d.Swap("legs", 2, 3) }, minus(still+hold) + plus(hold+still)},
		{"swap numbers", func() (*Doc, Faults) { return d.Swap("marks", 0, 2) }, "-marks: [2, 3, 4.5]\n+marks: [4.5, 3, 2]\n"},
	} {
		e, faults := c.edit()
		if faults != nil {
			t.Errorf("%s: %v", c.name, faults)
			continue
		}
		if got := changed(d.Bytes(), e.Bytes()); got != c.want {
			t.Errorf("%s:\n%swant\n%s", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		name, want string
		edit       func() (*Doc, Faults)
	}{
		{"misspelt", `legs[4].secons: found the unknown field "secons"; allowed: a known field; did you mean seconds?`,
			func() (*Doc, Faults) {
				return d.Insert("legs", 4, "{move: hold, heading_deg: 9, secons: 4, seconds: 3}")
			}},
		{"out of range", `legs: found no place [9]; allowed: an index from 0 to the length of the list`,
			func() (*Doc, Faults) { return d.Insert("legs", 9, item) }},
		{"not a list", `light: found no such list; allowed: a list of the table`, func() (*Doc, Faults) { return d.Insert("light", 0, "1") }},
		{"syntax", `legs[0]: found a { that is not closed: "{move: hold"; allowed: fields between { and }, with commas between them`,
			func() (*Doc, Faults) { return d.Insert("legs", 0, "{move: hold") }},
		{"alias", `legs[0]: found an alias: "*a"; allowed: values written out, without anchors (&) and aliases (*)`,
			func() (*Doc, Faults) { return d.Insert("legs", 0, "*a") }},
		{"empty item", `legs[0]: found nothing; allowed: a map with move, heading_deg, seconds, speed_ms, height_m, pitch_deg, stills_too, target`,
			func() (*Doc, Faults) { return d.Insert("legs", 0, " ") }},
		{"no such item", `legs[7]: found no such item; allowed: an item of the list`, func() (*Doc, Faults) { return d.Remove("legs[7]") }},
		{"required", `name: found nothing; allowed: one line of text that is not empty; it must be given`, func() (*Doc, Faults) { return d.Remove("name") }},
		{"swap nothing", `legs: found no such item; allowed: two items of the list`, func() (*Doc, Faults) { return d.Swap("legs", 0, 4) }},
		{"swap a map", `light: found no such list; allowed: a list of the document`, func() (*Doc, Faults) { return d.Swap("light", 0, 1) }},
	} {
		e, faults := c.edit()
		if got := faults.Error(); e != nil || !strings.HasSuffix(got, ": "+c.want) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// Every kind of layout takes edits; what the table needs only for other rows is left out here.
func TestEditLayouts(t *testing.T) {
	for _, c := range []struct {
		name, text string
		edit       func(d *Doc) (*Doc, Faults)
		want       string
	}{
		{"empty map", "light: {}\n", set("light.sun", "hidden"), "light: {sun: hidden}\n"},
		{"no value", "light:   # none\nfps: 2\n", set("light.sun", "hidden"), "light: {sun: hidden}   # none\nfps: 2\n"},
		{"no value at the end", "light:", set("light.sun", "hidden"), "light: {sun: hidden}"},
		{"no value in braces", "light: {sun: , cloud_pct: 1}\n", set("light.sun", "hidden"), "light: {sun: hidden, cloud_pct: 1}\n"},
		{"null", "fps: ~\n", set("fps", "25"), "fps: 25\n"},
		{"first of a map", "fps: 24\n", set("name", "x"), "name: x\nfps: 24\n"},
		{"first of a leg", "legs:\n- seconds: 3\n  target: {}\n", set("legs[0].move", "hold"), "legs:\n- move: hold\n  seconds: 3\n  target: {}\n"},
		{"no last newline", "name: x", set("fps", "24"), "name: x\nfps: 24"},
		{"carriage returns", "name: x\r\nfps: 24\r\n", set("purpose", "still"), "name: x\r\npurpose: still\r\nfps: 24\r\n"},
		{"byte order mark", "\xef\xbb\xbfname: x\n", set("name", "z"), "\xef\xbb\xbfname: z\n"},
		{"behind a comment one blank in", "name: x\n # of the name\nfps: 24\n", set("purpose", "still"), "name: x\n # of the name\npurpose: still\nfps: 24\n"},
		{"behind a comment further in", "name: x\n    # of the name\n\n# of the rate\nfps: 24\n", set("purpose", "still"), "name: x\n    # of the name\npurpose: still\n\n# of the rate\nfps: 24\n"},
		{"behind text of several lines", "name: a text\n  that goes on\nfps: 24\n", set("purpose", "still"), "name: a text\n  that goes on\npurpose: still\nfps: 24\n"},
		{"text of several lines", "name: a text\n  that goes on   # c\nfps: 24\n", set("name", "short"), "name: short   # c\nfps: 24\n"},
		{"quotes stay", "name: 'it''s'   # c\n", set("name", "its"), "name: \"its\"   # c\n"},
		{"before an end mark", "name: x\n...\n", set("fps", "24"), "name: x\nfps: 24\n...\n"},
		{"brace on several lines", "light: {\n  sun: auto, # c\n}\n", set("light.cloud_pct", "1"), "light: {\n  cloud_pct: 1, sun: auto, # c\n}\n"},
		{"bracket in a comment", "marks: [1, 2 # no ] here\n  ]   # c\nfps: 24\n", set("marks", "3"), "marks: [3]   # c\nfps: 24\n"},
		{"comments of a pair", "legs:\n- height_m:\n  - 1 # low\n  - 2\n  # high\n", set("legs[0].height_m", "3"), "legs:\n- height_m: 3\n    # low\n  # high\n"},
		{"last key of a map", "light: {sun: auto}\nfps: 1\n", set("light.sun", ""), "fps: 1\n"},
		{"last key of a block", "fps: 1\nlight:\n  sun: auto\n", set("light.sun", ""), "fps: 1\n"},
		{"first key of a leg", "legs:\n- pitch_deg: 3\n  target: {}\n", set("legs[0].pitch_deg", ""), "legs:\n- target: {}\n"},
		{"last key of a leg", "legs:\n- pitch_deg: 3\n", set("legs[0].pitch_deg", ""), "legs:\n- {}\n"},
		{"comment alone", "name: x\nfps: 24   # as asked\nnotes: y\n", set("fps", ""), "name: x\n# as asked\nnotes: y\n"},
		{"marks absent", "name: x\n", insert("marks", "1"), "name: x\nmarks:\n  - 1\n"},
		{"marks empty", "marks: []\n", insert("marks", "1"), "marks: [1]\n"},
		{"legs empty", "legs: []\nfps: 1\n", insert("legs", "{move: hold, heading_deg: 1, seconds: 2}"), "legs:\n  - {move: hold, heading_deg: 1, seconds: 2}\nfps: 1\n"},
		{"legs null", "legs:\nfps: 1\n", insert("legs", "{move: hold, heading_deg: 1, seconds: 2}"), "legs: [{move: hold, heading_deg: 1, seconds: 2}]\nfps: 1\n"},
		{"legs in braces", "{name: x}\n", insert("legs", "move: hold\nheading_deg: 1\nseconds: 2"), "{name: x, legs: [{move: hold, heading_deg: 1, seconds: 2}]}\n"},
		{"dash on its own", "marks:\n  -\n    1\n  - 2\n", insert("marks", "3"), "marks:\n  - 3\n  -\n    1\n  - 2\n"},
		{"swapped indents", "marks:\n-   1   # a\n\n# b\n- 2", func(d *Doc) (*Doc, Faults) { return d.Swap("marks", 0, 1) }, "marks:\n# b\n- 2\n\n-   1   # a"},
	} {
		d, _ := Read("card.yaml", []byte(c.text), testSpec)
		if d == nil {
			t.Errorf("%s: not read", c.name)
			continue
		}
		e, faults := c.edit(d)
		if faults != nil {
			t.Errorf("%s: %v", c.name, faults)
		} else if got := string(e.Bytes()); got != c.want {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

func set(path, text string) func(*Doc) (*Doc, Faults) {
	return func(d *Doc) (*Doc, Faults) { return d.Set(path, text) }
}

func insert(path, yaml string) func(*Doc) (*Doc, Faults) {
	return func(d *Doc) (*Doc, Faults) { return d.Insert(path, 0, yaml) }
}

// Where the text does not allow an edit, the tree is written anew, without tags on edited numbers.
func TestEditAnew(t *testing.T) {
	d, _ := Read("card.yaml", []byte("# head\nmarks: [1marks:,2 , 3] # c\nfps: 24\n# end\n"), testSpec)
	e, faults := d.Swap("marks", 0, 1)
	if faults != nil {
		t.Fatal(faults)
	}
	if got, want := string(e.Bytes()), "# head\nmarks: [2, '1marks:', 3] # c\nfps: 24\n# end\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	card := read(t, fixture(t, "card.yaml"))
	fresh, err := encode(card.root)
	if err != nil {
		t.Fatal(err)
	}
	again := read(t, string(fresh))
	if !again.Equal(card) || strings.Contains(string(fresh), "!!") {
		t.Errorf("the tree changed:\n%s", fresh)
	}
	if comment := lostComment(card, again); comment != "" {
		t.Errorf("%s is lost:\n%s", comment, fresh)
	}
	twice, err := encode(again.root)
	if err != nil || !bytes.Equal(twice, fresh) {
		t.Errorf("writing again changed the text:\n%s", twice)
	}
}

// A document with faults can be mended one fault at a time, and gets no new ones.
func TestMending(t *testing.T) {
	d, faults := Read("card.yaml", []byte(strings.Replace(valid, "seconds: 2", "seconds: x, height_m: -3", 1)), testSpec)
	if len(faults) != 2 || len(d.Faults()) != 2 {
		t.Fatal(faults)
	}
	if _, faults := d.Remove("legs[0].heading_deg"); len(faults) != 1 || faults[0].Field != "legs[0].heading_deg" {
		t.Errorf("a required field went: %v", faults)
	}
	d, faults = d.Set("legs[0].seconds", "3")
	if faults != nil || len(d.Faults()) != 1 {
		t.Fatal(faults, d.Faults())
	}
	d, faults = d.Insert("legs", 0, "{move: push, heading_deg: 1, seconds: 3}")
	if faults != nil || d.Faults()[0].Field != "legs[1].height_m" {
		t.Fatal(faults, d.Faults())
	}
	if d, faults = d.Set("legs[1].height_m", ""); faults != nil || d.Faults() != nil {
		t.Fatal(faults, d.Faults())
	}
}
