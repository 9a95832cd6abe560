//go:build unix

package tui

import "testing"

// A paste whose end the terminal leaves out does not take the keyboard with it: Ctrl-C works at once, and the other
// keys after a while.
// Two Escs that arrive together are two Escs: the field closes, and what is typed then is a command.
func TestTwoEscsTogetherAreTwo(t *testing.T) {
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("\r")
	s.Until("Enter keep")
	s.Type("\x1b\x1b")
	s.Gone("Enter keep")
	s.Type("?")
	s.Until("─ Keys")
}

func TestAPasteThatDoesNotEnd(t *testing.T) {
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("\x1b[200~some text")
	s.Until("Enter opens a field to paste into")
	s.Type("jjjjj+")
	s.Until("leg 1 · 335°")
	s.Type("\x1b[200~more text")
	s.Type("\x03")
	s.Until("Not saved")
}
