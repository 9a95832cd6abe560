package tui

import (
	"io"

	"example.org/skywedge/tui/internal/tty"
	tea "github.com/charmbracelet/bubbletea"
)

// resumedMsg says that the program is back, or why it was never away.
type resumedMsg struct{ err error }

// suspend gives the terminal to the shell until the program is woken. Work is kept first.
func (m *model) suspend() tea.Cmd {
	if m.signals == nil {
		return nil
	}
	if err := tty.CanSuspend(); err != nil {
		m.say(err.Error())
		return nil
	}
	if err := m.keepAll(); err != nil {
		m.sayWrong("not suspended, because unsaved work is not kept", err)
		return nil
	}
	return tea.Exec(suspension{m.signals}, func(err error) tea.Msg { return resumedMsg{err} })
}

// resumed draws the screen anew, and turns the mouse on where it was.
func (m *model) resumed(msg resumedMsg) tea.Cmd {
	if msg.err != nil {
		m.say(msg.err.Error())
	}
	m.pixels.Gone()
	if m.mouse {
		return tea.Batch(tea.ClearScreen, tea.EnableMouseCellMotion)
	}
	return tea.ClearScreen
}

// wokenMsg says that the program goes on after it was stopped from outside: what it had set in the terminal is gone.
type wokenMsg struct{}

// takeBack sets the terminal as the program needs it, by giving it away for no time at all.
func takeBack() tea.Cmd {
	return tea.Exec(noTime{}, func(err error) tea.Msg { return resumedMsg{err} })
}

// noTime is what runs meanwhile.
type noTime struct{ suspension }

// Run does nothing.
func (noTime) Run() error { return nil }

// suspension is what runs while the terminal is the shell's.
type suspension struct{ *signals }

// Run stops the program and returns when it goes on in the foreground.
func (s suspension) Run() error {
	s.out.drain(loopTime)
	s.suspended.Store(true)
	defer s.suspended.Store(false)
	return tty.StopAndWait(s.in, s.leaving)
}

// SetStdin, SetStdout and SetStderr are asked for by the runtime.
func (suspension) SetStdin(io.Reader)  {}
func (suspension) SetStdout(io.Writer) {}
func (suspension) SetStderr(io.Writer) {}
