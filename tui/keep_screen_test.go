//go:build unix

package tui

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/internal/screentest"
)

// openUnderShell runs a script in a shell with job control; in it "$0" is the workbench.
func openUnderShell(t *testing.T, state, script string, env ...string) *screentest.Screen {
	t.Helper()
	return screentest.Start(t, screentest.Options{W: 120, H: 36, Env: append([]string{asProgram + "=1", "XDG_STATE_HOME=" + state}, env...)},
		"sh", "-mc", script, os.Args[0])
}

// keptIn lists the recovery files of a state folder, with what is in them.
func keptIn(t *testing.T, state string) []store.Recovery {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join(state, "skywedge", "recovery", "*.recovery"))
	var list []store.Recovery
	for _, f := range files {
		if r, err := (store.Recovery{File: f}).Read(); err == nil { // it may go meanwhile
			list = append(list, r)
		}
	}
	return list
}

// untilKept waits until what is kept is as it should be, and does something in between.
func untilKept(t *testing.T, state, what string, atMost time.Duration, ok func([]store.Recovery) bool, meanwhile func()) {
	t.Helper()
	for end := time.Now().Add(atMost); !ok(keptIn(t, state)); {
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s; kept: %+v", what, keptIn(t, state))
		}
		meanwhile()
		time.Sleep(10 * time.Millisecond)
	}
}

func some(list []store.Recovery) bool { return len(list) > 0 }
func idle()                           {}

