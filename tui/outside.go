package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// What is asked of the terminal itself: its mouse, its colours, its clipboard.

// toggleMouse leaves the mouse to the terminal, or takes it back.
func (m *model) toggleMouse() tea.Cmd {
	m.mouse = !m.mouse
	if m.mouse {
		m.say("the mouse works here again")
		return tea.EnableMouseCellMotion
	}
	m.say("the mouse is the terminal's: text can be marked and copied; c takes it back")
	return tea.DisableMouse
}

// nextTheme goes from the terminal's own colours to light, and on to dark.
func (m *model) nextTheme() {
	pen := m.screen.pen
	pen.Theme = pen.Theme.Next(cells.ThemeByName("", m.opt.Env("COLORFGBG")))
	switch {
	case pen.Profile == cells.NoColour:
		m.say("theme " + pen.Theme.Name() + ": without colour only the picture's shades follow it")
	case !pen.Theme.Paints():
		m.say("the terminal's own colours")
	case pen.Theme.Light:
		m.say("light, for the sun; t goes on to dark")
	default:
		m.say("dark; t goes on to the terminal's own colours")
	}
}

// copyCall puts the call on the clipboard, as card --brief prints it. Until it is known how sure it is that waits.
func (m *model) copyCall() {
	switch c := &m.calc; {
	case c.report == nil || m.stale():
		m.say("there is no call to copy: this card has no answer yet")
	case m.out == nil:
		m.say("there is no terminal to copy to")
	case !c.sure.known:
		m.copyOwed = true
		m.say("how sure the call is comes in a moment; then it is copied")
	default:
		m.copyOwed = false
		text := brief(advice.Brief(c.report))
		// OSC 52: the terminal puts it on the clipboard, also over a network; one that will not says nothing.
		m.out.send(ansi.SetSystemClipboard(text))
		lines := strings.Split(strings.TrimSpace(text), "\n")
		m.say(fmt.Sprintf("copied, where the terminal allows it: the call in %d lines, %s", len(lines), lines[min(1, len(lines)-1)]))
	}
}

// copyIfOwed copies the call that was asked for before it was whole.
func (m *model) copyIfOwed() {
	if m.copyOwed && m.calc.sure.known {
		m.copyCall()
	}
}

// brief returns a text of several lines without control characters, which a card's name may have.
func brief(text string) string {
	const most = 2000 // letters a line
	var list []string
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		list = append(list, field.Clean(l, most))
	}
	return strings.Join(list, "\n") + "\n"
}
