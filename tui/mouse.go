package tui

import tea "github.com/charmbracelet/bubbletea"

// click answers to the mouse: a press chooses, a drag moves the playhead, the wheel scrolls or
// nudges nothing that could be lost by accident.
func (m *model) click(msg tea.MouseMsg) tea.Cmd {
	if m.ask.on {
		return nil
	}
	if m.help.on {
		switch msg.Button {
		case tea.MouseButtonWheelDown:
			m.help.top++
		case tea.MouseButtonWheelUp:
			m.help.top--
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
			if b := keyIndex[m.here()][k]; b != nil {
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
		hits := append([]hit(nil), m.screen.hits...)
		for i := len(hits) - 1; i >= 0; i-- { // drawn last lies on top
			h := hits[i]
			if msg.X < h.x || msg.Y < h.y || msg.X >= h.x+h.w || msg.Y >= h.y+h.h {
				continue
			}
			before, cursor, col := m.focus, m.cursor, m.col
			h.do(m, msg.X, msg.Y)
			// A second click on the field under the cursor opens it.
			if msg.Action == tea.MouseActionPress && m.view == viewShot && before == m.focus && cursor == m.cursor && col == m.col && (m.focus == paneShot || m.focus == paneLegs) && h.h == 1 {
				m.editHere()
			}
			break
		}
	}
	return nil
}

// paneAt gives the pane at a place of the screen, −1 for none.
func (m *model) paneAt(x, y int) int {
	for p, r := range m.screen.panes {
		if x >= r.x && y >= r.y && x < r.x+r.w && y < r.y+r.h {
			return p
		}
	}
	return -1
}
