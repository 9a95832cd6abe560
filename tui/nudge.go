package tui

import (
	"strconv"

	"example.org/skywedge/tui/panel"
)

// nudged returns a text for a field moved by n steps, and false where there is nothing to move. What a
// step is, the card and the bag know.
func (m *model) nudged(r panel.Row, text string, n int) (string, bool) {
	s := m.card()
	if r.InBag {
		return s.kit().Doc.NudgeText(r.Path, text, n, nil)
	}
	return s.current.NudgeText(r.Path, text, n, s.kit())
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
