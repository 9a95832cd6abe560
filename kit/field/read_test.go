package field

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// valid holds all that testSpec requires, in five lines; a test puts what is wrong behind it.
const valid = "version: 1\nname: x\nplace: {lat: 1, lon: 2, zone: UTC}\ntake_off: now\nlegs: [{move: hold, heading_deg: 1, seconds: 2}]\n"

// faultTable holds documents (behind valid where they start at line 6) and all their faults.
var faultTable = []struct{ name, text, faults string }{
	{"two of a kind", valid + "fps: 24\nfps: 25\n", `7:1: fps: found "fps" a second time, first on line 6; allowed: each field once`},
	{"misspelt", valid + "purpos: video\n", `6:1: purpos: found the unknown field "purpos"; allowed: a known field; did you mean purpose?`},
	{"misplaced", valid + "cloud_pct: 4\n", `6:1: cloud_pct: found the unknown field "cloud_pct"; allowed: a known field; did you mean light.cloud_pct?`},
	{"unknown", valid + "light: {moon: 1}\n", `6:9: light.moon: found the unknown field "moon"; allowed: one of the fields cloud_pct, sun`},
	{"missing", "version: 1\nname: x\nplace:\n  lat: 1\ntake_off: now\nlegs: [{move: hold, heading_deg: 1}]\n",
		`4:3: place.lon: found nothing; allowed: a number from -180 to 180°; it must be given
4:3: place.zone: found nothing; allowed: one line of text that is not empty; it must be given
6:8: legs[0].seconds: found nothing; allowed: a number from 1 to 600 s; it must be given`},
	{"above", valid + "ring_deg: 361\n", `6:11: ring_deg: found "361"; allowed: auto or a number from 0 to 360°`},
	{"below", valid + "light: {cloud_pct: -0.1}\n", `6:20: light.cloud_pct: found "-0.1"; allowed: a number from 0 to 100 %`},
	{"octal", valid + "fps: 010\n", `6:6: fps: found "010"; allowed: a whole number from 1 to 240 fps; without the leading zero`},
	{"hexadecimal", valid + "fps: 0x18\n", `6:6: fps: found "0x18"; allowed: a whole number from 1 to 240 fps`},
	{"grouped", valid + "ring_deg: 1_0\n", `6:11: ring_deg: found "1_0"; allowed: auto or a number from 0 to 360°`},
	{"sexagesimal", valid + "ring_deg: 1:30\n", `6:11: ring_deg: found "1:30"; allowed: auto or a number from 0 to 360°`},
	{"point in a whole number", valid + "fps: 24.0\n", `6:6: fps: found "24.0"; allowed: a whole number from 1 to 240 fps; without a point`},
	{"fraction in a whole number", valid + "fps: 23.98\n", `6:6: fps: found "23.98"; allowed: a whole number from 1 to 240 fps; no fraction`},
	{"comma", valid + "light: {cloud_pct: \"2,8\"}\n", `6:20: light.cloud_pct: found "2,8"; allowed: a number from 0 to 100 %; with a point: 2.8`},
	{"quoted", valid + "fps: '24'\n", `6:6: fps: found "24"; allowed: a whole number from 1 to 240 fps; without quotation marks`},
	{"not a number", valid + "ring_deg: .nan\nshutter_s: .inf\nfps: 1e999\n",
		`6:11: ring_deg: found ".nan"; allowed: auto or a number from 0 to 360°
7:12: shutter_s: found ".inf"; allowed: a time from 1/8000 to 30 s, as 2, 0.02 or 1/50
8:6: fps: found "1e999"; allowed: a whole number from 1 to 240 fps`},
	{"fractions", valid + "shutter_s: 1/0\n", `6:12: shutter_s: found "1/0"; allowed: a time from 1/8000 to 30 s, as 2, 0.02 or 1/50`},
	{"fraction for a number", valid + "ring_deg: 1/2\n", `6:11: ring_deg: found "1/2"; allowed: auto or a number from 0 to 360°`},
	{"too short a time", valid + "shutter_s: 1/9000\n", `6:12: shutter_s: found "1/9000"; allowed: a time from 1/8000 to 30 s, as 2, 0.02 or 1/50`},
	{"yes", strings.Replace(valid, "seconds: 2", "seconds: 2, stills_too: yes", 1), `5:61: legs[0].stills_too: found "yes"; allowed: true or false; did you mean true?`},
	{"no", strings.Replace(valid, "seconds: 2", "seconds: 2, stills_too: no", 1), `5:61: legs[0].stills_too: found "no"; allowed: true or false; did you mean false?`},
	{"the sign of mathematics", valid + "gimbal_deg: [−5, 1]\n", `6:14: gimbal_deg[0]: found "−5"; allowed: a number from -90 to 90°; with a plain hyphen for minus`},
	{"tab in a text", strings.Replace(valid, "name: x", `name: "a\tb"`, 1), `2:7: name: found "a\tb"; allowed: one line of text that is not empty; without a tab`},
	{"no name", valid + "\"\": 1\n", `6:1: "": found the unknown field ""; allowed: one of the fields version, name, place, take_off, ring_deg, light, purpose, fps, shutter_s, legs, gimbal_deg, marks, …`},
	{"empty map for a number", valid + "fps: {}\n", `6:6: fps: found an empty map; allowed: a whole number from 1 to 240 fps`},
	{"list in a pair", strings.Replace(valid, "seconds: 2", "seconds: 2, height_m: [1, [2]]", 1), `5:63: legs[0].height_m[1]: found a list of 1; allowed: a number from 0 to 500 m`},
	{"one for the pairs", valid + "skyline: 3\n", `6:10: skyline: found "3"; allowed: a list of pairs [a, b], each a number from 0 to 360°`},
	{"word", valid + "purpose: vidoe\n", `6:10: purpose: found "vidoe"; allowed: video, still or long; did you mean video?`},
	{"word for a number", valid + "ring_deg: Auto\n", `6:11: ring_deg: found "Auto"; allowed: auto or a number from 0 to 360°; did you mean auto?`},
	{"nothing", valid + "fps:\nlight: {sun: }\nnotes: ~\nring_deg: null\n",
		`6:5: fps: found nothing; allowed: a whole number from 1 to 240 fps; leave the field out for the default, 24
7:14: light.sun: found nothing; allowed: auto, shining or hidden; leave the field out for the default, auto
8:8: notes: found "~"; allowed: text; or leave the field out
9:11: ring_deg: found "null"; allowed: auto or a number from 0 to 360°; leave the field out for the default, auto`},
	{"empty text", strings.Replace(valid, "name: x", `name: ""`, 1), `2:7: name: found ""; allowed: one line of text that is not empty`},
	{"two lines", strings.Replace(valid, "name: x", `name: "a\nb"`, 1), `2:7: name: found "a\nb"; allowed: one line of text that is not empty`},
	{"own check", strings.Replace(valid, "take_off: now", "take_off: soon", 1), `4:11: take_off: found "soon"; allowed: a date and time, 2026-09-18T19:40:00`},
	{"pair", strings.Replace(valid, "seconds: 2", "seconds: 2, height_m: [1, 2, 3]", 1),
		`5:59: legs[0].height_m: found a list of 3; allowed: a number from 0 to 500 m, or a pair [from, to] of them`},
	{"half a pair", strings.Replace(valid, "seconds: 2", "seconds: 2, height_m: [1, 501]", 1), `5:63: legs[0].height_m[1]: found "501"; allowed: a number from 0 to 500 m`},
	{"pair where one is wanted", strings.Replace(valid, "seconds: 2", "seconds: [2, 3]", 1), `5:46: legs[0].seconds: found a list of 2; allowed: a number from 1 to 600 s`},
	{"one where a pair is wanted", valid + "gimbal_deg: 20\n", `6:13: gimbal_deg: found "20"; allowed: a pair [a, b], each a number from -90 to 90°`},
	{"scalar for a map", valid + "light: cloudy\n", `6:8: light: found "cloudy"; allowed: a map with cloud_pct, sun`},
	{"map for a scalar", valid + "fps: {a: 1}\n", `6:6: fps: found a map with "a"; allowed: a whole number from 1 to 240 fps`},
	{"scalar for a list", valid + "marks: 2\n", `6:8: marks: found "2"; allowed: a list, each a number from 0 to 10 stops`},
	{"item", valid + "marks:\n  - 2\n  - 11\n", `8:5: marks[1]: found "11"; allowed: a number from 0 to 10 stops`},
	{"no items", "version: 1\nname: x\nplace: {lat: 1, lon: 2, zone: UTC}\ntake_off: now\nlegs: []\n",
		`5:7: legs: found an empty list; allowed: a list of 1 to 50, each a map with move, heading_deg, seconds, speed_ms, height_m, pitch_deg, stills_too, target`},
	{"pairs", valid + "skyline: [[1, 2], 3, [4], [5, x]]\n",
		`6:19: skyline[1]: found "3"; allowed: a pair [a, b], each a number from 0 to 360°
6:22: skyline[2]: found a list of 1; allowed: a pair [a, b], each a number from 0 to 360°
6:31: skyline[3][1]: found "x"; allowed: a number from 0 to 360°`},
	{"long", valid + "fps: " + strings.Repeat("9x", 40) + "\n", `6:6: fps: found "` + strings.Repeat("9x", 19) + `…"; allowed: a whole number from 1 to 240 fps`},

	// From here on there is no document at all.
	{"anchor and alias", valid + "marks: &a [1]\nfps: *a\n",
		`6:8: marks: found an anchor (&a); allowed: values written out, without anchors (&), aliases (*) and tags (!)
7:6: fps: found an alias (*a); allowed: values written out, without anchors (&), aliases (*) and tags (!)`},
	{"alias of nothing", valid + "fps: *a\n", `6:1: found an alias: "fps: *a"; allowed: values written out, without anchors (&) and aliases (*)`},
	{"tags", valid + "fps: !!int 24\nnotes: ! 1\n",
		`6:6: fps: found a tag (!!int); allowed: values written out, without anchors (&), aliases (*) and tags (!)
7:8: notes: found a tag (!); allowed: values written out, without anchors (&), aliases (*) and tags (!)`},
	{"escaped control character", valid + `notes: "\e[2J"` + "\n", `6:8: notes: found the control character U+001B; allowed: text without control characters`},
	{"control character in a name", valid + `"\e[2J": 1` + "\n",
		`6:1: <U+001B>[2J: found the control character U+001B; allowed: text without control characters
6:1: <U+001B>[2J: found the unknown field "<U+001B>[2J"; allowed: one of the fields version, name, place, take_off, ring_deg, light, purpose, fps, shutter_s, legs, gimbal_deg, marks, …`},
	{"control characters", "a\x01\r\nb\x7f\n", `1:2: found the control character U+0001; allowed: UTF-8 text without control characters
2:2: found the control character U+007F; allowed: UTF-8 text without control characters`},
	{"turned text", "a: b\u202ec\n", `1:5: found the control character U+202E; allowed: UTF-8 text without control characters`},
	{"lone carriage return", "a: b\rc: d\n", `1:5: found the control character U+000D; allowed: UTF-8 text without control characters`},
	{"Latin-1", "name: \xe9\n", `1:7: found the byte 0xE9, which is not UTF-8; allowed: UTF-8 text without control characters`},
	{"UTF-16", "\xff\xfea\x00", `1:1: found UTF-16 text; allowed: UTF-8 text`},
	{"list", "[1, 2]\n", `1:1: found a list of 2; allowed: a map with version, name, place, take_off, ring_deg, light, purpose, fps, …`},
	{"no space", "version:1\n", `1:1: found "version:1"; allowed: a map with version, name, place, take_off, ring_deg, light, purpose, fps, …; a space after the colon`},
	{"empty", "", `1:1: found nothing; allowed: a map with version, name, place, take_off, ring_deg, light, purpose, fps, …`},
	{"comments only", "# a\n\n", `1:1: found nothing; allowed: a map with version, name, place, take_off, ring_deg, light, purpose, fps, …`},
	{"second document", valid + "---\nfps: 24\n", `6:1: found a second document; allowed: one document, without --- or ... after its start`},
	{"empty second document", valid + "---\n", `6:1: found a second document; allowed: one document, without --- or ... after its start`},
	{"behind the end", valid + "...\nrubbish\n", `7:1: found text behind the end of the document: "rubbish"; allowed: one map`},
	{"directive", "%YAML 1.2\n---\n" + valid, `1:1: found a % directive: "%YAML 1.2"; allowed: a document without directives`},
	{"explicit key", valid + "? fps\n: 24\n", `6:3: found "fps" without a colon right behind it; allowed: a name, a colon, a space and a value: "name: value"`},
	{"bare field in a list", valid + "marks: [a: 1]\n",
		`6:9: marks[0]: found a field inside a list, without braces; allowed: a map in braces: [{key: value}]
6:9: marks[0]: found a map with "a"; allowed: a number from 0 to 10 stops`},
	{"list as a name", valid + "[a]: 1\n", `6:1: found a list of 1 as a field's name; allowed: a name, followed by a colon and a value`},
	{"second colon", valid + "notes: a: b\n", `6:9: found a second colon: "notes: a: b"; allowed: one "key: value" a line; text that holds ": " stands in quotes`},
	{"indented too far", valid + "fps: 24\n  notes: a\n", `7:3: found a line that does not fit the map before it: "notes: a"; allowed: fields below each other at the same indentation, brackets in pairs`},
	{"indented too little", valid + "light:\n   sun: auto\n  cloud_pct: 1\n", `8:3: found a line that does not fit the map before it: "cloud_pct: 1"; allowed: fields below each other at the same indentation, brackets in pairs`},
	{"tab", valid + "light:\n\tsun: auto\n", `7:1: found a tab; allowed: spaces for indentation`},
	{"open brace", valid + "light: {sun: auto\nfps: 24\n", `6:1: found a { that is not closed: "light: {sun: auto"; allowed: fields between { and }, with commas between them`},
	{"open brace in a list", strings.Replace(valid, "legs: [", "legs:\n  - {move: hold\n  - ", 1), `6:3: found a { that is not closed: "- {move: hold"; allowed: fields between { and }, with commas between them`},
	{"open bracket at the end", "\n" + valid + "marks: [\n\n", `7:1: found a bracket that is not closed: "marks: ["; allowed: every [ and { with its ] and }`},
	{"open bracket at once", "[", `1:1: found a bracket that is not closed: "["; allowed: every [ and { with its ] and }`},
	{"open brace at the end", valid + "light: {", `6:1: found a bracket that is not closed: "light: {"; allowed: every [ and { with its ] and }`},
	{"open quotes", valid + "notes: \"a\nfps: 24\n", `6:1: found a quotation mark that is not closed: "notes: "a"; allowed: text between two quotation marks`},
	{"no colon", valid + "fps 24\nnotes: a\n", `6:1: found a line without a colon: "fps 24"; allowed: "key: value", with a space after the colon`},
	{"reserved", valid + "notes: @home\n", "6:1: found a character that cannot begin a value: \"notes: @home\"; allowed: text that begins with @, ` or % stands in quotes"},
	{"odd bracket", valid + "notes: }\n", `6:1: found a bracket or comma out of place: "notes: }"; allowed: a value behind each colon and dash; text with brackets stands in quotes`},
	{"unknown escape", valid + `notes: "\q"` + "\n", `6:1: found an unknown escape sequence: "notes: "\q""; allowed: \" and \\ in double quotes; or single quotes`},
}

