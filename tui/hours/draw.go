package hours

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// drawing is what a drawing needs to know: the view, the workbench, the hours, and where all stands.
type drawing struct {
	*View
	panel.Known
	g    *hours.Hours
	memo *memo
	room
}

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	if k.Room().Kind == panel.TooSmall || cols < 20 || rows < 6 {
		return
	}
	g := v.shown(k)
	panel.Head(w, true, v.title(g), v.doing()...)
	if g == nil {
		v.drawWaiting(k, w.Sub(0, 2, cols, rows-2))
		return
	}
	d := &drawing{v, k, g, v.memoOf(g), fit(g, cols, rows)}
	if d.pic.Empty() {
		w.TextIn(0, 2, cols, g.CellWords(v.by, v.at(g)), panel.Plain)
		return
	}
	d.picture(w)
	d.axes(w)
	d.legend(w.In(d.signs))
	d.sayCursor(w.In(d.words))
	w.OnClick(d.pic, func(b panel.Bench, x, y int) {
		if now := v.shown(b); now != nil && now.Over == g.Over {
			if i, ok := d.under(now, x, y); ok {
				v.cursor[g.Over] = i
			}
		}
	})
	if k.Stale() {
		w.Fade()
	}
}

// title says what the picture is of.
func (v *View) title(g *hours.Hours) string {
	text := "The day by " + v.by.Title()
	if v.over == hours.OverYear {
		text = "The year by " + v.by.Title()
	}
	if g == nil {
		return text
	}
	own := g.Cells[g.Own].TakeOff
	if g.Over == hours.OverYear {
		return own.Format("2006") + " by " + v.by.Title()
	}
	return own.Format("2 Jan 2006") + " by " + v.by.Title()
}

// doing says at the right of the title what the view is doing, or what else it can show.
func (v *View) doing() []string {
	if !v.running {
		other := hours.OverYear - v.over
		return []string{"m another measure, y the " + other.String(), "y the " + other.String()}
	}
	return []string{"working it out, " + v.progress(), v.progress()}
}

// progress says how far a computation is.
func (v *View) progress() string {
	if v.total == nil || v.total.Load() == 0 {
		return "0 %"
	}
	return fmt.Sprintf("%d %%", 100*v.done.Load()/v.total.Load())
}

// drawWaiting stands where the picture will be.
func (v *View) drawWaiting(k panel.Known, w panel.Window) {
	cols, _ := w.Size()
	switch {
	case k.Report() == nil || k.Stale():
		w.TextIn(0, 0, cols, "nothing worked out yet: the card has to be right first", panel.Dim)
	case v.running:
		w.TextIn(0, 0, cols, "working out the "+v.over.String()+": "+v.progress(), panel.Dim)
	default:
		w.TextIn(0, 0, cols, v.failed, panel.Warn)
	}
}

// bare tells that characters stand for levels instead of colours.
func bare(pen *cells.Pen) bool { return pen.Profile <= cells.Sixteen || pen.ASCII }

// shades run from the worst level to the best, as ink on paper does.
var shades = [...]rune{'.', ':', '-', '=', '+', '*', '#', '@'}

// shade returns the character of a level.
func shade(level float64) rune {
	return shades[min(int(level*float64(len(shades))), len(shades)-1)]
}

// asWanted tells that an hour which is judged has the light that the card is for, which gets a sign of its own.
func asWanted(c *hours.Hour) bool { return c.State == hours.Good && c.AsWanted() }

// digit returns the character of a level of an hour with the light wanted, where characters stand for levels.
func digit(level float64) rune {
	return '1' + rune(min(int(level*float64(len(shades))), len(shades)-1))
}

// wantedSign stands in the middle of a cell with the light wanted, where colours stand for levels; where two cells
// share a line, one of pairSigns does: for the upper, the lower, or both.
const wantedSign = '•'

var pairSigns = [4]rune{0, '\'', '.', ':'}

// crossed marks an hour that cannot be exposed or flown.
func crossed(c *hours.Hour) bool {
	return c.State == hours.Dark || c.State == hours.Bright || c.State == hours.Unfit
}

// picture draws the cells, then marks the card's own and the one under the cursor.
func (d *drawing) picture(w panel.Window) {
	for i := range d.g.Cells {
		x, y, lower, ok := d.cell(d.g, i)
		switch {
		case !ok || lower:
		case d.half:
			below := -1
			if i%d.g.Rows+1 < d.first+d.n {
				below = i + 1
			}
			d.pair(w, x, y, i, below)
		default:
			rune, style := d.filled(w.Pen, i)
			if math.IsNaN(d.memo.levels[i]) { // a sign, not a field of signs
				w.Set(x+(d.cw-1)/2, y+(d.ch-1)/2, rune, style)
				continue
			}
			for dy := range d.ch {
				for dx := range d.cw {
					w.Set(x+dx, y+dy, rune, style)
				}
			}
			if asWanted(&d.g.Cells[i]) && !bare(w.Pen) {
				style.Fg = panel.Against(style.Bg)
				w.Set(x+(d.cw-1)/2, y+(d.ch-1)/2, wantedSign, style)
			}
		}
	}
	d.mark(w, d.g.Own, false)
	d.mark(w, d.at(d.g), true)
}

