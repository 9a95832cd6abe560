package tui

import (
	"os"
	"strings"
	"testing"

	"example.org/skywedge/kit"
)

// The bag is saved to its file, whole, and its comments live.
func TestTheBagIsSaved(t *testing.T) {
	p := bagFile(t)
	m := bagModel(t, 120, 36, p)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "enter", "4", ".", "2", "enter", "s")
	data, _ := os.ReadFile(p)
	for _, want := range []string{"{name: ND16, kind: density, stops: 4.2}", "# the ring of this one clicks every 15 degrees"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the file lacks %q", want)
		}
	}
	if m.card().bag.unsaved || !strings.Contains(m.note, "the bag is saved") {
		t.Errorf("unsaved %v, %q", m.card().bag.unsaved, m.note)
	}
	// changed by somebody else meanwhile: it is asked, and what was there stays beside it
	if err := os.WriteFile(p, append(data, "# by hand\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	settleKeys(m, "+", "s")
	if !m.ask.on || !strings.Contains(m.ask.text, "changed") {
		t.Fatal("another one's work is overwritten without a word")
	}
	settleKeys(m, "l")
	if !strings.Contains(string(m.card().kit().Doc.Bytes()), "by hand") || m.card().bag.unsaved {
		t.Error("l loads the file")
	}
	settleKeys(m, "u", "s")
	if now, _ := os.ReadFile(p); strings.Contains(string(now), "by hand") || m.card().bag.unsaved {
		t.Error("u brings mine back, and it is saved over the file that was looked at")
	}
}

// The demo's bag has no file: it is asked for one, as for a demo card's, and an existing file is safe.
func TestTheDemoBagAsksWhere(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	dir := t.TempDir()
	t.Chdir(dir)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "+", "s")
	if !m.ask.on || !m.ask.input || m.ask.line.String() != "bag.yaml" {
		t.Fatalf("%+v", m.ask)
	}
	settleKeys(m, "enter")
	if _, faults := kit.ReadBag("bag.yaml", must(os.ReadFile("bag.yaml"))); len(faults) > 0 || m.card().bag.file != "bag.yaml" {
		t.Errorf("%v", faults)
	}
	settleKeys(m, "+", "s")
	if m.ask.on || m.card().bag.unsaved {
		t.Error("the second time it knows its file")
	}
}

func must(data []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return data
}

func TestQuitAsksForTheBag(t *testing.T) {
	p := bagFile(t)
	m := bagModel(t, 120, 36, p)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "+", "q")
	if !m.ask.on || !strings.Contains(m.ask.text, "the bag bag.yaml") {
		t.Fatalf("q leaves with the bag unsaved: %+v", m.ask)
	}
	settleKeys(m, "esc", "1", "q")
	if !m.ask.on {
		t.Fatal("from another view")
	}
	settleKeys(m, "s")
	if !m.left || !strings.Contains(string(must(os.ReadFile(p))), "stops: 4.") {
		t.Errorf("s saves it and quits: left %v", m.left)
	}
}

// What was not saved of a bag is offered when the workbench is next opened.
func TestUnsavedBagIsKept(t *testing.T) {
	p := bagFile(t)
	m := bagModel(t, 120, 36, p)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "enter", "4", ".", "4", "enter")
	kept := m.card().kit().Doc.Bytes()
	if err := m.keepAll(); err != nil {
		t.Fatal(err)
	}
	n := openAgain(t, m)
	if row := n.kept.rows[0]; row.Kind != "bag" || row.Path != p || row.Changes != 1 {
		t.Fatalf("offered: %+v", row)
	}
	settleKeys(n, "enter")
	if string(n.card().kit().Doc.Bytes()) != string(kept) || !n.card().bag.unsaved {
		t.Error("Enter restores it")
	}
	n = openAgain(t, n)
	settleKeys(n, "esc", "q")
	if !n.left || len(keptFiles(t)) != 1 {
		t.Error("what nobody decided on is gone")
	}
	n = openAgain(t, n)
	settleKeys(n, "x", "y")
	if n.kept.on || len(keptFiles(t)) != 0 {
		t.Error("x discards it")
	}
}
