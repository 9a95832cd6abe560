package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
)

// hoursAxes labels the columns above the picture and the rows on its left. The column and the row of the
// cursor are named in full, which shows where it is without colour.
func (s *screen) hoursAxes(m *model, g *plan.Hours, r *hoursRoom, w cells.Window) {
	at := m.hoursAt(g)
	y := r.pic.y - 1
	here := hoursHere(g, at)
	x0 := max(r.pic.x, min(r.pic.x+at/g.Rows*r.cw, r.pic.x+r.pic.w-cells.Width(here)))
	x1 := x0 + cells.Width(here)
	if here != "" {
		w.Text(x0, y, here, accent)
	}
	free := r.pic.x // labels run neither into one another nor into that of the cursor
	last := ""
	for col := range g.Cols {
		text := hoursColumn(g, col, last)
		if text == "" {
			continue
		}
		last = text
		from := r.pic.x + col*r.cw
		to := from + cells.Width(text)
		if from >= free && to <= r.pic.x+r.pic.w && (here == "" || to < x0 || from > x1) {
			free = w.Text(from, y, text, dim) + 1
		}
	}
	for row := r.first; row < r.first+r.n; row++ {
		_, y, lower, _ := r.place(g, row)
		if lower {
			continue
		}
		style := dim
		if cur := at % g.Rows; cur == row || r.half && cur == row+1 {
			style = accent
			row = cur
		}
		text := fmt.Sprintf("%02d", row)
		if g.Over == plan.OverDay {
			text = fmt.Sprintf(":%02d", 10*row)
		}
		w.TextRight(r.pic.x-1, y+(r.ch-1)/2, text, style)
	}
}

// hoursColumn gives the label of a column: the hour, or the month where it begins. last is the label
// before it.
func hoursColumn(g *plan.Hours, col int, last string) string {
	t := g.At(col, 0).TakeOff
	for r := 1; r < g.Rows && t.IsZero(); r++ {
		t = g.At(col, r).TakeOff
	}
	if g.Over == plan.OverDay {
		return t.Format("15")
	}
	if text := t.Format("Jan"); text != last {
		return text
	}
	return ""
}

// hoursHere names the cursor's column in full.
func hoursHere(g *plan.Hours, at int) string {
	t := g.Cells[at].TakeOff
	switch {
	case t.IsZero():
		return ""
	case g.Over == plan.OverDay:
		return t.Format("15")
	}
	return t.Format("2 Jan")
}

// hoursLegend says what the colours or characters mean.
func (s *screen) hoursLegend(m *model, g *plan.Hours, w cells.Window, r *hoursRoom) {
	cols, _ := w.Size()
	if !r.wordsBelow {
		cols = min(cols, r.pic.w)
	}
	w = w.Sub(0, 0, cols, 1)
	by := m.hours.by
	worse, better, ok := g.Scale(by)
	if !ok {
		return
	}
	from, to := m.plainly(g.Words(by, worse)), m.plainly(g.Words(by, better))
	if by == plan.HourScore {
		from += " or more"
	}
	if cells.Width(from)+cells.Width(to)+2+len(hoursShades) > cols {
		from, to = "worst", "best"
	}
	x := w.Text(0, 0, from+" ", dim)
	for i := range hoursShades {
		v := (float64(i) + 0.5) / float64(len(hoursShades))
		if s.bare() {
			w.Set(x, 0, hoursShade(v), plain)
		} else {
			w.Set(x, 0, ' ', cells.Style{Bg: cells.Viridis.In(s.pen.Profile, v)})
		}
		x++
	}
	x = w.Text(x, 0, " "+to, dim)
	for _, more := range []string{" · x cannot be exposed · blank: night · ○ the card", " · x cannot be exposed · ○ the card", " · ○ the card"} {
		if x+cells.Width(more) <= cols {
			w.Text(x, 0, more, dim)
			return
		}
	}
}

// hoursWords says what stands under the cursor, and lists the best windows.
func (s *screen) hoursWords(m *model, g *plan.Hours, memo *hoursMemo, w cells.Window) {
	cols, rows := w.Size()
	at, by := m.hoursAt(g), m.hours.by
	y := 0
	put := func(lead, text string, style cells.Style, pick int) {
		for k, l := range cells.Wrap(m.plainly(text), cols-cells.Width(lead)) {
			if y >= rows {
				return
			}
			if k == 0 {
				w.Text(0, y, lead, accent)
			}
			w.Text(cells.Width(lead), y, l, style)
			if pick >= 0 {
				x0, y0 := w.Origin()
				s.hit(rect{x0, y0 + y, cols, 1}, func(m *model, _, _ int) { m.hours.cursor[g.Over] = pick })
			}
			y++
		}
	}
	put("▸ ", g.CellWords(by, at), plain, -1)
	if at != g.Own && rows > 6 {
		put("○ ", "the card: "+g.CellWords(by, g.Own), dim, g.Own)
	}
	if rows > 9 {
		y++
	}
	if r := m.calc.report; r != nil && len(r.Flights) > 1 {
		put("  ", "The call lands to change between legs; here one filter flies them all.", dim, -1)
	}
	if memo.note != "" {
		put("  ", memo.note, dim, -1)
	}
	if len(memo.windows) == 0 {
		return
	}
	title := "Best to take off"
	if by == plan.HourSun {
		title = "Low sun, below 6°"
	}
	if rows > 5 {
		put("", title, strong, -1)
	}
	for i := range memo.windows {
		win := &memo.windows[i]
		c := &g.Cells[win.Best]
		text := g.WindowWords(win)
		if v, ok := c.Value(by); ok && !math.IsNaN(v) {
			text += ": " + g.Words(by, v)
		}
		text += "; " + c.CallWords()
		lead := fmt.Sprintf("%d ", i+1)
		if win.Best == at {
			lead = "▸ "
		}
		put(lead, text, plain, win.Best)
	}
	s.hoursEvery(m, g, w, y+1)
}

// hoursEvery says what the hour under the cursor is by every measure, where there is room for all.
func (s *screen) hoursEvery(m *model, g *plan.Hours, w cells.Window, y int) {
	cols, rows := w.Size()
	at := m.hoursAt(g)
	c := &g.Cells[at]
	if y+1+int(plan.HourMeasures) > rows || c.State != plan.HourGood {
		return
	}
	w.TextIn(0, y, cols, g.When(at)+" by every measure", strong)
	for by := range plan.HourMeasures {
		text := c.StateWords(by)
		if v, ok := c.Value(by); ok {
			text = g.Words(by, v)
		}
		lead, style := "  ", plain
		if by == m.hours.by {
			lead, style = "▸ ", accent
		}
		y++
		x := w.Text(0, y, lead, accent)
		x = w.Text(x, y, by.String(), style)
		w.TextIn(max(x+1, 12), y, cols-12, m.plainly(text), plain)
		x0, y0 := w.Origin()
		s.hit(rect{x0, y0 + y, cols, 1}, func(m *model, _, _ int) { m.hours.by = by })
	}
}
