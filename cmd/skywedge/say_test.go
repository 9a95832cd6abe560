package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// What is shown and what is only counted are all the faults there are, also where the reader stopped listing them; a file
// that is not named is counted by itself.
func TestEveryFaultIsCounted(t *testing.T) {
	var text, said strings.Builder
	for i := range 1500 {
		fmt.Fprintf(&text, "unknown_%d: 1\n", i)
	}
	_, faults := shot.ReadCard("bad.yaml", []byte(text.String()))
	e := &env{columns: 80, err: &said, several: true, hasJSON: true}
	e.tellFaults(faults)
	for range 100 {
		e.tell("left out: another", 0)
	}
	e.tellRest()
	var shown, named, more, files int
	for line := range strings.Lines(said.String()) {
		switch {
		case strings.HasPrefix(line, "bad.yaml:"):
			shown++
		case strings.HasPrefix(line, "left out: "):
			named++
		case strings.Contains(line, "left out"):
			fmt.Sscanf(line, "and %d more files", &files)
		default:
			fmt.Sscanf(line, "and %d more (", &more)
		}
	}
	if shown < 5 || shown+more != faults.Count() || faults.Count() < 1500 {
		t.Errorf("%d faults are shown and %d more, of %d", shown, more, faults.Count())
	}
	if named < 3 || named+files != 100 {
		t.Errorf("%d files are named and %d more, of 100", named, files)
	}
}

// A bag that was changed is let go at once: the next change, in the same program, finds it free.
func TestAChangedBagIsLetGo(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	file := filepath.Join(t.TempDir(), "bag.yaml")
	use := bagUse{Bag: kit.Generic()}
	for range 3 {
		if err := use.change(file, "", func(b *kit.Bag) (*kit.Bag, error) { return b, nil }); err != nil {
			t.Fatal(err)
		}
		use.file = file
	}
}
