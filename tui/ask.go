package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/line"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// question waits for one of its keys, or for a line of text. Any other key leaves things as they
// are, so a key hit by mistake answers nothing.
type question struct {
	on      bool
	text    string
	choices []choice
	esc     string              // what Esc does
	then    func(b panel.Bench) // after an answer or Esc; nil for nothing
	input   bool
	line    line.Line
	enter   func(m *model, text string)
	verb    string // what Enter does; "" saves
	help    panel.Help
	several []string // what the help named last
}

// choice is one answer.
type choice struct {
	key, words string
	do         func(m *model) tea.Cmd
}

// key handles a key while a question stands.
func (q *question) key(m *model, msg tea.KeyMsg, runes []rune) tea.Cmd {
	k := msg.String()
	if k == "ctrl+c" && m.interrupted {
		return m.interrupt()
	}
	if k == "esc" || k == "ctrl+c" {
		then := q.then
		m.ask, m.afterSave, m.interrupted = question{}, nil, false
		if then != nil && k == "esc" {
			then(m)
		}
		return nil
	}
	if q.input {
		switch {
		case k == "enter":
			text, enter := q.line.String(), q.enter
			m.ask = question{}
			enter(m, text)
			return m.take()
		case len(runes) > 0:
			q.line.Insert(runes)
			q.several = nil
		case q.help != nil && (k == "tab" || k == "up" || k == "down"):
			text := ""
			text, q.several = q.help(q.line.String(), k)
			q.line = line.New(text)
			q.line.Fresh = false
		default:
			return q.line.Key(msg)
		}
		return nil
	}
	then := q.then
	for _, c := range q.choices {
		if c.key == k {
			m.ask = question{}
			cmd := c.do(m)
			if then != nil {
				then(m)
			}
			return tea.Batch(cmd, m.take())
		}
	}
	return nil
}

// take gives the command that an action left behind, once.
func (m *model) take() tea.Cmd {
	c := m.next
	m.next = nil
	return c
}

// draw shows the question in the middle of the screen.
func (q *question) draw(w cells.Window) {
	cols, rows := w.Size()
	bw := min(cols-4, 64)
	lines := cells.Wrap(q.text, bw-4)
	words := make([][]string, len(q.choices))
	bh := len(lines) + 3
	for i, c := range q.choices {
		words[i] = cells.Wrap(c.words, bw-7)
		bh += len(words[i])
	}
	several := ""
	if q.input {
		bh += 2
		if len(q.several) > 0 {
			several = cells.Cut(strings.Join(q.several, "  "), bw-4)
			bh++
		}
	} else {
		bh++
	}
	if over := bh - rows; over > 0 && over < len(lines) { // the answers are never cut
		lines, bh = lines[:len(lines)-over], rows
		lines[len(lines)-1] = cells.Cut(lines[len(lines)-1]+" …………", bw-4)
	}
	box := w.Sub((cols-bw)/2, max(0, (rows-bh)/2), bw, bh)
	panel.Frame(box, "")
	y := 1
	for _, l := range lines {
		box.Text(2, y, l, cells.Style{Fg: cells.Strong, Attr: cells.Bold})
		y++
	}
	if q.input {
		q.line.Draw(box, 2, y+1, bw-4)
		box.Text(2, y+2, several, cells.Style{Fg: cells.Dim})
	} else {
		y++
		for i, c := range q.choices {
			x := box.Text(2, y, c.key, cells.Style{Fg: cells.Accent, Attr: cells.Bold})
			for _, l := range words[i] {
				box.Text(x+2, y, l, cells.Style{})
				y++
			}
		}
	}
	foot := "Esc  " + q.esc
	if verb := q.verb; q.input {
		if verb == "" {
			verb = "save"
		}
		foot = "Enter  " + verb + "   " + foot
	}
	box.TextIn(2, bh-2, bw-4, foot, cells.Style{Fg: cells.Dim})
}

func (m *model) askDeleteLeg() {
	s := m.card()
	if !m.mayEdit() {
		return
	}
	if s.legs() < 2 {
		m.say("a flight needs a leg; this is the only one")
		return
	}
	move := s.text(fmt.Sprintf("legs[%d].move", m.leg))
	m.ask = question{on: true, text: fmt.Sprintf("Delete leg %d, %s?", m.leg+1, move),
		choices: []choice{{"y", "delete it", func(m *model) tea.Cmd { m.deleteLeg(); return nil }}}, esc: "keep it"}
}

// quit leaves, and asks only when work would be lost.
func (m *model) quit() tea.Cmd {
	unsaved := m.unsaved()
	if len(unsaved) == 0 {
		return m.leave()
	}
	wrong := m.keepAll()
	var names []string
	for _, d := range unsaved {
		names = append(names, d.name())
	}
	q := question{on: true, text: "Not saved: " + strings.Join(names, ", ") + ".", esc: "stay"}
	keep := "quit and keep it for the next start"
	if wrong != nil {
		keep = "try once more to keep it, and quit"
		q.text += " It cannot be kept for the next start either: " + wrong.Error() + "."
	}
	if len(unsaved) == 1 {
		q.choices = append(q.choices, choice{"s", "save it and quit", func(m *model) tea.Cmd {
			if !m.commitEdit() {
				return nil // what is wrong with it stands under the field
			}
			if len(m.unsaved()) == 0 {
				return m.leave()
			}
			m.afterSave = (*model).quit
			for i, s := range m.cards {
				if s.unsaved {
					m.at = i
				}
			}
			unsaved[0].save(m)
			return nil
		}})
	}
	q.choices = append(q.choices,
		choice{"k", keep, (*model).keepAndQuit},
		choice{"x", "quit and throw it away", (*model).leave})
	m.ask = q
	return nil
}

// keepAndQuit leaves when everything is kept for the next start, and stays when it cannot be.
func (m *model) keepAndQuit() tea.Cmd {
	if m.keepAll() != nil {
		return m.quit() // asks again and says why
	}
	m.left = true
	return tea.Quit
}

// keepAndLeave leaves whatever happens: what could not be kept is said when the terminal is free.
func (m *model) keepAndLeave() {
	m.ended = m.keepAll()
	m.left = true
}

func (m *model) leave() tea.Cmd {
	if err := m.keeper.forget(); err != nil {
		m.log(err.Error())
	}
	m.left = true
	return tea.Quit
}

// interrupt is Ctrl-C: it asks like q, and the second time it goes and keeps everything.
func (m *model) interrupt() tea.Cmd {
	if m.interrupted {
		m.keepAndLeave()
		return tea.Quit
	}
	cmd := m.quit()
	m.interrupted = m.ask.on
	return cmd
}