// filled returns how a cell is filled.
func (d *drawing) filled(pen *cells.Pen, i int) (rune, cells.Style) {
	c := &d.g.Cells[i]
	switch v := d.memo.levels[i]; {
	case !math.IsNaN(v) && bare(pen):
		style, sign := panel.Plain, shade(v)
		if v >= 1-1.0/float64(len(shades)) {
			style = panel.Strong
		}
		if asWanted(c) {
			sign = digit(v)
		}
		return sign, style
	case !math.IsNaN(v):
		return ' ', cells.Style{Bg: cells.Viridis.In(pen.Profile, v)}
	case crossed(c):
		return 'x', panel.Faint
	case c.State == hours.Good:
		return '·', panel.Faint
	}
	return ' ', panel.Plain
}

// pair draws two cells on one line: with half blocks, or, where characters stand for levels, the
// better of the two. below is −1 under the last row.
func (d *drawing) pair(w panel.Window, x, y, above, below int) {
	a, b := d.memo.levels[above], math.NaN()
	if below >= 0 {
		b = d.memo.levels[below]
	}
	var rune rune
	var style cells.Style
	hasA, hasB := !math.IsNaN(a), !math.IsNaN(b)
	wanted := 0
	if hasA && asWanted(&d.g.Cells[above]) {
		wanted = 1
	}
	if hasB && asWanted(&d.g.Cells[below]) {
		wanted += 2
	}
	switch {
	case !hasA && !hasB:
		rune, style = d.filled(w.Pen, above)
		if below >= 0 && rune == ' ' {
			rune, style = d.filled(w.Pen, below)
		}
	case bare(w.Pen):
		pick := above
		if !hasA || hasB && b > a {
			pick = below
		}
		rune, style = d.filled(w.Pen, pick)
	case wanted > 0: // a sign takes the place of the halves, on the ground of what it is of
		ground := a
		switch {
		case wanted == 3:
			ground = (a + b) / 2
		case wanted == 2:
			ground = b
		}
		rune, style.Bg = pairSigns[wanted], cells.Viridis.In(w.Pen.Profile, ground)
		style.Fg = panel.Against(style.Bg)
	case hasA && hasB:
		rune, style = '▀', cells.Style{Fg: cells.Viridis.In(w.Pen.Profile, a), Bg: cells.Viridis.In(w.Pen.Profile, b)}
	case hasA:
		rune, style = '▀', cells.Style{Fg: cells.Viridis.In(w.Pen.Profile, a)}
	default:
		rune, style = '▄', cells.Style{Fg: cells.Viridis.In(w.Pen.Profile, b)}
	}
	for dx := range d.cw {
		w.Set(x+dx, y, rune, style)
	}
}

// mark puts a sign into a cell: brackets, where there is room, for the cursor, whose ground turns
// round; a ring for the card's own.
func (d *drawing) mark(w panel.Window, i int, cursor bool) {
	x, y, lower, ok := d.cell(d.g, i)
	if !ok {
		return
	}
	y += (d.ch - 1) / 2
	style := panel.Strong
	if v := d.memo.levels[i]; !math.IsNaN(v) && !bare(w.Pen) {
		ground := cells.Viridis.In(w.Pen.Profile, v)
		style = cells.Style{Fg: panel.Against(ground), Bg: ground, Attr: cells.Bold}
		if cursor {
			style.Fg, style.Bg = ground, panel.Against(ground)
		}
	}
	middle := (d.cw - 1) / 2
	if !cursor {
		w.Set(x+middle, y, '○', style)
		return
	}
	signs := make([]rune, d.cw)
	for k := range signs {
		signs[k] = ' '
	}
	switch {
	case d.cw > 1:
		signs[0], signs[d.cw-1] = '[', ']'
		if i == d.g.Own && d.cw > 2 {
			signs[middle] = '○'
		}
	case w.Pen.ASCII:
		signs[0] = '!'
	case bare(w.Pen) || !d.half:
		signs[0] = '◆'
	case lower:
		signs[0] = '▾'
	default:
		signs[0] = '▴'
	}
	if bare(w.Pen) || math.IsNaN(d.memo.levels[i]) {
		style.Attr |= cells.Reverse
	}
	for dx, c := range signs {
		w.Set(x+dx, y, c, style)
	}
}
