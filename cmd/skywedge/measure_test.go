package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/plan/store"
)

// On a terminal it asks, and only a yes writes; a bag that lies open in a window, or that cannot have what was measured, is
// left alone.
func TestMeasureAsks(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Chdir(dir)
	picture := func(name string, light float64, iso uint16) {
		write(t, name, string(phototest.Wall{Wide: 144, Tall: 96, Light: [3]float64{light, light, light}}.JPEG(phototest.Shot{Shutter: [2]uint32{1, 1}, ISO: iso})))
	}
	picture("bare.jpg", 0.2, 100)
	picture("through.jpg", 0.2/8, 800)
	line := []string{"measure", "ND8", "--bare", "bare.jpg", "--through", "through.jpg"}
	for _, typed := range []string{"", "n\n", "\n", "maybe\n"} {
		text, code := askedRun(t, typed, line...)
		if _, err := os.Stat("bag.yaml"); err == nil || code != exitDone || !strings.Contains(text, "write this into bag.yaml? y or n: ") || !strings.HasSuffix(text, "nothing was written\n") {
			t.Errorf("%q: code %d\n%s", typed, code, text)
		}
	}
	if text, code := askedRun(t, "y\n", line...); code != exitDone || !strings.Contains(text, "copied to bag.yaml, and what was measured written there") {
		t.Errorf("code %d\n%s", code, text)
	}
	data, err := os.ReadFile("bag.yaml")
	if err != nil || !strings.Contains(string(data), "measured_stops: 3") {
		t.Fatalf("%v\n%s", err, data)
	}
	text, code := askedRun(t, "y\n", "measure", "CPL", "--bare", "bare.jpg", "--through", "through.jpg")
	if code != exitDone || strings.Contains(text, "y or n") || !strings.HasSuffix(text, "\nWhat was measured does not fit into the bag, and nothing was written: loss_stops would be 3; allowed: a number from 1 to 2 stops.\n") {
		t.Errorf("a polariser of three stops: code %d\n%s", code, text)
	}
	unheard := &env{in: strings.NewReader(""), out: noRoom{}, err: io.Discard, now: demoNow}
	if code := run(unheard, []string{"measure", "ND16", "--bare", "bare.jpg", "--through", "through.jpg", "--yes"}); code != exitFailed {
		t.Errorf("it could not be said: code %d", code)
	}
	if after, _ := os.ReadFile("bag.yaml"); string(after) != string(data) {
		t.Error("what could not be shown was written")
	}
	lock, err := store.Acquire("bag.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Release()
	text, code = askedRun(t, "", "measure", "ND16", "--bare", "bare.jpg", "--through", "through.jpg", "--yes")
	if after, _ := os.ReadFile("bag.yaml"); code != exitFailed || string(after) != string(data) || !strings.Contains(text, "so nothing was written; measure it there in view 3, or close it first") {
		t.Errorf("code %d\n%s", code, text)
	}
}

// Pictures are put together to sets by where they stand, where it matters.
func TestSetsOf(t *testing.T) {
	row := measureRow()
	density, variable := kit.Filter{Name: "d", Kind: kit.Density}, kit.Filter{Name: "v", Kind: kit.Variable, FromStops: 2, ToStops: 5}
	for line, want := range map[string]string{
		"--bare a --through c":                                       "a//c/0",
		"--through c --darker b --bare a":                            "a/b/c/0",
		"--bare a --darker b --through c --through d":                "a/b/c/0 a/b/d/0",
		"--bare a --darker b --through c --bare e --through g":       "a/b/c/0 e//g/0",
		"--bare a --through c --bare e --darker f --through g":       "a//c/0 e/f/g/0",
		"v --setting 2 --bare a --through c --setting 3 --through d": "a//c/2 a//d/3",
		"v --bare a --through c --setting 2":                         "a//c/2",
		"":                                                           "",
		"--bare a":                                                   "a bare picture tells nothing alone: give the one through the filter behind it, with --through",
		"--bare a --through c --bare e":                              "a bare picture tells nothing alone: give the one through the filter behind it, with --through",
		"--through c":                                                "--through c: give the bare picture of the same wall before it, with --bare",
		"--through c --bare a --bare e":                              "--through c: give the bare picture of the same wall before it, with --bare",
		"v --bare a --through c":                                     "--through c: say before it, with --setting, what v was set to",
		"v --bare a --through c --setting 2 --through d --setting 3": "--through c: say before it, with --setting, what v was set to",
		"v --bare a --setting 9 --through c":                         "--setting 9: v goes from 2 to 5 stops",
		"--bare a --setting 2 --through c":                           "--setting: d is a density; only a variable is set to something",
	} {
		a, err := row.Read(strings.Fields(line))
		if err != nil {
			t.Fatal(err)
		}
		f := density
		if strings.HasPrefix(line, "v ") {
			f = variable
		}
		sets, err := setsOf(a.Order, f)
		var all []string
		for _, s := range sets {
			all = append(all, strings.Join([]string{s.bare, s.darker, s.through, field.Figure(s.setting, 1)}, "/"))
		}
		got := strings.Join(all, " ")
		if err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
}

// noRoom takes nothing.
type noRoom struct{}

func (noRoom) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// What is too wide goes on under its own text, behind both titles of a line.
func TestHanging(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"           model    top left −0.3, top right −0.3":  "           model    top left −0.3,\n                    top right −0.3",
		"  corners  measured top left 0, top right 0":        "  corners  measured top left 0, top\n           right 0",
		"  - the light changed, or the camera brightened it": "  - the light changed, or the camera\n    brightened it",
	} {
		if got := hanging(line, 37); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
