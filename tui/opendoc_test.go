package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/store"

	"example.org/skywedge/tui/line"
)

// keptFiles lists the recovery files.
func keptFiles(t *testing.T) []store.Recovery {
	t.Helper()
	list, wrong := store.Recoveries(time.Now())
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return list
}

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
			if err := m.keepAll(); err != nil || len(keptFiles(t)) != 1 {
				t.Fatal("the work is not kept", err)
			}
			if err := os.WriteFile(path, c.file, 0o644); err != nil {
				t.Fatal(err)
			}
			settleKeys(m, "s")
			m.ask.line = line.New(path)
			settleKeys(m, "enter")
			cardAlone(m)
			if !m.ask.on || !strings.Contains(m.ask.text, "exists already") {
				t.Fatalf("a file of that name is not asked about: %+v", m.ask)
			}
			settleKeys(m, "l")
			file, key, fileless, unsaved := c.of(m)
			if file != path || key != path || fileless || unsaved {
				t.Errorf("file %q, recovery by %q, fileless %v, unsaved %v", file, key, fileless, unsaved)
			}
			if err := m.keepAll(); err != nil || len(keptFiles(t)) != 0 {
				t.Error("what was kept of the old one stays behind", err)
			}
			settleKeys(m, "u", "s")
			if data := must(os.ReadFile(path)); m.ask.on || string(data) == string(c.file) {
				t.Errorf("u brings mine back and s saves it: asked %v", m.ask.on)
			}
		})
	}
}

// cardAlone saves a card of the demo without its bag, where that is asked.
func cardAlone(m *model) {
	if m.ask.on && strings.Contains(m.ask.text, "goes with this card") {
		settleKeys(m, "a")
	}
}

// Work of an earlier run that nobody decided on yet outlives every edit, undo, save and quit of the next run, of
// the same document as of others.
func TestUndecidedWorkOutlivesAll(t *testing.T) {
	m := editedCard(t)
	if err := m.keepAll(); err != nil {
		t.Fatal(err)
	}
	n := openAgain(t, m)
	if !n.kept.on || len(n.kept.rows) != 1 {
		t.Fatal("the work is not offered")
	}
	file := n.kept.rows[0].File
	was := must(os.ReadFile(file))
	settleKeys(n, "esc")
	toRow(t, n, "legs[0].heading_deg")
	for _, keys := range [][]string{{"-"}, {"u"}, {"+", "s"}, {"3", "e"}, {"+"}, {"esc", "q", "x"}} {
		settleKeys(n, keys...)
		if n.ask.on && n.ask.input {
			n.ask.line = line.New(filepath.Join(t.TempDir(), "mine.yaml"))
			settleKeys(n, "enter")
			cardAlone(n)
		}
		if err := n.keepAll(); err != nil {
			t.Fatal(err)
		}
		if now, err := os.ReadFile(file); err != nil || string(now) != string(was) {
			t.Fatalf("after %v: %v", keys, err)
		}
	}
	if k := openAgain(t, n).kept; len(k.rows) != 1 || k.rows[0].File != file {
		t.Errorf("offered again: %+v", k.rows)
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
