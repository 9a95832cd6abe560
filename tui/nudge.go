package tui

import "strconv"

// nudged returns a text for a field moved by n steps, and false where there is nothing to move. What a
// step is, the card and the bag know.
func (m *model) nudged(r row, text string, n int) (string, bool) {
	s := m.sheet()
	if r.filter {
		return s.bag.Doc.NudgeText(r.path, text, n, nil)
	}
	return s.card.NudgeText(r.path, text, n, s.bag)
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
