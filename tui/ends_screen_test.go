//go:build unix

package tui

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/tui/internal/screentest"
	"github.com/creack/pty"
)

// Alt-d and Alt-Delete one before the end of a field delete what is left, and break nothing.
func TestDeletingTheLastCharacterForward(t *testing.T) {
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("jjjjj")
	for _, key := range []string{"\x1bd", "\x1b[3;3~"} {
		s.Type("\r")
		s.Until("Enter keep")
		s.Type("127\x1b[D")
		s.Type(key)
		s.Type("\r")
		s.Until("leg 1 · 12°")
		s.Type("u")
		s.Until("leg 1 · 330°")
	}
}

// A mistake in the program ends it in order: one line, the work kept, the terminal as it was found. It is made in
// Update, and while the screen is drawn.
func TestAPanicLeavesInOrder(t *testing.T) {
	for name, drawing := range map[string]bool{"update": false, "view": true} {
		t.Run(name, func(t *testing.T) {
			card, state, mistake := cardFile(t), t.TempDir(), filepath.Join(t.TempDir(), "mistake")
			s := openUnderShell(t, state, `"$0"; echo exit $?; stty -a`, "CARD="+card, "MISTAKE="+mistake)
			s.Until("ISO")
			s.Type("jjjjj+")
			s.Until("leg 1 · 335°")
			keys := "+"
			if drawing {
				s.Until("kept ") // from now on the clock is asked while drawing
				keys = "k"
			}
			if err := os.WriteFile(mistake, nil, 0o600); err != nil {
				t.Fatal(err)
			}
			s.Type(keys)
			s.Until("exit 1")
			s.Until(" icanon")
			text := s.Text()
			if !strings.Contains(text, "the workbench failed: a mistake; unsaved work was kept") || strings.Contains(text, "goroutine") || strings.Contains(text, "panic") {
				t.Errorf("it ends with\n%s", text)
			}
			if s.AltScreen() {
				t.Error("the terminal was left on the program's screen")
			}
			if raw := s.Raw(); strings.LastIndex(raw, "\x1b[?1002l") < strings.LastIndex(raw, "\x1b[?1002h") {
				t.Error("the mouse was left on")
			}
			if l := keptIn(t, state); len(l) != 1 || !strings.Contains(string(l[0].Data), "heading_deg: 335") {
				t.Errorf("kept %+v", l)
			}
		})
	}
}

// deaf runs the workbench on a terminal that takes what the reader takes.
func deaf(t *testing.T, state string, read func(tty io.Reader)) (tty *os.File, ended <-chan error, cmd *exec.Cmd) {
	t.Helper()
	cmd = exec.Command(os.Args[0])
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "TERM=xterm-256color", "COLORTERM=truecolor", asProgram + "=1",
		"XDG_STATE_HOME=" + state, "CARD=" + cardFile(t)}
	cmd.Env = append(cmd.Env, screentest.Counted()...)
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 60, Cols: 200})
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	if read != nil {
		go read(tty)
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = tty.Close() })
	return tty, done, cmd
}

// slowly reads a thousand bytes a second.
func slowly(tty io.Reader) {
	buf := make([]byte, 50)
	for range time.Tick(50 * time.Millisecond) {
		if _, err := tty.Read(buf); err != nil {
			return
		}
	}
}

// A signal is heard, and all work is kept, whatever the terminal does: it reads nothing, or a thousand bytes a
// second. The keys are taken all the while.
func TestSignalsAreHeardWhateverTheTerminalDoes(t *testing.T) {
	for name, read := range map[string]func(io.Reader){"it reads nothing": nil, "it reads slowly": slowly} {
		for sigName, sig := range map[string]syscall.Signal{"terminate": syscall.SIGTERM, "hang-up": syscall.SIGHUP, "quit": syscall.SIGQUIT} {
			t.Run(name+", "+sigName, func(t *testing.T) {
				t.Parallel() // they mostly wait
				state := t.TempDir()
				tty, ended, cmd := deaf(t, state, read)
				heading := func(text string) func() bool {
					return func() bool {
						l := keptIn(t, state)
						return len(l) == 1 && strings.Contains(string(l[0].Data), "heading_deg: "+text)
					}
				}
				until := func(what string, ok func() bool) {
					t.Helper()
					for end := time.Now().Add(30 * time.Second); !ok(); time.Sleep(10 * time.Millisecond) {
						if time.Now().After(end) {
							t.Fatalf("waited in vain for %s; kept: %+v", what, keptIn(t, state))
						}
					}
				}
				_, _ = io.WriteString(tty, "jjjjj")
				for range 24 { // each another screen
					_, _ = io.WriteString(tty, "+")
				}
				until("the work to be kept", heading("90,"))
				_, _ = io.WriteString(tty, "+") // which may still be on its way
				t0 := time.Now()
				_ = cmd.Process.Signal(sig)
				select {
				case <-ended:
					t.Logf("ended after %v", time.Since(t0))
				case <-time.After(10 * time.Second):
					t.Fatal("the signal was not heard")
				}
				if !heading("90,")() && !heading("95,")() {
					t.Errorf("kept %+v", keptIn(t, state))
				}
			})
		}
	}
}

