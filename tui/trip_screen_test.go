//go:build unix

package tui

import "testing"

// The trip on a terminal without colour: the order proposed is looked at and taken, and a take-off is taken back.
func TestTripScreen(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("6")
	s.Until("▸ 6 Trip")
	s.Until("! outside window")
	s.Until("a: 1 more in window")
	s.Type("gj")
	s.Until("▸  1 13:10 Lighthouse")
	s.Type("a")
	s.Until("The order proposed")
	s.Until("now 13:10")
	s.Type("\r")
	s.Until("2 take-offs moved")
	s.Until("▸  2 18:34 Lighthouse")
	s.Type("u")
	s.Until("▸  1 13:10 Lighthouse")
	s.Type("+")
	s.Until("13:15 Lighthouse")
	s.Type("\r")
	s.Until("Through the lens")
}
