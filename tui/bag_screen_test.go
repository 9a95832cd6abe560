//go:build unix

package tui

import (
	"os"
	"strings"
	"testing"

	"example.org/skywedge/examples"
)

// The fields of a filter on a terminal without colour, and the bag's file after the program has gone.
func TestBagScreen(t *testing.T) {
	card := cardFile(t)
	s := open(t, 120, 36, "NO_COLOR=1", "CARD="+card)
	s.Until("ISO")
	s.Type("3")
	s.Until("What it does")
	s.Type("l") // to the hybrid
	s.Until("ND8/PL · hybrid")
	s.Type("e")
	s.Until("demo bag, a copy")
	s.Type("jjj")
	s.Until("sheet takes: what the polarising")
	golden(t, "bag-120x36", s, func() []string { return crop(s.Lines(), 80, 3, 40, 10) })
	s.Type("k\r6.\r") // 6 stops and a point: a number
	s.Until("bag not saved")
	s.Type("s")
	s.Until("Save this bag as")
	s.Type("\r")
	s.Until("the bag is saved as")
	p := strings.Replace(card, "shot.yaml", "bag.yaml", 1)
	data, err := os.ReadFile(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(examples.Bag()), "\n") {
		if !strings.Contains(line, "name: ND8/PL") && !strings.Contains(string(data), line) {
			t.Errorf("the file lost %q", line)
		}
	}
	if string(data) == string(examples.Bag()) {
		t.Error("the change is not in the file")
	}
}
