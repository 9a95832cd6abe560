package filters

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// inForm presses keys that work in the form.
func inForm(t *testing.T, v *View, b panel.Bench, keys ...string) {
	t.Helper()
	for _, key := range keys {
		i := slices.IndexFunc(v.FormKeys(), func(k panel.Key) bool { return slices.Contains(strings.Fields(k.Keys), key) })
		if i < 0 {
			t.Fatalf("%q does nothing in the form", key)
		}
		v.FormKeys()[i].Do(b)
	}
}

// The form goes through filters, cameras, modes and settings; no form has a name twice, and all fit their column.
func TestTheFormHasEveryPartOfTheBag(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("e")
	inForm(t, v, b, "m")
	kinds := map[string]int{}
	for range b.B.Parts() {
		part := v.part(b.B)
		kinds[part.Kind]++
		at := map[string]string{}
		for _, r := range v.rows(b.B) {
			if other, twice := at[r.Label]; twice {
				t.Errorf("%s: %s and %s are both called %q", part.Name, other, r.Path, r.Label)
			}
			at[r.Label] = r.Path
			if cells.Width(r.Label) > 15 {
				t.Errorf("%s: %q is too long", r.Path, r.Label)
			}
		}
		inForm(t, v, b, "right")
	}
	if kinds["filter"] != len(b.B.Filters) || kinds["camera"] != len(b.B.Cameras) || kinds["mode"] == 0 || kinds["settings"] != 1 {
		t.Errorf("%v", kinds)
	}
	var round []string
	for range 4 {
		round = append(round, v.part(b.B).Kind)
		inForm(t, v, b, "r")
	}
	if got := strings.Join(round, " "); got != "filter camera settings filter" {
		t.Errorf("r goes %s", got)
	}
}

// Cameras and modes are added, doubled and taken out like filters, but for the last camera.
func TestCamerasAreEditedLikeFilters(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("e")
	inForm(t, v, b, "r", "a")
	if n := len(b.B.Cameras); n != 2 || v.part(b.B).Name != "new camera" {
		t.Fatalf("%d cameras, at %s", n, v.part(b.B).Name)
	}
	inForm(t, v, b, "M")
	if p := v.part(b.B); p.Kind != "mode" || p.Name != "new camera: new mode" || len(b.B.Cameras[1].Modes) != 1 {
		t.Errorf("at %+v", p)
	}
	inForm(t, v, b, "d")
	if len(b.B.Cameras[1].Modes) != 2 {
		t.Errorf("d doubles no mode: %s", b.Said)
	}
	for v.part(b.B).Kind != "settings" {
		inForm(t, v, b, "right")
	}
	if inForm(t, v, b, "M"); !strings.Contains(b.Said, "belongs to a camera") {
		t.Errorf("said %q", b.Said)
	}
}

// What no longer fits together is said by the name that the form has for it.
func TestAFaultNamesTheFieldAsTheFormDoes(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("e")
	inForm(t, v, b, "r")
	_, faults := b.B.Set("cameras[0].iso.clean", "9999")
	if len(faults) == 0 {
		t.Fatal("a clean ISO over the highest is taken")
	}
	if text := Fault(faults, panel.Row{Path: "cameras[0].iso.clean"}); !strings.HasPrefix(text, "highest ISO: found") {
		t.Errorf("%s", text)
	}
	_, faults = b.B.Set("settings.reserve_pct", "999")
	if text := Fault(faults, panel.Row{Path: "cameras[0].name"}); !strings.HasPrefix(text, "reserve: found") {
		t.Errorf("%s", text)
	}
}
