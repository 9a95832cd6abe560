package tui

import (
	"fmt"
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"time"

	"example.org/skywedge/tui/internal/tty"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
)

// How long the loop may take to leave after a signal, and the terminal to take what is still to be written. A
// signal ends the program within a second, whatever either waits for.
const (
	loopTime     = 600 * time.Millisecond
	terminalTime = 150 * time.Millisecond
	leaveTime    = 2 * time.Second // where a person leaves, and a slow line may take its time
)

// signals hears that the system asks the program to end: the window was closed (SIGHUP), a kill (SIGTERM) and
// such. It keeps the work itself before it asks the loop for anything.
type signals struct {
	program *tea.Program
	keeper  *keeper
	out     *terminal
	in      *os.File
	before  *term.State // of the terminal, nil without one

	heard     chan os.Signal
	woken     chan os.Signal
	leaving   chan struct{} // closed at the first signal to end
	done      chan struct{} // closed when the loop has left
	suspended atomic.Bool   // the terminal is the shell's
}

func newSignals(k *keeper, out *terminal, in *os.File) *signals {
	s := &signals{keeper: k, out: out, in: in, heard: make(chan os.Signal, 4), woken: make(chan os.Signal, 1),
		leaving: make(chan struct{}), done: make(chan struct{})}
	if st, err := term.GetState(in.Fd()); err == nil {
		s.before = st
	}
	return s
}

// watch begins to listen.
func (s *signals) watch() {
	signal.Notify(s.heard, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGQUIT)
	tty.Woken(s.woken)
	go func() {
		for {
			select {
			case sig := <-s.heard:
				s.leave(sig)
				return
			case <-s.woken:
				if !s.suspended.Load() { // it was stopped from outside, and nothing was put right before
					go s.program.Send(wokenMsg{})
				}
			case <-s.done:
				return
			}
		}
	}()
}

// toLeave tells whether a signal asks to end.
func (s *signals) toLeave() bool {
	select {
	case <-s.leaving:
		return true
	default:
		return false
	}
}

// stop ends the listening. The signals stay caught: a Ctrl-C too many, once the terminal is the shell's again, must not
// make a failure of a program that is leaving in order.
func (s *signals) stop() {
	if s.before != nil {
		// The runtime puts back what it found when it began or went on: after a stop from outside that is its own raw mode.
		_ = term.Restore(s.in.Fd(), s.before)
	}
	signal.Stop(s.woken)
	close(s.done)
}

// leave keeps the work and has the program end: in order if the loop still answers, else without it.
func (s *signals) leave(sig os.Signal) {
	close(s.leaving)
	err := s.keeper.flush()
	if s.suspended.Load() {
		s.exit(err)
	}
	go s.program.Send(signalMsg{sig})
	select {
	case <-s.done:
		return
	case <-time.After(loopTime):
	}
	if s.before != nil {
		_ = term.Restore(s.in.Fd(), s.before)
	}
	s.out.finish(terminalTime)
	s.exit(err)
}

// exit ends the process, and says what was not kept where that can still be read.
func (s *signals) exit(err error) {
	if err == nil {
		os.Exit(0)
	}
	said := make(chan struct{})
	go func() {
		defer close(said)
		fmt.Fprintln(os.Stderr, "skywedge:", notKept(err))
	}()
	select {
	case <-said:
	case <-time.After(terminalTime):
	}
	os.Exit(1)
}

// notKept says what is lost.
func notKept(err error) error { return fmt.Errorf("unsaved work could not be kept: %w", err) }
