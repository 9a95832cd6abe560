//go:build unix

package tui

import "testing"

// The filters on a terminal without colour, where words and figures alone must say it.
func TestFiltersScreen(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("3")
	s.Until("10 ND1000") // the ranking is there
	s.Type("G")
	s.Until("▸10 ND1000")
	golden(t, "filters-120x36", s, func() []string { return crop(s.Lines(), 80, 3, 40, 20) })
	s.Type("\r")
	s.Until("ND1000 is on the card")
	s.Until("▸1 ND1000 · card") // what the card asks for stands first
	s.Type("u")
	s.Until("▸10 ND1000")
}
