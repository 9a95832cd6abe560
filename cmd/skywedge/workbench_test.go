package main

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/skywedge/examples"
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
		_, bag, file, err := gather(discard(nil), c.cards, c.bag)
		if err != nil || bag == nil || file != c.want {
			t.Errorf("%s: the bag's file is %q, %v", c.name, file, err)
		}
	}
}
