package tui

import (
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// Every line of the forms has a name of its own within its group, short enough for its column; what the exposure is
// made for, the white balance, the kind of haze and the light wanted are among them.
func TestFormLabels(t *testing.T) {
	const column = 15 // what a form leaves for names at its narrowest
	seen := map[string]bool{}
	for _, rows := range [][]panel.Row{shotRows(0, true), legRows(0, true)} {
		inGroup := map[string]string{}
		for _, r := range rows {
			if r.Heading {
				inGroup = map[string]string{}
			}
			if other, twice := inGroup[r.Label]; twice {
				t.Errorf("%s and %s are both called %q", other, r.Path, r.Label)
			}
			inGroup[r.Label] = r.Path
			if cells.Width(r.Label) > column {
				t.Errorf("%s: %q is longer than %d cells", r.Path, r.Label, column)
			}
			seen[r.Path] = true
		}
	}
	for _, path := range []string{"expose", "white_balance", "light.air", "want.sun_height_deg", "want.sun_side", "legs[0].expose", "legs[0].white_balance"} {
		if !seen[path] {
			t.Errorf("%s is on no form", path)
		}
	}
}
