//go:build unix

package tui

import "testing"

// The list to carry on a terminal without colour.
func TestWalkScreen(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("5")
	s.Until("white balance")
	golden(t, "walk-120x36", s, func() []string { return crop(s.Lines(), 0, 3, 120, 22) })
}
