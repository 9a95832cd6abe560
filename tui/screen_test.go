//go:build unix

package tui

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui/internal/screentest"
)

var update = flag.Bool("update", false, "write the golden screens anew")

// asProgram makes the test binary the workbench itself, so that it can be run on a terminal.
const asProgram = "SKYWEDGE_WORKBENCH"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		if err := workbench(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// workbench opens the card named in the environment, or the demo.
func workbench() error {
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		return faults
	}
	o := Options{Bag: bag, Theme: os.Getenv("THEME"), ASCII: os.Getenv("ASCII") != "", Pixels: os.Getenv("PIXELS")}
	if p := os.Getenv("MISTAKE"); p != "" { // once the file is there, who asks for the time next fails
		o.Now = func() time.Time {
			if os.Remove(p) == nil {
				panic("a mistake\nof two lines")
			}
			return time.Now()
		}
	}
	if p := os.Getenv("CLOCK"); p != "" {
		o.Now, o.Wait = clockIn(p)
	}
	if list := os.Getenv("PICTURES"); list != "" {
		for _, p := range filepath.SplitList(list) {
			f, err := os.Open(p)
			if err != nil {
				return err
			}
			tells, err := photo.Read(f)
			f.Close()
			if err != nil {
				return err
			}
			o.Cards = append(o.Cards, Source{Picture: &taken.Picture{File: p, Tells: tells}})
		}
		return Run(context.Background(), o)
	}
	if p := os.Getenv("CARD"); p != "" {
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		o.Cards = []Source{{Path: p, Data: data}}
	} else {
		for _, n := range examples.Cards() {
			o.Cards = append(o.Cards, Source{Path: n, Data: examples.Card(n), Demo: true})
		}
	}
	return Run(context.Background(), o)
}

// open runs the workbench on a terminal with a state folder of its own.
func open(t testing.TB, w, h int, env ...string) *screentest.Screen {
	t.Helper()
	return openIn(t, t.TempDir(), w, h, env...)
}

func openIn(t testing.TB, state string, w, h int, env ...string) *screentest.Screen {
	t.Helper()
	_ = os.MkdirAll(filepath.Join(state, "skywedge", "locks"), 0o700) // not the first start, where there can be a folder
	s := screentest.Start(t, screentest.Options{W: w, H: h, Env: append([]string{asProgram + "=1", "XDG_STATE_HOME=" + state}, env...)}, os.Args[0])
	return s
}

// cardFile writes a demo card to a folder of its own.
func cardFile(t testing.TB) string {
	t.Helper()
	p := filepath.Join(t.TempDir(), "shot.yaml")
	if err := os.WriteFile(p, examples.Card("1-breakwater"), 0o644); err != nil {
		t.Fatal(err)
	}
	return p
}

// golden compares a part of the screen with a file under testdata, and waits for the two to agree: a
// frame may be read in pieces.
func golden(t *testing.T, name string, s *screentest.Screen, part func() []string) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if *update {
		s.Still(300 * time.Millisecond)
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(joined(part())), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		if got = joined(part()); got == string(want) {
			return
		}
	}
	t.Errorf("%s differs; got:\n%s\nwant:\n%s", file, got, want)
}

func joined(lines []string) string {
	return strings.TrimRight(strings.Join(lines, "\n"), "\n") + "\n"
}

// crop returns a rectangle of the screen.
func crop(lines []string, x, y, w, h int) []string {
	var out []string
	for _, l := range lines[y:min(len(lines), y+h)] {
		r := []rune(l)
		r = r[min(x, len(r)):]
		out = append(out, strings.TrimRight(string(r[:min(w, len(r))]), " "))
	}
	return out
}

