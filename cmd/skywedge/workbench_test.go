package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui"
)

// The workbench saves the bag where it was read from, and asks where it has no file.
func TestTheBagsFile(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	trip, alone := filepath.Join(t.TempDir(), "trip"), t.TempDir()
	if err := copyExamples(trip); err != nil {
		t.Fatal(err)
	}
	card := filepath.Join(alone, "shot.yaml")
	if err := os.WriteFile(card, examples.Card("1-breakwater"), 0o644); err != nil {
		t.Fatal(err)
	}
	beside := filepath.Join(trip, "bag.yaml")
	t.Chdir(trip) // the demo's bag is built in, whatever lies here
	for _, c := range []struct {
		name, bag string
		cards     []string
		want      string
	}{
		{"the demo", "", nil, ""},
		{"the demo with a bag", beside, nil, beside},
		{"a folder", "", []string{trip}, beside},
		{"a card", "", []string{filepath.Join(trip, "2-lighthouse.yaml")}, beside},
		{"a card without a bag", beside, []string{card}, beside},
		{"a card and the generic bag", "", []string{card}, ""},
	} {
		_, bag, err := gather(discard(nil), c.cards, c.bag)
		if err != nil || bag.Bag == nil || bag.saveTo() != c.want {
			t.Errorf("%s: the bag is %s, %v", c.name, bag, err)
		}
	}
}

// What a killed save left beside a card goes when the workbench opens on it; a file of any other name,
// and the folder in which the demo is shown, are left alone.
func TestStraysAreSwept(t *testing.T) {
	here, trip := t.TempDir(), t.TempDir()
	const stray = ".skywedge-4294967-0123456789abcdef.tmp" // no process has a number above 4194304 on Linux
	for _, p := range []string{filepath.Join(here, stray), filepath.Join(trip, stray), filepath.Join(trip, "notes.tmp")} {
		if err := os.WriteFile(p, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(here)
	sweep([]tui.Source{{Path: "1-breakwater.yaml", Demo: true}, {Path: filepath.Join(trip, "a.yaml")}, {Path: filepath.Join(trip, "b.yaml")}},
		time.Now().Add(time.Minute))
	for p, want := range map[string]bool{filepath.Join(here, stray): true, filepath.Join(trip, stray): false, filepath.Join(trip, "notes.tmp"): true} {
		if _, err := os.Stat(p); (err == nil) != want {
			t.Errorf("%s is there: %v, want %v", p, err == nil, want)
		}
	}
}

// The workbench opens what can be opened of a folder and of many names, and says what it left out before its own
// screen covers the terminal. A card that is not there yet is a new one; a link to nothing is not.
func TestTheWorkbenchGoesOn(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	trip := filepath.Join(t.TempDir(), "trip")
	if err := copyExamples(trip); err != nil {
		t.Fatal(err)
	}
	at := func(name string) string { return filepath.Join(trip, name) }
	if err := os.Symlink("nowhere", at("8-gone.yaml")); err != nil {
		t.Skip(err)
	}
	big := append([]byte("skywedge: 1\n"), bytes.Repeat([]byte("#"), field.MaxBytes)...)
	if err := os.WriteFile(at("9-big.yaml"), big, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		paths      []string
		open, left int
	}{
		{[]string{trip}, len(examples.Cards()), 2},
		{[]string{at("1-breakwater.yaml"), at("8-gone.yaml"), at("bag.yaml"), at("new.yaml"), at("9-big.yaml")}, 2, 3},
		{[]string{at("new.yaml")}, 1, 0},
	} {
		var said strings.Builder
		e := discard(nil)
		e.err, e.terminal = &said, true
		sources, bag, err := gather(e, c.paths, "")
		if err != nil || len(sources) != c.open || e.left != c.left || strings.Count(said.String(), "left out: ") != c.left || bag.file != at("bag.yaml") {
			t.Errorf("%q: %d cards, %d left out, the bag is %q, %v:\n%s", c.paths, len(sources), e.left, bag, err, said.String())
		}
	}
	for _, paths := range [][]string{{at("8-gone.yaml")}, {at("9-big.yaml")}, {at("bag.yaml")}, {at("8-gone.yaml"), at("bag.yaml")}} {
		e := discard(nil)
		e.terminal = true
		if sources, _, err := gather(e, paths, ""); err == nil {
			t.Errorf("%q opens %d cards", paths, len(sources))
		}
	}
}
