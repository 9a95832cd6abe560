package line

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// The guard in Line.Key can go when this fails.
func TestTheComponentStillNeedsItsGuard(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("the text field's deleteWordForward is mended: take out the guard in Line.Key, this test and its line in DEVELOPERS.md")
		}
	}()
	in := textinput.New()
	in.Focus()
	in.SetValue("127")
	in.SetCursor(2)
	_, _ = in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'d'}, Alt: true})
}

func typed(l *Line, keys ...string) string {
	for _, k := range keys {
		switch k {
		case "left":
			l.Key(tea.KeyMsg{Type: tea.KeyLeft})
		case "end":
			l.Key(tea.KeyMsg{Type: tea.KeyEnd})
		case "backspace":
			l.Key(tea.KeyMsg{Type: tea.KeyBackspace})
		case "alt+d":
			l.Key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'d'}, Alt: true})
		default:
			l.Insert([]rune(k))
		}
	}
	return l.String()
}

// The first character replaces what stood there; a key that moves keeps it. What could not be seen is not typed.
func TestTyping(t *testing.T) {
	for _, c := range []struct {
		keys []string
		want string
	}{
		{nil, "127"},
		{[]string{"5"}, "5"},
		{[]string{"5", "6"}, "56"},
		{[]string{"left", "5"}, "1257"},
		{[]string{"end", "5"}, "1275"},
		{[]string{"backspace"}, "12"},
		{[]string{"left", "alt+d"}, "12"}, // where the component would read past the end
		{[]string{"left", "left", "alt+d"}, "1"},
		{[]string{"end", "alt+d"}, "127"},
		{[]string{"a\u200bb\u202ec"}, "abc"},
		{[]string{"a\nb"}, "a b"},
		{[]string{strings.Repeat("x", 3000)}, strings.Repeat("x", longestText)},
	} {
		l := New("127")
		if got := typed(&l, c.keys...); got != c.want {
			t.Errorf("%q: %.40q, want %.40q", c.keys, got, c.want)
		}
		if l.Fresh != (len(c.keys) == 0) {
			t.Errorf("%q: fresh is %v", c.keys, l.Fresh)
		}
	}
	l := New("127")
	if l.Empty(); l.String() != "" || l.Fresh {
		t.Errorf("%q after it was emptied", l.String())
	}
	l = New("127") // what is pasted replaces it too, also before the clipboard has answered
	if l.Key(tea.KeyMsg{Type: tea.KeyCtrlV}); l.String() != "" {
		t.Errorf("%q before a paste", l.String())
	}
	l.Other(nil)
}

// The cursor never leaves the field, and what is left of it goes out of sight first.
func TestTheCursorStaysInItsField(t *testing.T) {
	for _, c := range []struct {
		text string
		keys []string
		cols int
		want string
	}{
		{"127", nil, 8, "|127     |"},
		{"127", nil, 4, "|127 |"},
		{"127", nil, 3, "|27 |"},
		{"1234567890", nil, 5, "|7890 |"},
		{"1234567890", []string{"left", "left"}, 5, "|56789|"},
		{"日本語", nil, 5, "|本語 |"}, // two columns each
		{"127", nil, 1, "| |"},   // no room at all: nothing is drawn
	} {
		l := New(c.text)
		typed(&l, c.keys...)
		canvas, pen := new(cells.Canvas), &cells.Pen{Profile: cells.NoColour}
		canvas.Reset(c.cols+2, 1)
		w := canvas.All()
		w.Text(0, 0, "|", cells.Style{})
		w.Text(c.cols+1, 0, "|", cells.Style{})
		l.Draw(w, 1, 0, c.cols)
		if got := ansi.Strip(strings.Join(pen.Lines(canvas, nil), "")); got != c.want {
			t.Errorf("%q %q in %d columns: %q, want %q", c.text, c.keys, c.cols, got, c.want)
		}
	}
}