func TestFaults(t *testing.T) {
	document := true
	for _, c := range faultTable {
		document = document && c.name != "anchor and alias"
		d, faults := Read("card.yaml", []byte(c.text), testSpec)
		want := "card.yaml:" + strings.ReplaceAll(c.faults, "\n", "\ncard.yaml:")
		got := faults.Error()
		if c.name == "explicit key" {
			got, _, _ = strings.Cut(got, "\n")
		}
		if got != want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, want)
		}
		if document != (d != nil) && c.name != "list as a name" {
			t.Errorf("%s: a document came back: %v", c.name, d != nil)
		}
	}
}

// An alias that is never expanded costs nothing, and the document is refused.
func TestAliasBomb(t *testing.T) {
	var b strings.Builder
	b.WriteString("a: &a [x, x, x, x, x, x, x, x, x]\n")
	for c := 'b'; c < 'k'; c++ {
		fmt.Fprintf(&b, "%c: &%c [%s*%c]\n", c, c, strings.Repeat(fmt.Sprintf("*%c, ", c-1), 8), c-1)
	}
	d, faults := Read("bomb.yaml", []byte(b.String()), testSpec)
	if d != nil || len(faults) < 20 || !strings.Contains(faults.Error(), "found an anchor (&j)") {
		t.Errorf("%v, %d faults", d, len(faults))
	}
}

