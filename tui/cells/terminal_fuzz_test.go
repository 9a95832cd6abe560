package cells

import "testing"

// Whatever the environment says of the terminal and its ground: one of the profiles and one of the themes.
func FuzzTerminal(f *testing.F) {
	for _, s := range [][4]string{{"xterm-256color", "truecolor", "15;0", "dark"}, {"", "", "", ""}, {"dumb", "24bit", ";", "light"}, {"vt100-m", "", "0;default;15", "-direct"}} {
		f.Add(s[0], s[1], s[2], s[3])
	}
	f.Fuzz(func(t *testing.T, term, colour, ground, theme string) {
		p := DetectProfile(func(name string) string { return map[string]string{"TERM": term, "COLORTERM": colour}[name] }, false)
		if p != NoColour && p != Sixteen && p != TwoFiftySix && p != TrueColour {
			t.Fatalf("%q and %q are profile %v", term, colour, p)
		}
		switch got := ThemeByName(theme, ground); {
		case got == nil:
			t.Fatalf("%q on %q is no theme", theme, ground)
		case got.Light != (theme == "light" || theme != "dark" && LightGround(ground)):
			t.Fatalf("%q on %q is light %v", theme, ground, got.Light)
		}
	})
}
