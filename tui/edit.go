package tui

import (
	"strings"
	"unicode/utf8"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
)

// line is one line of text with a cursor.
type line struct {
	text  []rune
	at    int
	fresh bool // nothing was typed yet: the first character replaces the text
}

func newLine(text string) line {
	r := []rune(text)
	return line{text: r, at: len(r), fresh: true}
}

func (l *line) String() string { return string(l.text) }

// longestText is more than any field needs, and keeps a pasted book from slowing every keystroke.
const longestText = 2000

func (l *line) insert(rs []rune) {
	if l.fresh {
		l.text, l.at = nil, 0
	}
	l.fresh = false
	for _, r := range rs {
		if r == '\n' || r == '\t' {
			r = ' '
		}
		if cells.RuneWidth(r) == 0 || r == utf8.RuneError || len(l.text) >= longestText {
			continue
		}
		l.text = append(l.text, 0)
		copy(l.text[l.at+1:], l.text[l.at:])
		l.text[l.at] = r
		l.at++
	}
}

// key handles the keys of a line of text and tells whether it knew the key.
func (l *line) key(k string) bool {
	fresh := l.fresh
	l.fresh = false
	switch k {
	case "left", "ctrl+b":
		l.at = max(0, l.at-1)
	case "right", "ctrl+f":
		l.at = min(len(l.text), l.at+1)
	case "home", "ctrl+a":
		l.at = 0
	case "end", "ctrl+e":
		l.at = len(l.text)
	case "backspace", "ctrl+h":
		if l.at > 0 {
			l.text = append(l.text[:l.at-1], l.text[l.at:]...)
			l.at--
		}
	case "delete":
		if l.at < len(l.text) {
			l.text = append(l.text[:l.at], l.text[l.at+1:]...)
		}
	case "ctrl+u":
		l.text, l.at = append([]rune(nil), l.text[l.at:]...), 0
	case "ctrl+k":
		l.text = l.text[:l.at]
	case "ctrl+w":
		i := l.at
		for i > 0 && l.text[i-1] == ' ' {
			i--
		}
		for i > 0 && l.text[i-1] != ' ' {
			i--
		}
		l.text = append(l.text[:i], l.text[l.at:]...)
		l.at = i
	default:
		l.fresh = fresh
		return false
	}
	return true
}

// draw shows the line in a field of so many columns; the cursor is a reversed cell and never
// leaves the field.
func (l *line) draw(w cells.Window, x, y, cols int) {
	if cols < 2 {
		return
	}
	style := cells.Style{Fg: cells.EditText, Bg: cells.EditGround}
	w.Fill(x, y, cols, 1, style)
	start := 0
	for cells.Width(string(l.text[start:l.at])) > cols-1 {
		start++
	}
	w.Sub(x, y, cols, 1).Text(0, 0, string(l.text[start:]), style)
	r := ' '
	if l.at < len(l.text) {
		r = l.text[l.at]
	}
	cursor := cells.Style{Attr: cells.Reverse | cells.Underline}
	if l.fresh {
		cursor.Attr |= cells.Bold
	}
	w.Sub(x, y, cols, 1).Text(cells.Width(string(l.text[start:l.at])), 0, string(r), cursor)
}

// edit is the field that is being typed.
type edit struct {
	on      bool
	row     row
	line    line
	base    *plan.Card // the card before typing
	fault   string     // what is wrong with the text now
	allowed string     // and what it may be
}

// beginEdit opens a field for typing.
func (m *model) beginEdit(r row, text string) {
	s := m.sheet()
	if s.card == nil || r.spec == nil {
		return
	}
	m.edit = edit{on: true, row: r, line: newLine(text), base: s.card}
	m.say("")
}

// typed works the text into the card, so that every keystroke re-computes the flight.
func (m *model) typed() {
	s, e := m.sheet(), &m.edit
	text := strings.TrimSpace(e.line.String())
	was, _ := (&sheet{card: e.base}).shown(e.row)
	if text == was {
		e.fault = ""
		s.try(e.base)
		return
	}
	c, faults := s.set(e.base, e.row.path, text)
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
	m.sheet().settle(m.edit.base)
	m.edit = edit{}
	m.changed()
	return true
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
	if m.sheet().abandon(m.edit.base) {
		m.say("as before; Ctrl-R brings " + cells.Cut(typed, 24) + " back")
	} else {
		m.say("")
	}
	m.edit = edit{}
	m.changed()
}
