package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/tui/line"
)

// saveAs saves the card on the screen under a name.
func saveAs(m *model, path string) {
	settleKeys(m, "w")
	m.ask.line = line.New(path)
	settleKeys(m, "enter")
}

// A card that is saved where another bag would answer it says so first: the bag can come along, or the card goes
// alone; and nothing is asked where the bag stays the same.
func TestSavingElsewhereDoesNotChangeTheBagInSilence(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	m := testModel(t, 120, 36, nil)
	if text := screenText(m); !strings.Contains(text, "the demo's bag") {
		t.Errorf("the title does not say which bag:\n%s", text)
	}
	dir := t.TempDir()
	path, beside := filepath.Join(dir, "card.yaml"), filepath.Join(dir, "bag.yaml")
	exists := func(p string) bool { _, err := os.Stat(p); return err == nil }

	saveAs(m, path)
	if !m.ask.on || !strings.Contains(m.ask.text, "generic bag") || exists(path) {
		t.Fatalf("saved without a word: %q", m.note)
	}
	settleKeys(m, "esc")
	if exists(path) || exists(beside) || !m.card().fileless {
		t.Error("Esc saves")
	}
	saveAs(m, path)
	settleKeys(m, "c")
	if !exists(path) || !exists(beside) || m.card().bag.fileless || m.card().bag.unsaved || m.cards[1].bag == m.card().bag {
		t.Errorf("the bag did not come along: %q", m.note)
	}
	if text := screenText(m); !strings.Contains(text, "bag.yaml") || strings.Contains(text, "the demo's bag") {
		t.Errorf("the title says\n%s", text)
	}
	saveAs(m, filepath.Join(dir, "second.yaml")) // beside the same bag
	if m.ask.on || !exists(filepath.Join(dir, "second.yaml")) {
		t.Errorf("asked for nothing: %q", m.ask.text)
	}

	other := t.TempDir() // has another bag, which is not touched
	if err := os.WriteFile(filepath.Join(other, "bag.yaml"), kit.EmptyBag("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	saveAs(m, filepath.Join(other, "card.yaml"))
	if settleKeys(m, "c"); exists(filepath.Join(other, "card.yaml")) {
		t.Error("the bag that is there was to be written over")
	}
	settleKeys(m, "a")
	data, err := os.ReadFile(filepath.Join(other, "bag.yaml"))
	if err != nil || string(data) != string(kit.EmptyBag("x")) || !exists(filepath.Join(other, "card.yaml")) {
		t.Errorf("%v %q", err, m.note)
	}
}

// A bag of one's own begins empty or from the generic one, is answered with at once, and u brings the other back.
func TestABagOfOnesOwn(t *testing.T) {
	for key, filters := range map[string]int{"e": 0, "g": len(kit.Generic().Filters)} {
		m := testModel(t, 120, 36, nil)
		was, camera := len(m.card().kit().Filters), m.card().text("camera")
		settleKeys(m, "B", key)
		if len(m.card().kit().Filters) != filters || m.calc.report == nil || len(m.calc.faults) > 0 || m.here() != inBag {
			t.Fatalf("%s: %d filters, %v", key, len(m.card().kit().Filters), m.calc.faults)
		}
		if m.views.filters.Field(m).Path != "cameras[0].name" {
			t.Errorf("%s: at %s", key, m.views.filters.Field(m).Path)
		}
		settleKeys(m, "u")
		if len(m.card().kit().Filters) != was || m.card().text("camera") != camera || len(m.calc.faults) > 0 {
			t.Errorf("%s: one step does not bring all back: %v", key, m.calc.faults)
		}
	}
}