func TestSizeLimit(t *testing.T) {
	big := []byte("version: 1\n" + strings.Repeat("#", 10<<20))
	d, faults := Read("big.yaml", big, testSpec)
	if got, want := faults.Error(), "big.yaml:1:1: found more than 256 KiB; allowed: a file of at most 256 KiB"; d != nil || got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	fits := []byte(valid + strings.Repeat("#", MaxBytes-len(valid)-1) + "\n")
	if _, faults := Read("fits.yaml", fits, testSpec); faults != nil {
		t.Error(faults)
	}
	if _, faults := Read("over.yaml", append(fits, '\n'), testSpec); len(faults) != 1 {
		t.Error("one byte too many was read")
	}
}

// A hopeless document gets a bounded report.
func TestManyFaults(t *testing.T) {
	_, faults := Read("x.yaml", []byte("marks: ["+strings.Repeat("x, ", 5000)+"]\n"), testSpec)
	last := faults[len(faults)-1]
	if n := faults.Count(); n != 5006 {
		t.Errorf("%d faults in all", n)
	}
	if len(faults) != maxFaults+1 || last.Found != "4006 more faults" {
		t.Errorf("%d faults, the last found %s", len(faults), last.Found)
	}
}

// In a map of many keys the second of two is found as well as in a small one.
func TestASecondOfMany(t *testing.T) {
	var b strings.Builder
	for i := range 80 {
		fmt.Fprintf(&b, "x%d: 1\n", i)
	}
	_, faults := Read("card.yaml", []byte(valid+"fps: 24\n"+b.String()+"fps: 25\n"), testSpec)
	if last := faults[len(faults)-1]; len(faults) != 81 || last.Line != 87 || last.Found != `"fps" a second time, first on line 6` {
		t.Errorf("%d faults, the last: %v", len(faults), last)
	}
}

