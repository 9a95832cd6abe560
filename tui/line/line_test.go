package line

import (
	"testing"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
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