// The forms do not depend on the physics and are compared to the letter; the other panes by their
// places and headings.
func TestScreensAtEverySize(t *testing.T) {
	for _, c := range []struct {
		name     string
		w, h     int
		env      []string
		keys     string
		crop     [4]int
		headings []string
	}{
		{"120x36", 120, 36, nil, "", [4]int{0, 3, 37, 31}, []string{"Shot", "Legs", "Through the lens", "Along the flight", "The call"}},
		{"80x24", 80, 24, nil, "", [4]int{0, 2, 36, 20}, []string{"Shot", "Legs", "Through the lens", "Along the flight"}},
		{"60x20", 60, 20, nil, "", [4]int{0, 2, 60, 18}, []string{"Shot"}},
		{"200x60", 200, 60, nil, "", [4]int{0, 3, 49, 30}, []string{"Shot", "Legs", "Through the lens", "Along the flight", "The call"}},
		{"120x36-ascii", 120, 36, []string{"ASCII=1"}, "\t", [4]int{0, 3, 37, 31}, []string{"> Legs"}},
		{"120x36-plain", 120, 36, []string{"NO_COLOR=1"}, "\t\x1b[C", [4]int{0, 3, 37, 31}, []string{"▸ Legs"}},
		{"120x36-16", 120, 36, []string{"TERM=xterm-16color", "COLORTERM="}, "jjj", [4]int{0, 3, 37, 31}, []string{"▸ Shot"}},
		{"help-100x40", 100, 40, nil, "?", [4]int{12, 2, 76, 36}, []string{"Keys"}},
		{"more-120x50", 120, 50, []string{"COLORTERM="}, "m", [4]int{0, 3, 37, 45}, []string{"▸ Shot"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t, c.w, c.h, c.env...)
			s.Until("all keys")
			s.Until("ISO") // the answer is there
			s.Type(c.keys)
			for _, want := range c.headings {
				s.Until(want)
			}
			switch c.keys {
			case "m":
				s.Until("visibility")
			case "\t\x1b[C":
				s.Until("›330")
			case "jjj":
				s.Until("▸ take-off")
			}
			golden(t, c.name, s, func() []string { return crop(s.Lines(), c.crop[0], c.crop[1], c.crop[2], c.crop[3]) })
		})
	}
}

func TestASmallWindowSaysSoAndStillAnswers(t *testing.T) {
	s := open(t, 50, 12)
	s.Until("needs 60 by 20")
	s.Until("ND16")
	s.Resize(120, 36)
	s.Until("The call")
	s.Resize(60, 20)
	s.Until("Flight")
	s.Gone("The call")
}

// Without colour nothing but plain letters and plain attributes may be written.
func TestNoColourWritesNone(t *testing.T) {
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Type("\t+")
	s.Until("not saved")
	for _, code := range []string{"38;2", "48;2", "38;5", "48;5", "\x1b[3", "\x1b[4", ";3"} {
		for _, seq := range strings.Split(s.Raw(), "\x1b[")[1:] {
			if i := strings.IndexByte(seq, 'm'); i >= 0 && strings.Trim(seq[:i], "0123456789;") == "" && strings.HasPrefix("\x1b["+seq[:i], code) && seq[:i] != "4" {
				t.Fatalf("a colour code was written: %q", seq[:i+1])
			}
		}
	}
}

// A terminal that never answers must not delay the start: the library's question would cost five
// seconds. The bound is far from both.
func TestAMuteTerminalIsNotWaitedFor(t *testing.T) {
	t0 := time.Now()
	s := screentest.Start(t, screentest.Options{W: 100, H: 30, Mute: true, Env: []string{asProgram + "=1", "XDG_STATE_HOME=" + t.TempDir()}}, os.Args[0])
	s.Until("ISO")
	if d := time.Since(t0); d > 3*time.Second {
		t.Errorf("painted after %v", d)
	}
	if strings.Contains(s.Raw(), "\x1b]11;?") {
		t.Error("the terminal was asked for its background")
	}
}

func TestSavingADemoAsksWhere(t *testing.T) {
	dir := t.TempDir()
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("jjjjj\r285\r")
	s.Until("not saved")
	s.Type("s")
	s.Until("Save this card as")
	name := filepath.Join(dir, "mine")
	s.Type(name)
	s.Until("mine")
	s.Type("\r")
	s.Until("goes with this card")
	s.Type("a")
	s.Until("saved as")
	data, err := os.ReadFile(name + ".yaml")
	if err != nil || !strings.Contains(string(data), "heading_deg: 285") || !strings.Contains(string(data), "# out along the wall") {
		t.Errorf("%v:\n%s", err, data)
	}
	s.Type("q")
	if code := s.Ended(); code != 0 {
		t.Errorf("exit %d", code)
	}
}

