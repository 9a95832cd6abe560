//go:build unix

// Package screentest runs a program on a pseudo-terminal and reads its screen back from an
// emulator, so that tests see what a person sees. It waits for text and never sleeps a fixed time.
package screentest

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// patience is how long a text may take to appear; only a failing test waits as long.
const patience = 10 * time.Second

// Screen is a program under test and the terminal it draws on.
type Screen struct {
	tb   testing.TB
	cmd  *exec.Cmd
	tty  *os.File
	done chan struct{}

	mu  sync.Mutex
	em  *vt.Emulator
	raw []byte
	w   int
	h   int
}

// Options say how the terminal behaves.
type Options struct {
	W, H int
	Env  []string // added to a bare environment, NAME=VALUE
	Mute bool     // the terminal answers no question
}

// Start runs a program. It is ended with the test.
func Start(tb testing.TB, o Options, name string, args ...string) *Screen {
	tb.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append([]string{"PATH=" + os.Getenv("PATH"), "TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8"}, o.Env...)
	cmd.Env = append(cmd.Env, Counted()...)
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: uint16(o.H), Cols: uint16(o.W)})
	if err != nil {
		tb.Skip("no pseudo-terminal here: ", err)
	}
	s := &Screen{tb: tb, cmd: cmd, tty: tty, em: vt.NewEmulator(o.W, o.H), done: make(chan struct{}), w: o.W, h: o.H}
	answers := io.Writer(tty)
	if o.Mute {
		answers = io.Discard
	}
	go func() { _, _ = io.Copy(answers, s.em) }()
	go func() {
		defer close(s.done)
		buf := make([]byte, 1<<16)
		for {
			n, err := tty.Read(buf)
			s.mu.Lock()
			s.raw = append(s.raw, buf[:n]...)
			_, _ = s.em.Write(buf[:n])
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	tb.Cleanup(func() {
		if Counted() != nil { // what is killed writes no counters
			_ = cmd.Process.Signal(syscall.SIGTERM)
			select {
			case <-s.done:
			case <-time.After(patience): // it was stopped, or is deaf
			}
		}
		_ = cmd.Process.Kill()
		select {
		case <-s.done:
		case <-time.After(time.Second): // a program that it started still has the terminal
		}
		_ = tty.Close()
		_ = cmd.Wait()
	})
	return s
}

// Counted is what a program that is built like its test needs in its environment to have its statements counted with the
// test's own, nothing where none are: go test -cover names a folder, and what ends in order leaves its counters there.
func Counted() []string {
	dir := os.Getenv("GOCOVERDIR")
	if testing.CoverMode() == "" || dir == "" {
		return nil
	}
	return []string{"GOCOVERDIR=" + dir}
}

// Lines returns the rows of the screen as text.
func (s *Screen) Lines() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	out := make([]string, s.h)
	for y := range out {
		var b strings.Builder
		for x := 0; x < s.w; x++ {
			if c := s.em.CellAt(x, y); c == nil || c.Content == "" {
				b.WriteByte(' ')
			} else {
				b.WriteString(c.Content)
			}
		}
		out[y] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// Text returns the screen as one text.
func (s *Screen) Text() string { return strings.Join(s.Lines(), "\n") }

// Until waits until the screen shows a text.
func (s *Screen) Until(text string) {
	s.tb.Helper()
	s.wait(fmt.Sprintf("%q to appear", text), func(t string) bool { return strings.Contains(t, text) })
}

// UntilRaw waits until the program has written something, shown or not.
func (s *Screen) UntilRaw(code string) {
	s.tb.Helper()
	s.wait(fmt.Sprintf("%q to be written", code), func(string) bool { return strings.Contains(s.Raw(), code) })
}

// Gone waits until the screen no longer shows a text.
func (s *Screen) Gone(text string) {
	s.tb.Helper()
	s.wait(fmt.Sprintf("%q to go", text), func(t string) bool { return !strings.Contains(t, text) })
}

func (s *Screen) wait(what string, ok func(string) bool) {
	s.tb.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(time.Millisecond) {
		t := s.Text()
		if ok(t) {
			return
		}
		if time.Now().After(end) {
			s.tb.Fatalf("waited in vain for %s; screen:\n%s", what, t)
		}
	}
}

// Type sends keys as a terminal would.
func (s *Screen) Type(keys string) {
	s.tb.Helper()
	if _, err := io.WriteString(s.tty, keys); err != nil {
		s.tb.Fatal(err)
	}
}

// Still waits until the screen has not changed for a while.
func (s *Screen) Still(quiet time.Duration) {
	last, since := s.Text(), time.Now()
	for time.Since(since) < quiet {
		time.Sleep(5 * time.Millisecond)
		if t := s.Text(); t != last {
			last, since = t, time.Now()
		}
	}
}

// Resize changes the size of both ends.
func (s *Screen) Resize(w, h int) {
	s.mu.Lock()
	s.em.Resize(w, h)
	s.w, s.h = w, h
	s.mu.Unlock()
	_ = pty.Setsize(s.tty, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)})
}

// Signal sends a signal to the program.
func (s *Screen) Signal(sig syscall.Signal) { _ = s.cmd.Process.Signal(sig) }

// Raw returns everything that the program wrote.
func (s *Screen) Raw() string { s.mu.Lock(); defer s.mu.Unlock(); return string(s.raw) }

// AltScreen tells whether the program shows its own screen.
func (s *Screen) AltScreen() bool { s.mu.Lock(); defer s.mu.Unlock(); return s.em.IsAltScreen() }

// Ended waits until the program has ended and returns its exit code.
func (s *Screen) Ended() int {
	s.tb.Helper()
	select {
	case <-s.done:
	case <-time.After(patience):
		s.tb.Fatalf("the program did not end; screen:\n%s", s.Text())
	}
	_ = s.cmd.Wait()
	return s.cmd.ProcessState.ExitCode()
}
