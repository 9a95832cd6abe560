//go:build unix

package tui

import "testing"

// The trip on a terminal without colour: the order proposed is looked at and taken, and a take-off is taken back.
func TestTripScreen(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("6")
	s.Until("▸ 6 Trip")
	s.Until("! 143 min late")
	s.Type("G")
	s.Until("▸  3 20:36 Harbour")
	s.Until("a: 1 window more held")
	s.Type("a")
	s.Until("The order proposed")
	s.Until("now 18:30")
	s.Type("\r")
	s.Until("2 take-offs moved")
	s.Type("gjjjj") // the sea stacks are first on their day now
	s.Until("▸  1 14:")
	s.Type("u")
	s.Until("18:30 Sea stacks")
	s.Type("+")
	s.Until("18:35 Sea stacks")
	s.Type("\r")
	s.Until("Through the lens")
}
