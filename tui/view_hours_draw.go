package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
)

func (hoursView) draw(s *screen, m *model, w cells.Window) {
	cols, rows := w.Size()
	if s.kind == tooSmall || cols < 20 || rows < 6 {
		return
	}
	g := m.shownHours()
	paneHead(w, true, hoursTitle(m, g), m.hoursState()...)
	if g == nil {
		s.hoursWaiting(m, w.Sub(0, 2, cols, rows-2))
		return
	}
	memo := m.hours.looked(g)
	r := hoursFit(g, cols, rows)
	if r.pic.empty() {
		w.TextIn(0, 2, cols, g.CellWords(m.hours.by, m.hoursAt(g)), plain)
		return
	}
	s.hoursPicture(m, g, memo, &r, w)
	s.hoursAxes(m, g, &r, w)
	s.hoursLegend(m, g, w.Sub(r.pic.x, r.pic.y+r.pic.h, cols-r.pic.x, 1), &r)
	s.hoursWords(m, g, memo, w.Sub(r.words.x, r.words.y, r.words.w, r.words.h))
	x0, y0 := w.Origin()
	room, over := r, g.Over
	s.hit(rect{x0 + r.pic.x, y0 + r.pic.y, r.pic.w, r.pic.h}, func(m *model, x, y int) {
		if g := m.shownHours(); g != nil && g.Over == over {
			if i, ok := room.under(g, x-x0, y-y0); ok {
				m.hours.cursor[over] = i
			}
		}
	})
	if m.stale() {
		w.Fade()
	}
}

// hoursTitle says what the picture is of.
func hoursTitle(m *model, g *plan.Hours) string {
	text := "The day by " + m.hours.by.Title()
	if m.hours.over == plan.OverYear {
		text = "The year by " + m.hours.by.Title()
	}
	if g == nil {
		return text
	}
	own := g.Cells[g.Own].TakeOff
	if g.Over == plan.OverYear {
		return own.Format("2006") + " by " + m.hours.by.Title()
	}
	return own.Format("2 Jan 2006") + " by " + m.hours.by.Title()
}

// hoursState says at the right of the title what the view is doing, or what else it can show.
func (m *model) hoursState() []string {
	h := &m.hours
	if !h.running {
		other := plan.OverYear - h.over
		return []string{"m another measure, y the " + other.String(), "y the " + other.String()}
	}
	return []string{"working it out, " + h.progress(), h.progress()}
}

// progress words how far a computation is.
func (h *hoursState) progress() string {
	if h.total == nil || h.total.Load() == 0 {
		return "0 %"
	}
	return fmt.Sprintf("%d %%", 100*h.done.Load()/h.total.Load())
}

// hoursWaiting stands where the picture will be.
func (s *screen) hoursWaiting(m *model, w cells.Window) {
	h := &m.hours
	cols, _ := w.Size()
	switch {
	case m.calc.report == nil || m.stale():
		w.TextIn(0, 0, cols, "nothing worked out yet: the card has to be right first", dim)
	case h.running:
		w.TextIn(0, 0, cols, "working out the "+h.over.String()+": "+h.progress(), dim)
	default:
		w.TextIn(0, 0, cols, h.failed, warn)
	}
}

// bare tells that characters stand for levels instead of colours.
func (s *screen) bare() bool { return s.pen.Profile <= cells.Sixteen || s.pen.ASCII }

// hoursShades run from the worst level to the best, as ink on paper does.
var hoursShades = [...]rune{'.', ':', '-', '=', '+', '*', '#', '@'}

// hoursShade gives the character of a level.
func hoursShade(level float64) rune {
	return hoursShades[min(int(level*float64(len(hoursShades))), len(hoursShades)-1)]
}

// hoursCross marks an hour that cannot be exposed or flown.
func hoursCross(c *plan.Hour) bool {
	return c.State == plan.HourDark || c.State == plan.HourBright || c.State == plan.HourUnfit
}

