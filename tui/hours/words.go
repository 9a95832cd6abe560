package hours

import (
	"fmt"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// axes labels the columns above the picture and the rows on its left. The column and the row of the
// cursor are named in full, which shows where it is without colour.
func (d *drawing) axes(w panel.Window) {
	g, r := d.g, &d.room
	at := d.at(g)
	y := r.pic.Y - 1
	here := cursorColumn(g, at)
	x0 := max(r.pic.X, min(r.pic.X+at/g.Rows*r.cw, r.pic.X+r.pic.W-cells.Width(here)))
	x1 := x0 + cells.Width(here)
	if here != "" {
		w.Text(x0, y, here, panel.Accent)
	}
	free := r.pic.X // labels run neither into one another nor into that of the cursor
	last := ""
	for col := range g.Cols {
		text := columnLabel(g, col, last)
		if text == "" {
			continue
		}
		last = text
		from := r.pic.X + col*r.cw
		to := from + cells.Width(text)
		if from >= free && to <= r.pic.X+r.pic.W && (here == "" || to < x0 || from > x1) {
			free = w.Text(from, y, text, panel.Dim) + 1
		}
	}
	for row := r.first; row < r.first+r.n; row++ {
		_, y, lower, _ := r.cell(g, row)
		if lower {
			continue
		}
		style := panel.Dim
		if cur := at % g.Rows; cur == row || r.half && cur == row+1 {
			style = panel.Accent
			row = cur
		}
		text := fmt.Sprintf("%02d", row)
		if g.Over == hours.OverDay {
			text = fmt.Sprintf(":%02d", 10*row)
		}
		w.TextRight(r.pic.X-1, y+(r.ch-1)/2, text, style)
	}
}

// columnLabel returns the label of a column: the hour, or the month where it begins. last is the label
// before it.
func columnLabel(g *hours.Hours, col int, last string) string {
	t := g.At(col, 0).TakeOff
	for r := 1; r < g.Rows && t.IsZero(); r++ {
		t = g.At(col, r).TakeOff
	}
	if g.Over == hours.OverDay {
		return t.Format("15")
	}
	if text := t.Format("Jan"); text != last {
		return text
	}
	return ""
}

// cursorColumn names the cursor's column in full.
func cursorColumn(g *hours.Hours, at int) string {
	t := g.Cells[at].TakeOff
	switch {
	case t.IsZero():
		return ""
	case g.Over == hours.OverDay:
		return t.Format("15")
	}
	return t.Format("2 Jan")
}

// sayCursor says what stands under the cursor, and lists the best windows.
func (d *drawing) sayCursor(w panel.Window) {
	g, memo := d.g, d.memo
	cols, rows := w.Size()
	at, by := d.at(g), d.by
	y := 0
	put := func(lead, text string, style cells.Style, pick int) {
		for k, l := range cells.Wrap(w.Plainly(text), cols-cells.Width(lead)) {
			if y >= rows {
				return
			}
			if k == 0 {
				w.Text(0, y, lead, panel.Accent)
			}
			w.Text(cells.Width(lead), y, l, style)
			if pick >= 0 {
				w.OnClick(panel.Box(0, y, cols, 1), func(panel.Bench, int, int) { d.cursor[g.Over] = pick })
			}
			y++
		}
	}
	put("▸ ", g.CellWords(by, at), panel.Plain, -1)
	if at != g.Own && rows > 6 {
		put("○ ", "the card: "+g.CellWords(by, g.Own), panel.Dim, g.Own)
	}
	if rows > 9 {
		y++
	}
	if r := d.Report(); r != nil && len(r.Flights) > 1 {
		put("  ", "The call lands to change between legs; here one filter flies them all.", panel.Dim, -1)
	}
	if memo.note != "" {
		put("  ", memo.note, panel.Dim, -1)
	}
	if len(memo.windows) == 0 {
		return
	}
	title := "Best to take off, with the light wanted"
	if by == hours.Sun {
		title = "Low sun, below 6°"
	}
	if rows > 5 {
		put("", title, panel.Strong, -1)
	}
	for i := range memo.windows {
		win := &memo.windows[i]
		text := g.WindowWords(win) + ": " + g.BestWords(by, win)
		lead := fmt.Sprintf("%d ", i+1)
		if win.Best == at {
			lead = "▸ "
		}
		put(lead, text, panel.Plain, win.Best)
	}
	d.everyMeasure(w, y+1)
}

// everyMeasure says what the hour under the cursor is by every measure, where there is room for all.
func (d *drawing) everyMeasure(w panel.Window, y int) {
	g := d.g
	cols, rows := w.Size()
	at := d.at(g)
	c := &g.Cells[at]
	if y+1+int(hours.Measures) > rows || c.State != hours.Good {
		return
	}
	w.TextIn(0, y, cols, g.When(at)+" by every measure", panel.Strong)
	for by := range hours.Measures {
		text := c.StateWords(by)
		if _, ok := c.Value(by); ok {
			text = g.ValueWords(by, c)
		}
		lead, style := "  ", panel.Plain
		if by == d.by {
			lead, style = "▸ ", panel.Accent
		}
		y++
		x := w.Text(0, y, lead, panel.Accent)
		x = w.Text(x, y, by.String(), style)
		w.TextIn(max(x+1, 12), y, cols-12, w.Plainly(text), panel.Plain)
		w.OnClick(panel.Box(0, y, cols, 1), func(panel.Bench, int, int) { d.by = by })
	}
}
