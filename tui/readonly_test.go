package tui

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/panel"
)

const heldElsewhere = "pier.yaml is open in another window, so it is read-only here"

// A card that another window has open is not changed by any key on any pane or in any view, and says why where one would
// change it.
func TestNoKeyChangesAReadOnlyCard(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	s := m.card()
	s.readOnly, s.bag.readOnly = heldElsewhere, heldElsewhere
	card, bag := bytes.Clone(s.bytes()), bytes.Clone(s.bag.bytes())
	said := map[string]bool{}
	keys := []string{"enter", "delete", "pgup", "pgdown", "left", "right"}
	for r := rune('!'); r <= '~'; r++ {
		if r != 'q' && !unicode.IsDigit(r) { // leaves; goes to another view
			keys = append(keys, string(r))
		}
	}
	for _, view := range []string{"1", "2", "3", "4", "5", "6"} {
		settleKeys(m, view)
		for pane := range 3 {
			if view != "1" && pane > 0 {
				break
			}
			for _, k := range keys {
				settleKeys(m, k)
				if strings.Contains(m.note, heldElsewhere) {
					said[k] = true
				}
				if m.edit.on {
					t.Errorf("view %s: %q opens a field", view, k)
				}
				m.ask, m.list.On, m.kept.on = question{}, false, false
				if m.showCard(0); !bytes.Equal(s.bytes(), card) || !bytes.Equal(s.bag.bytes(), bag) {
					t.Fatalf("view %s: %q changes it", view, k)
				}
			}
			settleKeys(m, "esc", view, "tab") // some of them go elsewhere
		}
	}
	for _, k := range []string{"enter", "+", "-", "delete"} {
		if !said[k] {
			t.Errorf("%s does not say why it does nothing", k)
		}
	}
	change := panel.Change{Path: "name", Text: "other"}
	edit := func(c *shot.Card) (*shot.Card, field.Faults) { return c.Set("name", "other") }
	m.say("")
	if m.SetCard(change) || m.SetCardOf(s, change) || m.EditCard(edit) || m.MayEditBag() || m.note != heldElsewhere {
		t.Errorf("a view may edit it: %q", m.note)
	}
	if m.SetCardOf("no card", change) {
		t.Error("no card was edited")
	}
	m.NudgeCard("legs[0].seconds", 1)
	if !bytes.Equal(s.bytes(), card) {
		t.Error("a view nudged it")
	}
}

// What a view writes that does not fit is said, and nothing of it is written, also where a first part of it fits.
func TestAViewWritesAllOrNothing(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	card := bytes.Clone(m.card().bytes())
	for _, write := range []func() bool{
		func() bool {
			return m.SetCard(panel.Change{Path: "name", Text: "other"}, panel.Change{Path: "legs[0].seconds", Text: "long"})
		},
		func() bool {
			return m.SetCardOf(m.card(), panel.Change{Path: "name", Text: "other"}, panel.Change{Path: "legs[0].seconds", Text: "long"})
		},
		func() bool {
			return m.EditCard(func(c *shot.Card) (*shot.Card, field.Faults) { return c.Set("legs[0].seconds", "long") })
		},
	} {
		m.say("")
		if write() || !strings.HasPrefix(m.note, `found "long"; allowed: `) || !bytes.Equal(m.card().bytes(), card) {
			t.Errorf("said %q", m.note)
		}
	}
}

// Who quits with unsaved work is told what is unsaved; saving it first leaves, and where it cannot be kept for the next start
// that is said, and nobody leaves by keeping it.
func TestQuittingWithUnsavedWork(t *testing.T) {
	m := editedCard(t)
	settleKeys(m, "q")
	if text := screenText(m); !strings.Contains(text, "Not saved: ") || !strings.Contains(text, "quit and keep it for the next start") {
		t.Fatalf("%s", text)
	}
	if settleKeys(m, "esc"); m.left || m.ask.on {
		t.Error("Esc does not stay")
	}
	// A file where the folder of kept work should be: nothing can be kept.
	blocked := t.TempDir()
	if err := os.WriteFile(filepath.Join(blocked, "skywedge"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_STATE_HOME", blocked)
	settleKeys(m, "-", "-", "q")
	if text := strings.Join(strings.Fields(m.ask.text), " "); !strings.Contains(text, "It cannot be kept for the next start either: ") {
		t.Fatalf("%q", text)
	}
	if settleKeys(m, "k"); m.left || !m.ask.on {
		t.Error("it leaves with work that is not kept")
	}
	if settleKeys(m, "x"); !m.left {
		t.Error("it does not leave without it")
	}
}

// A flight keeps its last leg, and the only card is all there is.
func TestTheLastOfEach(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.cards = m.cards[:1]
	if m.cardBy(1); m.note != "this is the only card" {
		t.Errorf("%q", m.note)
	}
	for m.card().legs() > 1 {
		m.askDeleteLeg()
		if !m.ask.on {
			t.Fatalf("%q", m.note)
		}
		settleKeys(m, "y")
	}
	if m.askDeleteLeg(); m.ask.on || m.note != "a flight needs a leg; this is the only one" || m.card().legs() != 1 {
		t.Errorf("%q", m.note)
	}
}