// A suspended program that is told to end does so without touching the shell's terminal, and what it had is kept
// before it stops.
func TestASuspendedProgramEnds(t *testing.T) {
	for name, end := range map[string]string{
		"terminate": `kill -TERM $job; kill -CONT $job`,
		"hang-up":   `kill -HUP $job; kill -CONT $job`,
		"kill":      `kill -KILL $job`,
	} {
		t.Run(name, func(t *testing.T) {
			state := t.TempDir()
			s := openUnderShell(t, state, `"$0"; echo the shell; job=$(jobs -p); `+end+`; while kill -0 $job 2>/dev/null; do jobs >/dev/null; done; echo it has ended`, "CARD="+cardFile(t))
			s.Until("ISO")
			s.Type("jjjjj+\x1a")
			s.Until("the shell")
			s.Until("it has ended")
			if l := keptIn(t, state); len(l) != 1 || !strings.Contains(string(l[0].Data), "heading_deg: 335") {
				t.Errorf("kept %+v", l)
			}
			if s.AltScreen() {
				t.Error("the shell's screen was touched")
			}
		})
	}
}

// In the background it stays stopped, and does not draw over the shell.
func TestInTheBackgroundItWaits(t *testing.T) {
	s := openUnderShell(t, t.TempDir(), `"$0"; echo the shell; bg; read line; fg`)
	s.Until("ISO")
	s.Type("\x1a")
	s.Until("the shell")
	s.Type("\n")
	s.Until("all keys")
	s.Type("q")
	if code := s.Ended(); code != 0 {
		t.Errorf("exit %d", code)
	}
}

// Who was stopped from outside, which nobody can foresee, takes the terminal back with fg: the shell has changed its
// ways and written over the screen.
func TestStoppedFromOutsideItComesBack(t *testing.T) {
	for name, sig := range map[string]syscall.Signal{"terminal stop": syscall.SIGTSTP, "stop": syscall.SIGSTOP} {
		t.Run(name, func(t *testing.T) {
			state := t.TempDir()
			s := openUnderShell(t, state, `"$0"; echo the shell; stty sane; read line; fg; echo over`, "CARD="+cardFile(t))
			s.Until("toss-up") // the last that is drawn without a key: it is not stopped amid a frame
			s.Until("q quit")
			if err := syscall.Kill(windowIn(t, state), sig); err != nil {
				t.Fatal(err)
			}
			s.Until("he shell")
			s.Type("\n")
			s.Gone("he shell")
			s.Type("jjjjj+")
			s.Until("leg 1 · 335°")
			s.Type("\x1a") // and it can be suspended from the keys still
			s.Until("over")
		})
	}
}

// windowIn returns the process that holds a card open.
func windowIn(t *testing.T, state string) int {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join(state, "skywedge", "locks", "*.lock"))
	for _, f := range files {
		data, _ := os.ReadFile(f)
		first, _, _ := strings.Cut(string(data), "\n")
		if pid, err := strconv.Atoi(first); err == nil && pid > 1 {
			return pid
		}
	}
	t.Fatal("no window holds a card")
	return 0
}

// Where no shell waits, Ctrl-Z says so and the program goes on.
func TestWithoutJobControlItIsNotSuspended(t *testing.T) {
	for name, command := range map[string][]string{
		"it leads the session": {os.Args[0]},
		"a shell without jobs": {"sh", "-c", `"$0"; true`, os.Args[0]},
	} {
		t.Run(name, func(t *testing.T) {
			s := screentest.Start(t, screentest.Options{W: 120, H: 36, Env: []string{asProgram + "=1", "XDG_STATE_HOME=" + t.TempDir()}}, command[0], command[1:]...)
			s.Until("ISO")
			s.Type("\x1a")
			s.Until("cannot be suspended here")
			s.Type("jjjjj+")
			s.Until("leg 1 · 335°")
		})
	}
}

// A pasted text whose end never comes does not take the keys away: it ends by itself, and Ctrl-C is heard at once.
func TestAPasteWithoutAnEnd(t *testing.T) {
	s := open(t, 120, 36)
	s.Until("ISO")
	s.Type("jjjjj\r")
	s.Until("Enter keep")
	s.Type("\x1b[200~12")
	s.Until("leg 1 · 12°")
	s.Type("\r+")
	s.Until("leg 1 · 17°")
	s.Type("\x1b[200~12\x03")
	s.Until("Not saved")
}
