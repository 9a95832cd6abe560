package tui

import (
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// keptBefore is a workbench with kept work of a window that is gone, and what it is called in the list.
func keptBefore(t *testing.T, list ...store.Recovery) *model {
	t.Helper()
	m := testModel(t, 120, 36, nil)
	var w store.Window
	for _, r := range list {
		r.Saved = m.opt.Now()
		if _, err := w.Keep(r, 0); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	rows, wrong := store.Recoveries(m.opt.Now())
	settle(m, keptListMsg{rows: keptRows(rows), wrong: wrong})
	if !m.kept.on || len(m.kept.rows) != len(list) {
		t.Fatalf("%d of %d are listed: %v", len(m.kept.rows), len(list), wrong)
	}
	return m
}

// How a file stands to its kept work decides what restoring it would do to the file, so the list says it.
func TestHowTheFileStands(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for name, text := range map[string]string{"same.yaml": "one", "other.yaml": "two"} {
		if err := os.WriteFile(at(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	same, err := store.Read(at("same.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	base := hex.EncodeToString(same.Sum[:])
	for path, want := range map[string]string{
		at("same.yaml"): "", at("other.yaml"): "file changed since", at("gone.yaml"): "the file is gone", dir: "not a plain file now",
		at("same.yaml/card.yaml"): "the file cannot be read", demoPath("bag.yaml"): "",
	} {
		if got := keptNote(store.Recovery{Path: path, Base: base}); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
	if got := keptNote(store.Recovery{Path: at("gone.yaml")}); got != "no file yet" {
		t.Errorf("never saved: %q", got)
	}
}

// What kept work changes is shown before it is decided on, with the text of a field that was being typed; discarding it asks,
// and takes it off the disk and the list, nothing else.
func TestDecidingOnKeptWork(t *testing.T) {
	dir := t.TempDir()
	card := string(examples.Card(examples.Cards()[0]))
	path := filepath.Join(dir, "pier.yaml")
	if err := os.WriteFile(path, []byte(card), 0o600); err != nil {
		t.Fatal(err)
	}
	m := keptBefore(t,
		store.Recovery{Path: path, Kind: "card", Name: "pier", Data: []byte(strings.Replace(card, "purpose: video", "purpose: still", 1)), Typing: store.Typing{Field: "name", Text: "half a na"}},
		store.Recovery{Path: filepath.Join(dir, "quay.yaml"), Kind: "card", Name: "quay", Data: []byte(card)})
	for m.kept.rows[m.kept.at].Name != "pier" {
		settleKeys(m, "down")
	}
	file := m.kept.rows[m.kept.at].File
	settleKeys(m, "d")
	text := screenText(m)
	for _, want := range []string{"What the kept work changes", "purpose: still", "purpose: video", "typed name: half a na"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
	settleKeys(m, "esc", "x")
	if text := screenText(m); !strings.Contains(text, "Discard the kept work on pier, from today 12:00? It cannot") {
		t.Fatalf("%s", text)
	}
	settleKeys(m, "esc")
	if _, err := os.Stat(file); err != nil || len(m.kept.rows) != 2 {
		t.Errorf("left: %v, %d rows", err, len(m.kept.rows))
	}
	settleKeys(m, "x", "y")
	if _, err := os.Stat(file); err == nil || len(m.kept.rows) != 1 || m.kept.rows[0].Name != "quay" || m.note != "discarded" {
		t.Errorf("discarded: %v, %+v, said %q", err, m.kept.rows, m.note)
	}
	// Where nobody sees what would be decided on, nothing is.
	settle(m, tea.WindowSizeMsg{Width: 20, Height: 5})
	if settleKeys(m, "x", "d", "enter"); m.ask.on || m.list.On || len(m.kept.rows) != 1 {
		t.Error("decided in a window that is too small")
	}
	settle(m, tea.WindowSizeMsg{Width: 120, Height: 36})
	// One that another window has decided on meanwhile is said to be gone, and the others stay.
	if err := os.Remove(m.kept.rows[0].File); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"enter", "d"} {
		if settleKeys(m, key); !strings.Contains(screenText(m), "no such file") || m.list.On {
			t.Errorf("%s: %s", key, screenText(m))
		}
	}
}

// What could not be read is counted and said with the first reason; that there is nothing is said to who asked for it.
func TestNothingKeptToDecideOn(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	wrong := []error{errors.New("the recovery file is damaged: a"), errors.New("the recovery file is damaged: b")}
	m.takeKept(keptListMsg{wrong: wrong}, false)
	if text := screenText(m); m.kept.on || !strings.Contains(text, "2 entries could not be read") {
		t.Errorf("%s", text)
	}
	m.takeKept(keptListMsg{}, true)
	if text := screenText(m); !strings.Contains(text, "no kept work waits for a decision") {
		t.Errorf("%s", text)
	}
}
