package tui

import (
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// line is one line of text with a cursor. The keys and the clipboard are the input component's; it is
// drawn here, in cells.
type line struct {
	in    textinput.Model
	fresh bool // nothing was typed yet: the first character replaces the text
}

// longestText is more than any field needs, and keeps a pasted book from slowing every keystroke.
const longestText = 2000

func newLine(text string) line {
	in := textinput.New()
	in.CharLimit = longestText
	in.Cursor.SetMode(cursor.CursorStatic)
	in.Focus()
	in.SetValue(text)
	in.CursorEnd()
	return line{in: in, fresh: true}
}

func (l *line) String() string { return l.in.Value() }

// insert types a text at the cursor.
func (l *line) insert(rs []rune) {
	if l.fresh {
		l.in.SetValue("")
	}
	l.fresh = false
	rs = slices.DeleteFunc(slices.Clone(rs), func(r rune) bool {
		return r != '\n' && r != '\t' && cells.RuneWidth(r) == 0 // nothing that could not be seen
	})
	l.in, _ = l.in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: rs, Paste: true})
}

// key handles a key that is no text.
func (l *line) key(msg tea.KeyMsg) (cmd tea.Cmd) {
	if msg.String() == "ctrl+v" && l.fresh {
		l.in.SetValue("")
	}
	l.fresh = false
	if text := []rune(l.in.Value()); key.Matches(msg, l.in.KeyMap.DeleteWordForward) && l.in.Position() == len(text)-1 {
		// The component reads one character too far here and panics (bubbles 1.0.0, deleteWordForward);
		// TestTheComponentStillNeedsItsGuard tells when it is mended.
		l.in.SetValue(string(text[:len(text)-1]))
		return nil
	}
	l.in, cmd = l.in.Update(msg)
	return cmd
}

// other takes the clipboard's text when it comes.
func (l *line) other(msg tea.Msg) { l.in, _ = l.in.Update(msg) }

// empty takes all text away.
func (l *line) empty() {
	l.in.SetValue("")
	l.fresh = false
}

// draw shows the line in a field of so many columns; the cursor is a reversed cell and never
// leaves the field.
func (l *line) draw(w cells.Window, x, y, cols int) {
	if cols < 2 {
		return
	}
	style := cells.Style{Fg: cells.EditText, Bg: cells.EditGround}
	w.Fill(x, y, cols, 1, style)
	text, at := []rune(l.in.Value()), l.in.Position()
	start := 0
	for cells.Width(string(text[start:at])) > cols-1 {
		start++
	}
	w.Sub(x, y, cols, 1).Text(0, 0, string(text[start:]), style)
	r := ' '
	if at < len(text) {
		r = text[at]
	}
	cursor := cells.Style{Attr: cells.Reverse | cells.Underline}
	if l.fresh {
		cursor.Attr |= cells.Bold
	}
	w.Sub(x, y, cols, 1).Text(cells.Width(string(text[start:at])), 0, string(r), cursor)
}

// edit is the field that is being typed.
type edit struct {
	on      bool
	row     panel.Row
	line    line
	base    *shot.Card // the card before typing
	bag     *kit.Bag   // and the bag, where the field is one of a filter's
	fault   string     // what is wrong with the text now
	allowed string     // and what it may be
}

// beginEdit opens a field for typing.
func (m *model) beginEdit(r panel.Row, text string) {
	s := m.card()
	if s.current == nil || r.Spec == nil {
		return
	}
	m.edit = edit{on: true, row: r, line: newLine(text), base: s.current, bag: s.kit()}
	m.say("")
}

// typed works the text into the card, so that every keystroke re-computes the flight.
func (m *model) typed() {
	s, e := m.card(), &m.edit
	text := strings.TrimSpace(e.line.String())
	if e.row.Filter {
		m.typedBag(text)
		return
	}
	was, _ := e.base.Holds(e.row.Path)
	if text == was {
		e.fault = ""
		s.try(e.base)
		return
	}
	c, faults := e.base.Set(e.row.Path, text)
	if c == nil {
		e.fault, e.allowed = "not a value for this field", ""
		if len(faults) > 0 {
			e.fault, e.allowed = "found "+faults[0].Found+"; allowed: "+faults[0].Allowed, faults[0].Allowed
		}
		return
	}
	e.fault = ""
	s.try(c)
}

// commitEdit keeps what was typed. A text that cannot stand there keeps the field open.
func (m *model) commitEdit() bool {
	if !m.edit.on {
		return true
	}
	m.typed()
	if m.edit.fault != "" {
		return false
	}
	m.settle()
	m.edit = edit{}
	m.changed()
	return true
}

// settle makes what was typed a step of undo.
func (m *model) settle() {
	s := m.card()
	if !m.edit.row.Filter {
		s.settle(m.edit.base)
		return
	}
	cards := len(s.past)
	if m.edit.base != nil {
		s.settle(m.edit.base) // changed where it names a filter that was renamed
	}
	s.bag.settle(m.edit.bag)
	s.future = nil
	if len(s.past) > cards { // one change of both, one step
		s.past[cards].n = s.bag.changes
	}
}

// abandon goes back to what was there before typing.
func (m *model) abandon() (kept bool) {
	s := m.card()
	if !m.edit.row.Filter {
		return s.abandon(m.edit.base)
	}
	card := m.edit.base != nil && s.abandon(m.edit.base)
	if kept = s.bag.abandon(m.edit.bag); kept && card {
		s.future[0].n = s.bag.changes
	}
	m.bagChanged()
	return kept
}

// faultLine gives the fault that is shown under the field, in few columns: of the text itself, or of
// the card that it makes.
func (m *model) faultLine() string {
	switch {
	case !m.edit.on:
		return ""
	case m.edit.fault != "" && m.edit.allowed != "":
		return m.edit.allowed
	case m.edit.fault != "":
		return m.edit.fault
	case len(m.calc.faults) > 0:
		return m.calc.faults[0].Allowed
	}
	return ""
}

// leaveEdit backs out of a field. What was typed is not thrown away: redo brings it back.
func (m *model) leaveEdit() {
	typed := strings.TrimSpace(m.edit.line.String())
	if m.abandon() {
		m.say("as before; Ctrl-R brings " + cells.Cut(typed, 24) + " back")
	} else {
		m.say("")
	}
	m.edit = edit{}
	m.changed()
}
