package tui

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// Whoever asks, and however many at once: what is kept at the end is the newest.
func TestTheNewestIsKept(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	k := newKeeper(time.Now)
	defer k.close()
	d := &openCard{}
	card, _ := shot.ReadCard("a.yaml", examples.Card("1-breakwater"))
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 20 {
				if err := k.flush(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for i := range 200 {
		c, faults := card.Set("name", fmt.Sprintf("version %d", i))
		if c == nil {
			t.Fatal(faults)
		}
		k.publish(map[document]job{d: {path: "/a.yaml", doc: c.Doc}}, time.Millisecond)
	}
	all.Wait()
	for end := time.Now().Add(5 * time.Second); ; time.Sleep(time.Millisecond) {
		if l := keptFiles(t); len(l) == 1 {
			if r, err := l[0].Read(); err == nil && strings.Contains(string(r.Data), "version 199") {
				break
			}
		}
		if time.Now().After(end) {
			t.Fatalf("the last version is not kept: %+v", keptFiles(t))
		}
	}
	k.publish(nil, 0)
	if err := k.flush(); err != nil || len(keptFiles(t)) != 0 {
		t.Error("nothing is left to keep, and something is kept", err)
	}
}

// Work that could not be kept is tried again, and the disk has it when that is possible.
func TestKeepingIsTriedAgain(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state")
	t.Setenv("XDG_STATE_HOME", state)
	if err := os.WriteFile(state, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	k := newKeeper(time.Now)
	defer k.close()
	said := make(chan tea.Msg, 1000)
	k.tell = func(m tea.Msg) { said <- m }
	card, _ := shot.ReadCard("a.yaml", examples.Card("1-breakwater"))
	k.publish(map[document]job{&openCard{}: {path: "/a.yaml", doc: card.Doc}}, time.Millisecond)
	if m := (<-said).(keptMsg); m.err == nil {
		t.Fatal("a file in the place of the folder, and it is kept")
	}
	if err := os.Remove(state); err != nil {
		t.Fatal(err)
	}
	for (<-said).(keptMsg).err != nil {
	}
	if len(keptFiles(t)) != 1 {
		t.Error("it is not kept")
	}
}

// Versions of kept work that are restored one over the other are all there still, until one is saved or thrown away.
func TestRestoringOverUnsavedWorkSetsItAside(t *testing.T) {
	m := editedCard(t) // heading 335
	first := m
	if err := m.keepAll(); err != nil {
		t.Fatal(err)
	}
	n := openAgain(t, first)
	settleKeys(n, "esc")
	toRow(t, n, "legs[0].heading_deg")
	settleKeys(n, "-", "-") // 320
	if err := n.keepAll(); err != nil {
		t.Fatal(err)
	}
	settleKeys(n, "K")
	if !n.kept.on || len(n.kept.rows) != 1 {
		t.Fatalf("listed: %+v", n.kept.rows)
	}
	settleKeys(n, "enter")
	if got := n.card().text("legs[0].heading_deg"); got != "335" {
		t.Fatalf("restored %s", got)
	}
	o := openAgain(t, n)
	var got []string
	for _, r := range o.kept.rows {
		full, err := r.Read()
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range []string{"320", "335"} {
			if bytes.Contains(full.Data, []byte("heading_deg: "+h)) {
				got = append(got, h)
			}
		}
	}
	if len(got) != 2 || got[0] == got[1] {
		t.Errorf("kept %v", got)
	}
}

// A field of a filter that was being typed is open again after the bag was restored.
func TestATypedFieldOfAFilterIsRestored(t *testing.T) {
	m := editedBag(t)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "enter", "9", "9", "9")
	if err := m.keepAll(); err != nil {
		t.Fatal(err)
	}
	n := openAgain(t, m)
	settleKeys(n, "enter")
	if !n.edit.on || n.edit.line.String() != "999" || !n.edit.row.InBag || formField(n).Spec.Key != "stops" || n.edit.fault == "" {
		t.Errorf("typing %v %q in %+v", n.edit.on, n.edit.line.String(), n.edit.row)
	}
	if shownFilter(n).Name != "ND16" {
		t.Errorf("of %s", shownFilter(n).Name)
	}
}

// A bag of another folder is restored with a shot that is flown with it.
func TestABagOfAnotherFolderIsRestored(t *testing.T) {
	p := bagFile(t)
	m := bagModel(t, 120, 36, p)
	toFilter(t, m, "ND16", "stops")
	settleKeys(m, "+")
	if err := m.keepAll(); err != nil {
		t.Fatal(err)
	}
	m.release()
	state := os.Getenv("XDG_STATE_HOME")
	n := testModel(t, 120, 36, nil)
	t.Setenv("XDG_STATE_HOME", state)
	started(n)
	settleKeys(n, "enter")
	if b := n.card().bag; b.file != p || !b.unsaved || n.kept.on {
		t.Fatalf("the bag %q, unsaved %v", b.file, b.unsaved)
	}
	settleKeys(n, "3", "s")
	if !strings.Contains(string(must(os.ReadFile(p))), "name: ND16, kind: density, stops: 4.") || len(keptFiles(t)) != 0 {
		t.Error("s saves it, and nothing is kept any more", n.note, n.ask.text)
	}
}

// A screen that the terminal has no room for is withheld, and the newest is asked for when there is.
func TestTheTerminalHoldsNothingUp(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	drained := make(chan bool, 10)
	o := newTerminal(w, "xterm", nil)
	o.drained = func() { drained <- true }
	var c cells.Canvas
	c.Reset(1<<10, 1<<10) // more than a pipe takes
	if _, err := o.WriteString("\x1b[?1049h"); err != nil {
		t.Fatal(err)
	}
	pen := &cells.Pen{}
	frame := string(new(cells.Painter).Paint(nil, pen, &c))
	o.paint(pen, &c)
	for _, code := range []string{"\x1b[H" + unpainted, "\x1b[H"} { // the runtime's own screen is left out
		if n, err := o.WriteString(code); n != len(code) || err != nil {
			t.Fatal(n, err)
		}
	}
	if !o.withhold() || o.drain(time.Millisecond) {
		t.Error("nobody read, and it is through")
	}
	want := "\x1b[?1049h\x1b[?2026h" + frame + "\x1b[1024;1H\x1b[?2026l\x1b[H"
	got := make([]byte, len(want))
	if _, err := io.ReadFull(r, got); err != nil || string(got) != want {
		t.Errorf("what comes through is not what was written: %v", err)
	}
	<-drained
	if o.withhold() || !o.drain(time.Second) {
		t.Error("it is through, and withheld")
	}
	o.finish(time.Second)
	if n, err := o.Write([]byte("late")); n != 4 || err != nil {
		t.Error("after the end writing does nothing", n, err)
	}
	w.Close()
	if rest, _ := io.ReadAll(r); len(rest) > 0 {
		t.Errorf("after the end came %q", rest)
	}
}

// A window that was smaller for a moment has lost what lay outside, though it has its size again before anything was
// painted: whatever is said of its size, the next screen is painted whole.
func TestAWindowThatWasSmallerIsPaintedWhole(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	go func() { _, _ = io.Copy(io.Discard, r) }()
	m := blankModel(t, nil)
	m.out = newTerminal(w, "xterm", nil)
	_, _ = m.out.WriteString("\x1b[?1049h")
	painted := func() int {
		if !m.out.drain(5 * time.Second) {
			t.Fatal("it does not come through")
		}
		m.screen.dirty = true
		if text := m.View(); text != unpainted {
			t.Fatalf("the runtime is given %q", text)
		}
		m.out.mu.Lock()
		defer m.out.mu.Unlock()
		return len(m.out.frame)
	}
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	if n := painted(); n < 80*24 {
		t.Fatalf("%d bytes for the first screen", n)
	}
	if n := painted(); n != 0 {
		t.Errorf("%d bytes for the same screen", n)
	}
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	if n := painted(); n < 80*24 {
		t.Errorf("%d bytes after a resize", n)
	}
	m.out.finish(time.Second)
	w.Close()
}

// The runtime writes strings where it can; they must not go past the queue.
var _ io.StringWriter = (*terminal)(nil)
