package hours

import (
	"math"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// sign is an entry of the legend.
type sign struct {
	text string
	ramp bool // the ramp of the levels stands before the text, and from before it
	from string
}

func (s *sign) width() int {
	n := cells.Width(s.text)
	if s.ramp {
		n += cells.Width(s.from) + len(shades) + 2
	}
	return n
}

// signGap stands between two entries.
const signGap = " · "

// flow returns the line of each entry of a legend that is cols wide, from 0.
func flow(list []sign, cols int) []int {
	at := make([]int, len(list))
	x, y := 0, 0
	for i := range list {
		n := list[i].width()
		if x > 0 {
			if n += cells.Width(signGap); x+n > cols {
				x, y, n = 0, y+1, list[i].width()
			}
		}
		at[i] = y
		x += n
	}
	return at
}

// everySign is the longest legend there is.
var everySign = []sign{
	{ramp: true, from: "worst", text: "best"}, {text: "'.: light as wanted"}, {text: "○ the card"},
	{text: "x cannot be shot"}, {text: "blank: night"}, {text: "· no value"}, {text: "[ ] here"},
}

// legendRows returns how many lines a legend needs at most.
func legendRows(cols int) int {
	at := flow(everySign, cols)
	return at[len(at)-1] + 1
}

// legend says what the colours or characters mean: every sign that is in the picture, at every size. The ends of the
// ramp are told by their values where there is room.
func (d *drawing) legend(w panel.Window) {
	cols, rows := w.Size()
	var signs []sign
	if worse, better, ok := d.g.Scale(d.by); ok {
		from := w.Plainly(d.g.Words(d.by, worse))
		if d.by == hours.Score {
			from += " or more"
		}
		signs = append(signs, sign{ramp: true, from: from, text: w.Plainly(d.g.Words(d.by, better))})
	}
	signs = append(signs, d.signsShown(w.Pen)...)
	if at := flow(signs, cols); signs[0].ramp && (at[len(at)-1] >= rows || signs[0].width() > cols) {
		signs[0].from, signs[0].text = "worst", "best"
	}
	x, y := 0, 0
	for i, row := range flow(signs, cols) {
		switch {
		case row > y:
			x, y = 0, row
		case x > 0:
			x = w.Text(x, y, signGap, panel.Dim)
		}
		if s := &signs[i]; s.ramp {
			x = d.ramp(w, w.Text(x, y, s.from+" ", panel.Dim), y) + 1
		}
		x = w.Text(x, y, signs[i].text, panel.Dim)
	}
}

// ramp draws the levels from the worst to the best and returns the column after them.
func (d *drawing) ramp(w panel.Window, x, y int) int {
	for i := range shades {
		v := (float64(i) + 0.5) / float64(len(shades))
		if bare(w.Pen) {
			w.Set(x, y, shade(v), panel.Plain)
		} else {
			w.Set(x, y, ' ', cells.Style{Bg: cells.Viridis.In(w.Pen.Profile, v)})
		}
		x++
	}
	return x
}

// signsShown lists the signs beside the levels that the picture has.
func (d *drawing) signsShown(pen *cells.Pen) []sign {
	var wanted, cross, night, none bool
	for i := range d.g.Cells {
		c := &d.g.Cells[i]
		level := !math.IsNaN(d.memo.levels[i])
		wanted = wanted || level && asWanted(c)
		cross = cross || !level && crossed(c)
		none = none || !level && c.State == hours.Good
		night = night || c.State == hours.Night || c.State == hours.Skipped
	}
	var list []sign
	add := func(shown bool, text string) {
		if shown {
			list = append(list, sign{text: text})
		}
	}
	switch {
	case bare(pen):
		add(wanted, "1-8 light as wanted")
	case d.half:
		add(wanted, "'.: light as wanted")
	default:
		add(wanted, string(wantedSign)+" light as wanted")
	}
	add(true, "○ the card")
	add(cross, "x cannot be shot")
	add(night, "blank: night")
	add(none, "· no value")
	add(true, d.cursorSign(pen)+" here")
	return list
}

// cursorSign returns what marks the cell under the cursor.
func (d *drawing) cursorSign(pen *cells.Pen) string {
	switch {
	case d.cw > 1:
		return "[ ]"
	case pen.ASCII:
		return "!"
	case bare(pen) || !d.half:
		return "◆"
	}
	return "▴▾"
}
