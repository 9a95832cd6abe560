//go:build unix

package tui

import (
	"strings"
	"testing"
)

// What a leg lacks is asked beside its field at every size, and the last good answer stays. What is typed in feet is
// said back in metres.
func TestWhatIsMissingIsAskedBesideItsField(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}} {
		s := open(t, size[0], size[1])
		s.Until("ISO")
		s.Type("\t\r")
		s.Type("orb\r")
		s.Until("orbit")
		s.Until("at the subject")
		if strings.Contains(s.Text(), "last good answer") {
			t.Errorf("%v: choosing a move loses the answer:\n%s", size, s.Text())
		}
		s.Type("\x1b[C\r300\r")
		s.Until("! leg 1, orbit: from")
		s.Until("which?")
		s.Until("last good answer")
		s.Type("\r300-60\r")
		s.Gone("last good answer")
		s.Until("300→60")
		s.Type("\x1b[C\x1b[C\x1b[C\r100ft")
		s.Until("100 ft = 30.5 m")
		s.Type("\r")
		s.Until("30.5")
		s.Type("u")
		s.Gone("30.5")
	}
}
