package tui

import (
	"fmt"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/fields"
	"example.org/skywedge/tui/panel"
)

// shotPane draws the shot's form.
func (s *screen) shotPane(m *model, w panel.Window) {
	head := s.shotHead()
	if head > 0 {
		s.header(m, w, paneShot, "")
	}
	cols, rows := w.Size()
	list := m.rows(paneShot)
	in := w.Sub(0, head, cols, rows-head)
	s.form(m, in, paneShot, list, 0)
}

// form draws fields of one of the two panes that have a form. before is how many lines of the pane's list stand
// above them.
func (s *screen) form(m *model, w panel.Window, pane int, list []panel.Row, before int) {
	f := m.formOf(pane, list, before)
	f.Click = func(_ panel.Bench, line int) {
		m.focus, m.cursor[pane] = pane, line+before
		m.clampCursors()
	}
	m.scroll[pane], _ = f.Draw(w, m.scroll[pane])
}

// formOf returns the form of a pane. Beside the legs' fields nothing is asked while their table is worked in: there
// the question stands.
func (m *model) formOf(pane int, list []panel.Row, before int) panel.Form {
	f := panel.Form{
		Rows: list, Cursor: m.cursor[pane] - before, Focus: m.focus == pane, Shown: m.card().shown, Typing: m.Typing(), Asked: m.askedAt,
	}
	if pane == paneLegs && f.Cursor < 0 {
		f.Asked = nil
	}
	return f
}

// legsPane draws the table of legs, one line each, and the fields of the chosen one below it.
func (s *screen) legsPane(m *model, w panel.Window) {
	n := m.card().legs()
	total := ""
	if r := m.calc.report; r != nil && !m.stale() {
		total = fmt.Sprintf("%.0f min, %s", r.FlightMin, count(r.Batteries, "battery", "batteries"))
	}
	s.header(m, w, paneLegs, total)
	cols, rows := w.Size()
	if rows < 3 {
		return
	}
	x := 2 + len(fmt.Sprint(n))
	xs := make([]int, len(legColumns))
	for i, c := range legColumns {
		xs[i] = x
		if x+c.width <= cols {
			w.TextRight(x+c.width, 1, c.head, panel.Dim)
		}
		x += c.width + 1
	}
	// The table keeps the chosen leg in view; its fields take what is left.
	table := min(n, max(1, rows-2))
	form := m.rows(paneLegs)
	if m.focus == paneLegs && m.cursor[paneLegs] >= n {
		table = min(n, max(1, rows-2-min(len(form), max(4, rows/2))))
	}
	top := panel.KeepInView(0, m.leg, n, table)
	inTable := m.cursor[paneLegs] < n
	y := 2
	for i := top; i < top+table && y < rows; i++ {
		s.legLine(m, w, y, i, xs)
		y++
		text, style := "", panel.Warn
		switch typing := m.focus == paneLegs && inTable && i == m.leg && m.edit.on; {
		case typing && m.edit.fault == "" && m.edit.said != "":
			text, style = m.edit.said, panel.Dim
		case typing && m.faultLine() != "":
			text = "! " + m.faultLine()
		case (inTable || i != m.leg) && m.askedOfLeg(i) != "":
			text = "! " + m.askedOfLeg(i)
		}
		for _, l := range cells.Wrap(text, max(1, cols-2)) {
			if text != "" && y < rows {
				w.TextIn(2, y, cols-2, l, style)
				y++
			}
		}
	}
	if n > table {
		w.Text(1, 1, fmt.Sprintf("%d-%d/%d", top+1, top+table, n), panel.Dim)
	}
	if rows-y < 2 || len(form) == 0 {
		return
	}
	if rows-y > 3 {
		if rows-y > len(form)+1 {
			y++
		}
		lx := w.Text(2, y, fmt.Sprintf("leg %d ", m.leg+1), cells.Style{Fg: cells.Dim, Attr: cells.Bold})
		for ; lx < cols; lx++ {
			w.Set(lx, y, '╌', panel.Faint)
		}
		y++
	}
	s.form(m, w.Sub(0, y, cols, rows-y), paneLegs, form, n)
}

// legLine draws one leg of the table.
func (s *screen) legLine(m *model, w panel.Window, y, leg int, xs []int) {
	cols, _ := w.Size()
	picked := leg == m.leg
	inTable := m.focus == paneLegs && m.cursor[paneLegs] < m.card().legs()
	ground := cells.Default
	if picked && inTable {
		ground = cells.PickGround
		w.Fill(0, y, cols, 1, cells.Style{Bg: ground})
	}
	switch {
	case picked && inTable:
		w.Text(0, y, "▸", panel.Accent.On(ground))
	case picked:
		w.Text(0, y, "›", panel.Dim)
	}
	w.TextRight(xs[0]-1, y, fmt.Sprint(leg+1), panel.Dim.On(ground))
	for i, c := range legColumns {
		if xs[i]+c.width > cols {
			break
		}
		r := fields.Leg(m.card().current, leg, c.key)
		if r.Spec == nil {
			continue
		}
		here := picked && inTable && i == m.col
		w.OnClick(panel.Box(xs[i], y, c.width+1, 1), func(panel.Bench, int, int) {
			m.focus, m.cursor[paneLegs], m.col = paneLegs, leg, i
			m.clampCursors()
			m.playToLeg(m.leg)
		})
		if here && m.edit.on {
			m.edit.line.Draw(w.Window, min(xs[i], cols-9), y, max(c.width, 9))
			break
		}
		text, isDefault := m.card().shown(r)
		st := panel.Plain
		if isDefault {
			st = panel.Dim
		}
		if here {
			st.Attr |= cells.Underline | cells.Bold
			st.Fg = cells.Accent
		}
		if text == "" {
			text = "·"
		}
		text = cells.Cut(panel.Pretty(text, r.Spec), c.width)
		if i == 0 {
			w.Text(xs[i], y, text, st.On(ground))
		} else {
			w.TextRight(xs[i]+c.width, y, text, st.On(ground))
		}
		if here && cells.Width(text) < c.width+1 { // the column is marked by a character too
			mark := xs[i] - 1
			if i > 0 {
				mark = xs[i] + c.width - cells.Width(text) - 1
			}
			w.Set(mark, y, '›', panel.Accent.On(ground))
		}
	}
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
