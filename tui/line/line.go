// Package line is one line of text that is typed: the keys and the clipboard are those of an input component; it is
// drawn here, in cells.
package line

import (
	"slices"

	"example.org/skywedge/tui/cells"
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// Line is one line of text with a cursor.
type Line struct {
	in    textinput.Model
	Fresh bool // nothing was typed yet: the first character replaces the text
}

// longestText is more than any field needs, and keeps a pasted book from slowing every keystroke.
const longestText = 2000

// New returns a line with a text in it, which the first character replaces.
func New(text string) Line {
	in := textinput.New()
	in.CharLimit = longestText
	in.Cursor.SetMode(cursor.CursorStatic)
	in.Focus()
	in.SetValue(text)
	in.CursorEnd()
	return Line{in: in, Fresh: true}
}

// String returns the text.
func (l *Line) String() string { return l.in.Value() }

// Insert types a text at the cursor.
func (l *Line) Insert(rs []rune) {
	if l.Fresh {
		l.in.SetValue("")
	}
	l.Fresh = false
	rs = slices.DeleteFunc(slices.Clone(rs), func(r rune) bool {
		return r != '\n' && r != '\t' && cells.RuneWidth(r) == 0 // nothing that could not be seen
	})
	l.in, _ = l.in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: rs, Paste: true})
}

// Key handles a key that is no text.
func (l *Line) Key(msg tea.KeyMsg) (cmd tea.Cmd) {
	if msg.String() == "ctrl+v" && l.Fresh {
		l.in.SetValue("")
	}
	l.Fresh = false
	if text := []rune(l.in.Value()); key.Matches(msg, l.in.KeyMap.DeleteWordForward) && l.in.Position() == len(text)-1 {
		// The component reads one character too far here and panics (bubbles 1.0.0, deleteWordForward);
		// TestTheComponentStillNeedsItsGuard tells when it is mended.
		l.in.SetValue(string(text[:len(text)-1]))
		return nil
	}
	l.in, cmd = l.in.Update(msg)
	return cmd
}

// Other takes the clipboard's text when it comes.
func (l *Line) Other(msg tea.Msg) { l.in, _ = l.in.Update(msg) }

// Empty takes all text away.
func (l *Line) Empty() {
	l.in.SetValue("")
	l.Fresh = false
}

// Draw shows the line in a field of so many columns; the cursor is a reversed cell and never
// leaves the field.
func (l *Line) Draw(w cells.Window, x, y, cols int) {
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
	if l.Fresh {
		cursor.Attr |= cells.Bold
	}
	w.Sub(x, y, cols, 1).Text(cells.Width(string(text[start:at])), 0, string(r), cursor)
}
