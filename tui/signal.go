package tui

import (
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// watchSignals turns the system's requests to end into messages, so that work is kept and the
// terminal is put right: a closed window (SIGHUP), a kill (SIGTERM), and those typed elsewhere.
func watchSignals(p *tea.Program) (stop func()) {
	ch := make(chan os.Signal, 4)
	done := make(chan struct{})
	signal.Notify(ch, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGQUIT)
	go func() {
		for {
			select {
			case s := <-ch:
				p.Send(signalMsg{s})
			case <-done:
				return
			}
		}
	}()
	return func() { signal.Stop(ch); close(done) }
}