// hoursPicture draws the cells, then marks the card's own and the one under the cursor.
func (s *screen) hoursPicture(m *model, g *plan.Hours, memo *hoursMemo, r *hoursRoom, w cells.Window) {
	for i := range g.Cells {
		x, y, lower, ok := r.place(g, i)
		switch {
		case !ok || lower:
		case r.half:
			below := -1
			if i%g.Rows+1 < r.first+r.n {
				below = i + 1
			}
			s.hoursPair(g, memo, r, w, x, y, i, below)
		default:
			rune, style := s.hoursCell(g, memo, i)
			if math.IsNaN(memo.levels[i]) { // a sign, not a field of signs
				w.Set(x+(r.cw-1)/2, y+(r.ch-1)/2, rune, style)
				continue
			}
			for dy := range r.ch {
				for dx := range r.cw {
					w.Set(x+dx, y+dy, rune, style)
				}
			}
		}
	}
	s.hoursMark(g, memo, r, w, g.Own, false)
	s.hoursMark(g, memo, r, w, m.hoursAt(g), true)
}

// hoursCell gives how a cell is filled.
func (s *screen) hoursCell(g *plan.Hours, memo *hoursMemo, i int) (rune, cells.Style) {
	c := &g.Cells[i]
	switch v := memo.levels[i]; {
	case !math.IsNaN(v) && s.bare():
		if v >= 1-1.0/float64(len(hoursShades)) {
			return hoursShade(v), strong
		}
		return hoursShade(v), plain
	case !math.IsNaN(v):
		return ' ', cells.Style{Bg: cells.Viridis.In(s.pen.Profile, v)}
	case hoursCross(c):
		return 'x', faint
	case c.State == plan.HourGood:
		return '·', faint
	}
	return ' ', plain
}

// hoursPair draws two cells on one line: with half blocks, or, where characters stand for levels, the
// better of the two. below is −1 under the last row.
func (s *screen) hoursPair(g *plan.Hours, memo *hoursMemo, r *hoursRoom, w cells.Window, x, y, above, below int) {
	a, b := memo.levels[above], math.NaN()
	if below >= 0 {
		b = memo.levels[below]
	}
	var rune rune
	var style cells.Style
	hasA, hasB := !math.IsNaN(a), !math.IsNaN(b)
	switch {
	case !hasA && !hasB:
		rune, style = s.hoursCell(g, memo, above)
		if below >= 0 && rune == ' ' {
			rune, style = s.hoursCell(g, memo, below)
		}
	case s.bare():
		pick := above
		if !hasA || hasB && b > a {
			pick = below
		}
		rune, style = s.hoursCell(g, memo, pick)
	case hasA && hasB:
		rune, style = '▀', cells.Style{Fg: cells.Viridis.In(s.pen.Profile, a), Bg: cells.Viridis.In(s.pen.Profile, b)}
	case hasA:
		rune, style = '▀', cells.Style{Fg: cells.Viridis.In(s.pen.Profile, a)}
	default:
		rune, style = '▄', cells.Style{Fg: cells.Viridis.In(s.pen.Profile, b)}
	}
	for dx := range r.cw {
		w.Set(x+dx, y, rune, style)
	}
}

// hoursMark puts a sign into a cell: brackets, where there is room, for the cursor, whose ground turns
// round; a ring for the card's own.
func (s *screen) hoursMark(g *plan.Hours, memo *hoursMemo, r *hoursRoom, w cells.Window, i int, cursor bool) {
	x, y, lower, ok := r.place(g, i)
	if !ok {
		return
	}
	y += (r.ch - 1) / 2
	style := strong
	if v := memo.levels[i]; !math.IsNaN(v) && !s.bare() {
		ground := cells.Viridis.In(s.pen.Profile, v)
		style = cells.Style{Fg: against(ground), Bg: ground, Attr: cells.Bold}
		if cursor {
			style.Fg, style.Bg = ground, against(ground)
		}
	}
	middle := (r.cw - 1) / 2
	if !cursor {
		w.Set(x+middle, y, '○', style)
		return
	}
	signs := make([]rune, r.cw)
	for k := range signs {
		signs[k] = ' '
	}
	switch {
	case r.cw > 1:
		signs[0], signs[r.cw-1] = '[', ']'
		if i == g.Own && r.cw > 2 {
			signs[middle] = '○'
		}
	case s.pen.ASCII:
		signs[0] = '!'
	case s.bare() || !r.half:
		signs[0] = '◆'
	case lower:
		signs[0] = '▾'
	default:
		signs[0] = '▴'
	}
	if s.bare() || math.IsNaN(memo.levels[i]) {
		style.Attr |= cells.Reverse
	}
	for dx, c := range signs {
		w.Set(x+dx, y, c, style)
	}
}