// What a table checks of two numbers together is said of the pair, and only where both are numbers.
func TestACheckOfPairs(t *testing.T) {
	table := &Spec{Kind: Map, Fields: []Spec{{Key: "line", Kind: Pairs, Min: 0, Max: 360, MinItems: 2, MaxItems: 3, Unit: "°", Check: func(text string) error {
		if a, b, _ := strings.Cut(text, " "); a == b {
			return fmt.Errorf("two that differ")
		}
		return nil
	}}}}
	for text, want := range map[string]string{
		"line: [[1, 2], [3, 4]]":   "",
		"line: [[1, 2], [3,   3]]": `x:1:16: line[1]: found "3, 3"; allowed: two that differ`,
		"line: [[1, 2], [400, 4]]": `x:1:17: line[1][0]: found "400"; allowed: a number from 0 to 360°`,
		"line: [[1, 2]]":           `x:1:7: line: found a list of 1; allowed: a list of 2 to 3 pairs [a, b], each a number from 0 to 360°`,
	} {
		_, faults := Read("x", []byte(text), table)
		if got := faults.Error(); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
	}
}

func TestLayoutsThatMeanTheSame(t *testing.T) {
	want := read(t, valid)
	for name, text := range map[string]string{
		"carriage returns":      strings.ReplaceAll(valid, "\n", "\r\n"),
		"blanks before a colon": strings.Replace(strings.Replace(valid, "version:", "version  :", 1), "name:", "name\t:", 1),
		"byte order mark":       "\xef\xbb\xbf" + valid,
		"start mark":            "---\n" + valid + "...\n",
		"no last newline":       strings.TrimSuffix(valid, "\n"),
		"in braces":             "{" + strings.ReplaceAll(strings.TrimSuffix(valid, "\n"), "\n", ",\n ") + "}",
		"quoted":                strings.Replace(valid, "name: x", `"name": 'x'`, 1),
		"other order":           "name: x\n" + strings.Replace(valid, "name: x\n", "", 1),
		"folded":                strings.Replace(valid, "name: x", "name: >\n  x\n", 1),
		"tabs as blanks":        strings.Replace(valid, "name: x", "name:\tx\t# a tab", 1),
	} {
		d, faults := Read("card.yaml", []byte(text), testSpec)
		if faults != nil {
			t.Errorf("%s: %v", name, faults)
		} else if !d.Equal(want) || !bytes.Equal(d.Bytes(), []byte(text)) {
			t.Errorf("%s: %v", name, d.root)
		}
	}
}

