package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/store"
)

// editedCard and editedBag make an unsaved change of a demo's document.
func editedCard(t *testing.T) *model {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	settleKeys(m, "+")
	return m
}

func editedBag(t *testing.T) *model {
	m := bagModel(t, 120, 36, "")
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "+")
	return m
}

// A file that is loaded in place of an open document is its file from then on, for a card as for a bag:
// the next save goes there and asks nothing, and what was kept under the old name is not offered again.
func TestALoadedFileIsTheDocuments(t *testing.T) {
	path := filepath.Join(t.TempDir(), "other.yaml")
	for _, c := range []struct {
		name string
		open func(*testing.T) *model
		file []byte
		of   func(m *model) (file, key string, fileless, unsaved bool)
	}{
		{"card", editedCard, examples.Card("1-breakwater"), func(m *model) (string, string, bool, bool) {
			o := m.card()
			return o.file, o.key, o.fileless, o.unsaved
		}},
		{"bag", editedBag, examples.Bag(), func(m *model) (string, string, bool, bool) {
			o := m.card().bag
			return o.file, o.key, o.fileless, o.unsaved
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := c.open(t)
			m.keepAll()
			_, old, _, _ := c.of(m)
			if _, ok, _ := store.ReadRecovery(old); !ok {
				t.Fatal("the work is not kept")
			}
			if err := os.WriteFile(path, c.file, 0o644); err != nil {
				t.Fatal(err)
			}
			settleKeys(m, "s")
			m.ask.line = newLine(path)
			settleKeys(m, "enter")
			if !m.ask.on || !strings.Contains(m.ask.text, "exists already") {
				t.Fatalf("a file of that name is not asked about: %+v", m.ask)
			}
			settleKeys(m, "l")
			file, key, fileless, unsaved := c.of(m)
			if file != path || key != path || fileless || unsaved {
				t.Errorf("file %q, recovery by %q, fileless %v, unsaved %v", file, key, fileless, unsaved)
			}
			if _, ok, _ := store.ReadRecovery(old); ok {
				t.Error("the old one's recovery file stays behind")
			}
			settleKeys(m, "u", "s")
			if data := must(os.ReadFile(path)); m.ask.on || string(data) == string(c.file) {
				t.Errorf("u brings mine back and s saves it: asked %v", m.ask.on)
			}
		})
	}
}

// Work of an earlier run that nobody decided on yet outlives a change of another document.
func TestUndecidedWorkOutlivesOtherChanges(t *testing.T) {
	m := editedCard(t)
	key := m.card().key
	m.keepAll()
	n := openAgain(t, m)
	if !n.ask.on {
		t.Fatal("the work is not offered")
	}
	settleKeys(n, "esc", "3", "e")
	toFilter(t, n, "ND16", "stops")
	settleKeys(n, "+")
	for _, msg := range results(n.keep()) {
		settle(n, msg)
	}
	if _, ok, _ := store.ReadRecovery(n.card().bag.key); !ok {
		t.Error("the change of the bag is not kept")
	}
	if _, ok, _ := store.ReadRecovery(key); !ok {
		t.Error("the card's kept work is gone, though nobody decided on it")
	}
}

// Leaving saves the document that the question names, also where the card on the screen has another bag.
func TestQuitSavesWhatItNames(t *testing.T) {
	p := bagFile(t)
	m := bagModel(t, 120, 36, p)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "+", "esc", "esc", "o", "q") // a new shot, which has no file yet
	if len(m.ask.choices) != 3 || !strings.Contains(m.ask.text, "the bag bag.yaml") {
		t.Fatalf("%+v", m.ask)
	}
	settleKeys(m, "s")
	if !m.left || !strings.Contains(string(must(os.ReadFile(p))), "stops: 4.") {
		t.Errorf("s does not save the bag and leave: left %v, asked %q", m.left, m.ask.text)
	}
}
