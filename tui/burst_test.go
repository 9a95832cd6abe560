package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// Letters that are typed quickly arrive as one message: before a view has anything to show, or while it still shows the
// card before. Whatever they are, nothing breaks.
func TestKeysThatArriveTogether(t *testing.T) {
	const letters = "abcefghijklmnprtuwxyzABCGIKMT+-,./?! "
	together := func(m *model, keys string, hand func(*model, ...tea.Msg)) {
		t.Helper()
		hand(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(keys)})
		if m.failed != nil {
			t.Errorf("%q: %v", keys, m.failed)
			m.failed = nil
		}
	}
	only := func(m *model, msgs ...tea.Msg) { m.Update(msgs[0]) } // nothing is worked out
	for _, view := range "123456" {
		for _, r := range letters {
			m := blankModel(t, nil)
			m.Update(tea.WindowSizeMsg{Width: 120, Height: 36})
			together(m, string(view)+string(r), only)
			together(m, "n"+string(r), only)
			m.release()
		}
	}
	for _, view := range "1235" { // the others work for seconds
		m := testModel(t, 60, 20, nil)
		for _, r := range letters {
			settleKeys(m, "esc", "esc", "esc")
			if m.at > 0 {
				settleKeys(m, "p") // the card after it was not worked out
			}
			settleKeys(m, string(view))
			together(m, "n"+string(r), settle)
		}
	}
}