func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-0": 0, "12": 12, "+1": 1, "12.50": 12.5, ".5": 0.5, "5.": 5, "1e3": 1000, "1.5E-2": 0.015,
	} {
		if got, ok := number(text); !ok || got != want {
			t.Errorf("%s is %v, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "-", ".", "+.", "e3", "1e", "00", "007", "0x1", "0o7", "1_000", "1 2", " 1", "1,5", "NaN", "Inf", "1e9999", "٣", "1/2", "--1"} {
		if got, ok := number(text); ok {
			t.Errorf("%q was taken for %v", text, got)
		}
	}
	for text, want := range map[string]float64{"1/50": 0.02, "0.02": 0.02, "2": 2, "1/1.25": 0.8, "10/4": 2.5} {
		if got, ok := seconds(text); !ok || got != want {
			t.Errorf("%s is %v s, %v", text, got, ok)
		}
	}
	for _, text := range []string{"/50", "1/", "1/0", "1/-2", "1/+2", "1//2", "1/2/3", "1 /2"} {
		if got, ok := seconds(text); ok {
			t.Errorf("%q was taken for %v s", text, got)
		}
	}
}

func TestQuoted(t *testing.T) {
	for text, want := range map[string]string{
		"x":                     `"x"`,
		"a\x1b[2Jb\u009c":       `"a<U+001B>[2Jb<U+009C>"`,
		"a\nb\tc":               `"a\nb\tc"`,
		"b\u202ec\u200bd":       `"b<U+202E>c<U+200B>d"`,
		strings.Repeat("é", 60): `"` + strings.Repeat("é", 38) + `…"`,
		"\xff":                  `"<0xFF>"`,
	} {
		if got := Quoted(text); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}
