package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/tui/cells"
)

// labelCols is the width of the names in a form.
const labelCols = 16

// view of a list keeps the cursor on the screen: it gives the first line to show.
func keepInView(top, cursor, lines, rows int) int {
	if cursor < top {
		top = cursor
	}
	if cursor >= top+rows {
		top = cursor - rows + 1
	}
	return max(0, min(top, lines-rows))
}

// shotPane draws the shot's form.
func (s *screen) shotPane(m *model, w cells.Window) {
	s.header(m, w, paneShot, "")
	cols, rows := w.Size()
	list := m.rows(paneShot)
	in := w.Sub(0, 1, cols, rows-1)
	s.form(m, in, paneShot, list, 0)
}

// form draws lines of fields from line number skip of the pane's list on.
func (s *screen) form(m *model, w cells.Window, pane int, list []row, before int) {
	cols, rows := w.Size()
	cursor := m.cursor[pane] - before
	fault := 0
	if m.focus == pane && m.faultLine() != "" {
		fault = 1
	}
	if rows <= 0 {
		return
	}
	m.scroll[pane] = keepInView(m.scroll[pane], max(0, cursor), len(list), max(1, rows-fault))
	top := m.scroll[pane]
	y := 0
	for i := top; i < len(list) && y < rows; i++ {
		s.fieldLine(m, w, y, list[i], m.focus == pane && i == cursor)
		x0, y0 := w.Origin()
		at := i + before
		s.hit(rect{x0, y0 + y, cols, 1}, func(m *model, _, _ int) {
			m.focus, m.cursor[pane] = pane, at
			m.clampCursors()
		})
		y++
		if fault == 1 && i == cursor && y < rows {
			w.TextIn(2, y, cols-2, "! "+m.faultLine(), warn)
			y++
		}
	}
	if top+rows < len(list) && rows > 0 {
		w.Set(cols-1, rows-1, '▼', dim)
	}
	if top > 0 {
		w.Set(cols-1, 0, '▲', dim)
	}
}

// fieldLine draws one field: its name, its value and its unit. A default is dim.
func (s *screen) fieldLine(m *model, w cells.Window, y int, r row, picked bool) {
	cols, _ := w.Size()
	if r.heading {
		w.Text(2, y, r.label, cells.Style{Fg: cells.Dim, Attr: cells.Bold})
		return
	}
	if picked {
		w.Fill(0, y, cols, 1, cells.Style{Bg: cells.PickGround})
		w.Text(0, y, "▸", accent.On(cells.PickGround))
	}
	ground := cells.Default
	if picked {
		ground = cells.PickGround
	}
	w.TextIn(2, y, labelCols-1, r.label, dim.On(ground))
	x := 2 + labelCols
	if picked && m.edit.on {
		m.edit.line.draw(w, x, y, cols-x-1)
		return
	}
	text, isDefault := m.card().shown(r)
	st := plain
	if isDefault {
		st = dim
	}
	if text == "" {
		text = "-"
	}
	room := cols - x - 1
	u := unit(r.spec.Unit)
	if _, isWord := firstWord(text); isWord {
		u = ""
	}
	val := cells.Cut(pretty(text, r), max(1, room-cells.Width(u)))
	x = w.Text(x, y, val, st.On(ground))
	w.Text(x, y, u, dim.On(ground))
}

// firstWord tells whether a value is a word, which has no unit.
func firstWord(text string) (byte, bool) {
	c := text[0]
	return c, !(c >= '0' && c <= '9' || c == '-' && len(text) > 1 || c == '.')
}

// pretty writes a value for people: an arrow in a pair, a date and time apart.
func pretty(text string, r row) string {
	if a, b, ok := strings.Cut(text, " "); ok && r.spec.Pair && !strings.Contains(b, " ") {
		return a + "→" + b
	}
	if r.spec.Key == "take_off" {
		return strings.Replace(strings.TrimSuffix(text, ":00"), "T", " ", 1)
	}
	return text
}

// unit gives the unit as it stands behind a number.
func unit(u string) string {
	if u == "" || u == "°" || u == "%" {
		return u
	}
	return " " + u
}

// legsPane draws the table of legs, one line each, and the fields of the chosen one below it.
func (s *screen) legsPane(m *model, w cells.Window) {
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
	x := 3
	xs := make([]int, len(legColumns))
	for i, c := range legColumns {
		xs[i] = x
		if x+c.width <= cols {
			w.TextRight(x+c.width, 1, c.head, dim)
		}
		x += c.width + 1
	}
	// The table keeps the chosen leg in view; its fields take what is left.
	table := min(n, max(1, rows-2))
	form := m.rows(paneLegs)
	if m.focus == paneLegs && m.cursor[paneLegs] >= n {
		table = min(n, max(1, rows-2-min(len(form), max(4, rows/2))))
	}
	top := keepInView(0, m.leg, n, table)
	faulty := m.focus == paneLegs && m.cursor[paneLegs] < n && m.faultLine() != ""
	y := 2
	for i := top; i < top+table && y < rows; i++ {
		s.legLine(m, w, y, i, xs)
		y++
		if faulty && i == m.leg && y < rows {
			w.TextIn(2, y, cols-2, "! "+m.faultLine(), warn)
			y++
		}
	}
	if n > table {
		w.TextRight(cols, 1, fmt.Sprintf("%d-%d/%d", top+1, top+table, n), dim)
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
			w.Set(lx, y, '╌', faint)
		}
		y++
	}
	s.form(m, w.Sub(0, y, cols, rows-y), paneLegs, form, n)
}

// legLine draws one leg of the table.
func (s *screen) legLine(m *model, w cells.Window, y, leg int, xs []int) {
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
		w.Text(0, y, "▸", accent.On(ground))
	case picked:
		w.Text(0, y, "›", dim)
	}
	w.Text(1, y, fmt.Sprint(leg+1), dim.On(ground))
	for i, c := range legColumns {
		if xs[i]+c.width > cols {
			break
		}
		r := row{path: fmt.Sprintf("legs[%d].%s", leg, c.key), spec: specFor(legSpec(), c.key)}
		if r.spec == nil {
			continue
		}
		here := picked && inTable && i == m.col
		x0, y0 := w.Origin()
		at, col := leg, i
		s.hit(rect{x0 + xs[i], y0 + y, c.width + 1, 1}, func(m *model, _, _ int) {
			m.focus, m.cursor[paneLegs], m.col = paneLegs, at, col
			m.clampCursors()
			m.playToLeg(m.leg)
		})
		if here && m.edit.on {
			m.edit.line.draw(w, min(xs[i], cols-9), y, max(c.width, 9))
			break
		}
		text, isDefault := m.card().shown(r)
		st := plain
		if isDefault {
			st = dim
		}
		if here {
			st.Attr |= cells.Underline | cells.Bold
			st.Fg = cells.Accent
		}
		if text == "" {
			text = "·"
		}
		text = cells.Cut(pretty(text, r), c.width)
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
			w.Set(mark, y, '›', accent.On(ground))
		}
	}
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
