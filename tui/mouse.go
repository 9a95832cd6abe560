package tui

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// click answers to the mouse: a press chooses, a drag moves the playhead, the wheel scrolls or
// nudges nothing that could be lost by accident.
func (m *model) click(msg tea.MouseMsg) tea.Cmd {
	if m.guide.On {
		if msg.Action == tea.MouseActionPress {
			m.leaveTour()
		}
		return nil
	}
	if m.ask.on || m.kept.on && !m.list.On {
		return nil
	}
	if m.list.On {
		switch msg.Button {
		case tea.MouseButtonWheelDown:
			m.list.Scroll(1)
		case tea.MouseButtonWheelUp:
			m.list.Scroll(-1)
		}
		return nil
	}
	pane := m.paneAt(msg.X, msg.Y)
	switch {
	case msg.Button == tea.MouseButtonWheelUp || msg.Button == tea.MouseButtonWheelDown:
		by := 1
		if msg.Button == tea.MouseButtonWheelUp {
			by = -1
		}
		if m.view != viewShot {
			k := map[int]string{-1: "up", 1: "down"}[by]
			if b := m.table.at(m.here(), k); b != nil {
				return b.do(m, k)
			}
			return nil
		}
		switch pane {
		case paneCall:
			m.scrollCall(2 * by)
		case paneLens, paneFlight:
			m.playStep(by)
		case paneShot, paneLegs:
			if !m.edit.on {
				m.focus = pane
				m.move(by)
			}
		}
	case msg.Button == tea.MouseButtonLeft && (msg.Action == tea.MouseActionPress || msg.Action == tea.MouseActionMotion && pane == paneFlight && m.focus == paneFlight):
		if m.edit.on && !m.commitEdit() {
			return nil
		}
		hits := slices.Clone(m.screen.hits)
		for i := len(hits) - 1; i >= 0; i-- { // drawn last lies on top
			h := hits[i]
			if !h.Contains(msg.X, msg.Y) {
				continue
			}
			before, cursor, col := m.focus, m.cursor, m.col
			h.Do(m, msg.X, msg.Y)
			// A second click on the field under the cursor opens it.
			if msg.Action == tea.MouseActionPress && m.view == viewShot && before == m.focus && cursor == m.cursor && col == m.col && (m.focus == paneShot || m.focus == paneLegs) && h.H == 1 {
				m.editHere()
			}
			break
		}
	}
	return nil
}

// paneAt returns the pane at a cell of the screen, −1 for none.
func (m *model) paneAt(x, y int) int {
	for p, r := range m.screen.panes {
		if r.Contains(x, y) {
			return p
		}
	}
	return -1
}