func TestSaveUndoAndQuit(t *testing.T) {
	card := cardFile(t)
	s := open(t, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj\r300\r")
	s.Until("not saved")
	s.Type("s")
	s.Until("saved as")
	now, _ := os.ReadFile(card)
	if !strings.Contains(string(now), "heading_deg: 300,") {
		t.Errorf("not in the file:\n%s", now)
	}
	if old, _ := os.ReadFile(card + "~"); string(old) != string(examples.Card("1-breakwater")) {
		t.Error("the version before should stay as NAME~")
	}
	s.Type("u")
	s.Until("not saved")
	s.Type("q")
	s.Until("save it and quit")
	s.Type("s")
	if code := s.Ended(); code != 0 {
		t.Errorf("exit %d", code)
	}
	if back, _ := os.ReadFile(card); string(back) != string(examples.Card("1-breakwater")) {
		t.Error("undone and saved: the file is as it was, to the byte")
	}
}

func TestAFileThatChangedIsNotOverwrittenUnasked(t *testing.T) {
	card := cardFile(t)
	s := open(t, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj\r300\r")
	s.Until("not saved")
	other := strings.Replace(string(examples.Card("1-breakwater")), "Breakwater", "Someone else", 1)
	if err := os.WriteFile(card, []byte(other), 0o644); err != nil {
		t.Fatal(err)
	}
	s.Type("s")
	s.Until("overwrite it")
	if now, _ := os.ReadFile(card); string(now) != other {
		t.Fatal("overwritten before the answer")
	}
	s.Type("l")
	s.Until("Someone else")
	s.Type("u")
	s.Until("Breakwater, evening")
}

// A closed window and a kill lose nothing: the work is offered at the next start.
func TestSignalsKeepWork(t *testing.T) {
	for name, sig := range map[string]syscall.Signal{"hang-up": syscall.SIGHUP, "terminate": syscall.SIGTERM, "quit": syscall.SIGQUIT} {
		t.Run(name, func(t *testing.T) {
			card, state := cardFile(t), t.TempDir()
			s := openIn(t, state, 120, 36, "CARD="+card)
			s.Until("ISO")
			s.Type("jjjjj\r299") // still typing
			s.Until("not saved")
			s.Signal(sig)
			s.Ended()
			if s.AltScreen() {
				t.Error("the terminal was left on the program's screen")
			}
			s = openIn(t, state, 120, 36, "CARD="+card)
			s.Until("Unsaved work")
			s.Type("d")
			s.Until("heading_deg: 299")
			s.Type("\x1b")
			s.Gone("kept work changes")
			s.Type("\r")
			s.Gone("Unsaved work")
			s.Until("not saved") // and the field is open again
			s.Type("\r")
			s.Until("299°")
			if now, _ := os.ReadFile(card); string(now) != string(examples.Card("1-breakwater")) {
				t.Error("the file itself is left alone")
			}
		})
	}
}

// Without any signal, unsaved work reaches the disk two seconds after the last change, so that a
// kill that cannot be caught loses no more than that.
func TestWorkIsKeptAfterAMoment(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	s := openIn(t, state, 120, 36, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj\r299\r")
	s.Until("not saved")
	untilKept(t, state, "the work to be kept", 8*time.Second, some, idle)
	s.Signal(syscall.SIGKILL)
	s.Ended()
	s = openIn(t, state, 120, 36, "CARD="+card)
	s.Until("Unsaved work")
	s.Type("x")
	s.Until("cannot be brought back")
	s.Type("y")
	s.Gone("Unsaved work")
	s.Type("q")
	s.Ended()
	if kept, _ := filepath.Glob(filepath.Join(state, "skywedge", "recovery", "*.recovery")); len(kept) != 0 {
		t.Error("discarded work is still there")
	}
}

func TestASecondWindowIsReadOnly(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	a := openIn(t, state, 120, 36, "CARD="+card)
	a.Until("ISO")
	b := openIn(t, state, 120, 36, "CARD="+card)
	b.Until("read only")
	b.Type("jjjjj\r")
	b.Until("is open in another window")
	b.Type("+")
	b.Until("▸ heading, leg 1  330°")
	b.Type("s")
	b.Until("Save this card as")
}

// After Ctrl-Z and fg the screen and the mouse come back.
func TestSuspendAndResume(t *testing.T) {
	s := openUnderShell(t, t.TempDir(), `"$0"; echo the shell; read line; fg`)
	s.Until("ISO")
	const mouseOn = "\x1b[?1002h"
	before := strings.Count(s.Raw(), mouseOn)
	s.Type("\x1a")
	s.Until("the shell")
	if s.AltScreen() {
		t.Error("Ctrl-Z did not give the screen back")
	}
	s.Type("\n")
	s.Until("ISO")
	for end := time.Now().Add(5 * time.Second); strings.Count(s.Raw(), mouseOn) <= before; time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the mouse did not come back")
		}
	}
}

// Escape sequences that arrive in pieces, and bursts of them, are keys and not text.
func TestCutSequencesAreKeys(t *testing.T) {
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("\x1b")
	s.Type("[B")
	s.Until("▸ longitude")
	s.Type("j\x1b[")
	s.Type("B")
	s.Until("▸ take-off")
	s.Type(strings.Repeat("\x1b[<32;60;20M", 200)) // a drag over the picture, cut by every buffer
	s.Type("q")
	s.Ended() // nothing was typed: no question
}

// The time from a key to its picture on a real terminal; run it with -bench.
func BenchmarkKeyToScreen(b *testing.B) {
	s := open(b, 120, 36)
	s.Until("ISO")
	s.Type("jjjjj")
	s.Until("▸ heading")
	b.ResetTimer()
	heading := 330
	for i := 0; i < b.N; i++ {
		heading = (heading + 5) % 360
		s.Type("+")
		s.Until(fmt.Sprintf("leg 1 · %d°", heading))
	}
}
