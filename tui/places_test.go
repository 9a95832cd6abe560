package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/where"
)

// typeKeys presses keys, a text letter by letter.
func typeKeys(m *model, text string, then ...string) {
	for _, r := range text {
		press(m, string(r))
	}
	press(m, then...)
}

// Whatever is found is gone to, from anywhere.
func TestFindGoesThere(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	for _, from := range []string{"1", "3", "5"} {
		for _, c := range []struct{ typed, path string }{
			{"wind from", "light.wind_from_deg"}, {"seconds leg 3", "legs[2].seconds"}, {"zone", "place.zone"},
			{"subject away leg 2", "legs[1].target.distance_m"}, {"notes", "notes"},
		} {
			press(m, from)
			press(m, "/")
			typeKeys(m, c.typed, "enter")
			if m.view != viewShot || m.field().Path != c.path {
				t.Errorf("%q from view %s leads to %s in view %d", c.typed, from, m.field().Path, m.view+1)
			}
		}
	}
	press(m, "/")
	typeKeys(m, "filter nd8", "enter")
	if m.view != viewFilters || m.here() != inBag || !strings.HasSuffix(m.views.filters.Field(m).Path, ".name") {
		t.Errorf("a filter: view %d, %+v", m.view+1, m.views.filters.Field(m))
	}
	press(m, "/")
	typeKeys(m, "view 4", "enter")
	if m.view != viewHours {
		t.Errorf("the key of a view: view %d", m.view+1)
	}
	press(m, "/")
	typeKeys(m, "delete this leg", "enter")
	if m.view != viewShot || m.focus != paneLegs || m.ask.on || !strings.Contains(m.note, "delete this leg") {
		t.Errorf("a key is done instead of shown: %q", m.note)
	}
	if len(m.cards) > 1 {
		press(m, "/")
		typeKeys(m, "card "+m.cards[1].name(), "enter")
		if m.at != 1 {
			t.Error("a card is not shown")
		}
	}
	before := m.card().current
	press(m, "/")
	typeKeys(m, "quxdpsu", "esc", "esc")
	if m.list.On || m.card().current != before || m.left {
		t.Error("letters that search are keys")
	}
}

// Every field that a form has can be found.
func TestFindKnowsEveryField(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.more[paneShot], m.more[paneLegs] = true, true
	known := map[string]bool{}
	for _, it := range m.places() {
		known[it.Text] = true
	}
	for pane, ofLeg := range map[int]string{paneShot: "", paneLegs: ", leg 1"} {
		for _, r := range m.rows(pane) {
			if r.Path == where.ZonePath {
				r.Label = "zone" // its offset is no part of its name
			}
			if name := r.Label + ofLeg; !r.Heading && !known[name] {
				t.Errorf("%q is not found", name)
			}
		}
	}
}

// The list of keys is searched by typing, and closes as it was opened.
func TestTheListOfKeysIsSearched(t *testing.T) {
	m := testModel(t, 80, 24, nil)
	press(m, "?")
	typeKeys(m, "redo")
	if text := screenText(m); !strings.Contains(text, "Ctrl-R") || strings.Contains(text, "to the line above") {
		t.Errorf("%s", text)
	}
	press(m, "esc", "?")
	if m.list.On {
		t.Error("the list is still open")
	}
}