// However steadily somebody works, the work is kept: the wait begins at the first change.
func TestSteadyWorkIsKept(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	s := openIn(t, state, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj")
	untilKept(t, state, "work that never rests to be kept", 8*time.Second, some, func() { s.Type("+") })
	s.Until("kept ")
}

// What stands in a field is kept while it is typed, also when it is not valid, and the field is open again at
// the next start.
func TestATextThatIsNotValidIsKept(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	s := openIn(t, state, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj\r4711")
	s.Until("! degrees")
	untilKept(t, state, "the text to be kept", 8*time.Second, func(l []store.Recovery) bool { return some(l) && l[0].Typing.Text == "4711" }, idle)
	s.Signal(syscall.SIGKILL)
	s.Ended()
	s = openIn(t, state, 120, 36, "CARD="+card)
	s.Until("a field was being typed")
	s.Type("d")
	s.Until("typed legs[0].heading_deg: 4711")
	s.Type("\x1b")
	s.Gone("work changes")
	s.Type("\r")
	s.Until("! degrees")
	s.Until("4711")
}

// The card that was edited is kept, not the one on the screen; and what is offered of another stays.
func TestTheEditedCardIsKept(t *testing.T) {
	state := t.TempDir()
	s := openIn(t, state, 120, 36)
	s.Until("ISO")
	s.Type("jjjjj+n")
	s.Until("2 of 7")
	untilKept(t, state, "the first card to be kept", 8*time.Second, some, idle)
	if r := keptIn(t, state)[0]; r.Name != "Breakwater, evening" || !strings.Contains(string(r.Data), "heading_deg: 335") {
		t.Errorf("kept %s", r.Name)
	}
	s.Signal(syscall.SIGKILL)
	s.Ended()
	s = openIn(t, state, 120, 36)
	s.Until("Nothing is lost")
	s.Type("\x1b")
	s.Gone("Nothing is lost")
	s.Type("njjjjj+")
	untilKept(t, state, "the second card to be kept too", 8*time.Second, func(l []store.Recovery) bool { return len(l) == 2 }, idle)
	s.Type("q")
	s.Until("throw it away")
	s.Type("x")
	s.Ended()
	if l := keptIn(t, state); len(l) != 1 || l[0].Name != "Breakwater, evening" {
		t.Errorf("decided later, and now: %+v", l)
	}
}

// A second window, on the demo and on a bag too, can change nothing, keeps nothing of its own under the first's
// name, and takes nothing away when it is closed.
func TestASecondWindowLeavesTheFirstAlone(t *testing.T) {
	state := t.TempDir()
	a := openIn(t, state, 120, 36)
	a.Until("ISO")
	a.Type("jjjjj+")
	untilKept(t, state, "the first window's work to be kept", 8*time.Second, some, idle)
	b := openIn(t, state, 120, 36)
	b.Until("read only")
	b.Until("bag read only")
	b.Type("jjjjj+")
	b.Until("is open in another window")
	b.Type("3e")
	b.Until("bag.yaml is open in another window")
	b.Type("q")
	b.Ended() // asks nothing: nothing was changed
	if l := keptIn(t, state); len(l) != 1 || !strings.Contains(string(l[0].Data), "heading_deg: 335") {
		t.Errorf("after the second window was closed: %+v", l)
	}
	a.Type("q")
	a.Until("Not saved")
}

// Where nothing can be kept it is said, and "quit and keep" stays.
func TestWhatCannotBeKeptIsSaid(t *testing.T) {
	for _, c := range []struct {
		name string
		end  func(s *screentest.Screen)
	}{
		{"Ctrl-C twice", func(s *screentest.Screen) { s.Type("\x03\x03") }},
		{"terminate", func(s *screentest.Screen) { s.Signal(syscall.SIGTERM) }},
		{"hang-up", func(s *screentest.Screen) { s.Signal(syscall.SIGHUP) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			card, state := cardFile(t), filepath.Join(t.TempDir(), "state")
			if err := os.WriteFile(state, nil, 0o600); err != nil { // a file where the folder should be
				t.Fatal(err)
			}
			s := openIn(t, state, 120, 36, "CARD="+card)
			s.Until("ISO")
			s.Type("jjjjj+")
			s.Until("cannot be kept")
			s.Type("q")
			s.Until("try once more to keep it")
			s.Type("k")
			s.Until("It cannot be kept for the")
			s.Type("\x1b")
			s.Gone("throw it away")
			c.end(s)
			if code := s.Ended(); code != 1 {
				t.Errorf("exit %d, want 1", code)
			}
			if s.AltScreen() || !strings.Contains(s.Text(), "unsaved work could not be kept: ") {
				t.Errorf("the reason is not said:\n%s", s.Text())
			}
		})
	}
}

// All kept work is listed: of files that were renamed, of new shots, of other folders, and several versions.
func TestAllKeptWorkIsListed(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	edit := func(keys string) {
		s := openIn(t, state, 120, 36, "CARD="+card)
		s.Until("Breakwater, evening")
		if some(keptIn(t, state)) {
			s.Until("Nothing is lost")
			s.Type("\x1b")
			s.Gone("Nothing is lost")
		}
		s.Until("ISO")
		s.Type(keys)
		s.Until("not saved")
		s.Signal(syscall.SIGTERM)
		s.Ended()
	}
	edit("jjjjj+")
	edit("jjjjj-")
	edit("ojjjjj+")
	edit("3ejj+")
	gone := card + ".gone"
	if err := os.Rename(card, gone); err != nil {
		t.Fatal(err)
	}
	s := openIn(t, state, 120, 36)
	s.Until("Nothing is lost until you say so")
	for _, want := range []string{"the file is gone", "no file yet", "copy of the demo"} {
		s.Until(want)
	}
	s.Type("jj")
	s.Until("version 1 of 2")
	s.Type("j")
	s.Until("version 2 of 2")
	if n := len(keptIn(t, state)); n != 4 {
		t.Errorf("%d kept, want 4", n)
	}
}

// Kept work of a file that is gone is restored to its name, and saved there.
func TestKeptWorkOfAnotherFolderIsRestored(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	s := openIn(t, state, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj+")
	s.Until("not saved")
	s.Signal(syscall.SIGTERM)
	s.Ended()
	if err := os.Remove(card); err != nil {
		t.Fatal(err)
	}
	s = openIn(t, state, 120, 36)
	s.Until("the file is gone")
	s.Type("\r")
	s.Until("restored")
	s.Until("not saved")
	s.Type("s")
	s.Until("saved as")
	if data, err := os.ReadFile(card); err != nil || !strings.Contains(string(data), "heading_deg: 335") {
		t.Errorf("%v\n%s", err, data)
	}
	if n := len(keptIn(t, state)); n != 0 {
		t.Errorf("saved, and %d kept: %+v", n, keptIn(t, state))
	}
}

// A recovery file that the first version of the program wrote is offered and restored.
func TestKeptWorkOfTheFirstVersion(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	dir := filepath.Join(state, "skywedge", "recovery")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	data := strings.Replace(string(examples.Card("1-breakwater")), "heading_deg: 330", "heading_deg: 277", 1)
	head := fmt.Sprintf(`{"skywedge_recovery":1,"path":%q,"saved":"2026-09-18T17:40:00Z","sum":"%x"}`, card, sha256.Sum256([]byte(data)))
	if err := os.WriteFile(filepath.Join(dir, strings.Repeat("0", 32)+".recovery"), []byte(head+"\n"+data), 0o600); err != nil {
		t.Fatal(err)
	}
	s := openIn(t, state, 120, 36, "CARD="+card)
	s.Until("file changed since")
	s.Type("\r")
	s.Until("277°")
}

// A thousand entries: the list is there and can be walked through.
func TestAThousandEntries(t *testing.T) {
	state := t.TempDir()
	t.Setenv("XDG_STATE_HOME", state)
	var w store.Window
	for i := range 1000 {
		if _, err := w.Keep(store.Recovery{Path: fmt.Sprintf("/cards/%04d.yaml", i), Saved: time.Unix(int64(i), 0), Data: []byte("skywedge: 1\n")}, 0); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	s := openIn(t, state, 100, 30)
	s.Until("1 of 1000")
	s.Until("0999.yaml")
	s.Type("G")
	s.Until("0000.yaml")
	s.Type("\x1b")
	s.Until("ISO")
}
