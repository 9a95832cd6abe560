package tui

import (
	"strings"

	"example.org/skywedge/tui/cells"
)

// The smallest window that the workbench is laid out for.
const minCols, minRows = 60, 20

// rect is a place on the screen.
type rect struct{ x, y, w, h int }

func (r rect) empty() bool { return r.w <= 0 || r.h <= 0 }

// arrangement is how the panes share the window.
type arrangement uint8

const (
	tooSmall arrangement = iota
	onePane
	twoColumns
	threeColumns
)

// screen is the window: its size, the places of the panes, and the lines that were drawn last.
type screen struct {
	w, h    int
	kind    arrangement
	panes   [paneCount]rect // empty: not on the screen
	lens    rect            // room for the picture
	noteAt  int             // the line for news and help, −1 when the title line has to do
	viewsAt int             // the line that names the views, −1 without
	body    rect
	bag     rect // room for a filter's fields, empty where they are not shown

	pen    *cells.Pen
	canvas cells.Canvas
	lines  []string
	text   string
	dirty  bool
	hits   []hit
}

// hit is a place that answers to the mouse.
type hit struct {
	rect
	do func(m *model, x, y int)
}

// room gives the cells that the picture may take.
func (s *screen) room() (cols, rows int) { return s.lens.w, s.lens.h }

// arrange shares the window among the panes.
func (s *screen) arrange(m *model) {
	s.panes = [paneCount]rect{}
	if m.view == viewShot {
		s.lens = rect{}
	}
	switch {
	case s.w < minCols || s.h < minRows:
		s.kind = tooSmall
		return
	case s.w >= 100:
		s.kind = threeColumns
	case s.w >= 78 && s.h >= 22:
		s.kind = twoColumns
	default:
		s.kind = onePane
	}
	top, bottom := 2, s.h-1
	s.noteAt = -1
	if s.h >= 24 {
		bottom--
		s.noteAt = bottom
	}
	s.viewsAt = -1
	if s.h >= 30 {
		if len(existing()) > 1 {
			s.viewsAt = top
		}
		top++
	}
	b := rect{1, top, s.w - 2, bottom - top}
	s.body, s.bag = b, rect{}
	if m.view == viewFilters && m.bag.open {
		if b.w >= bagBesideFrom {
			s.bag = rect{b.x + b.w - bagCols, b.y, bagCols, b.h}
			s.body.w -= bagCols + 2
		} else { // in the place of the words about the filter
			r := filtersFit(s, filtersOne, m.filtersCount(), m.filtersShape()).panes[filtersOne]
			s.bag = rect{b.x + r.x, b.y + r.y, r.w, r.h}
		}
	}
	if m.view != viewShot {
		return
	}
	const gutter = 2
	switch s.kind {
	case threeColumns:
		left := max(35, min(48, b.w*3/10))
		right := max(30, min(50, b.w*27/100))
		mid := b.w - left - right - 2*gutter
		s.left(m, rect{b.x, b.y, left, b.h})
		s.middle(m, rect{b.x + left + gutter, b.y, mid, b.h})
		s.panes[paneCall] = rect{b.x + left + mid + 2*gutter, b.y, right, b.h}
	case twoColumns:
		left := max(35, b.w*42/100)
		s.left(m, rect{b.x, b.y, left, b.h})
		right := rect{b.x + left + gutter, b.y, b.w - left - gutter, b.h}
		if m.focus == paneCall {
			s.panes[paneCall] = right
		} else {
			s.middle(m, right)
		}
	case onePane:
		b.y, b.h = b.y+1, b.h-1 // under the line of pane names
		s.panes[m.focus] = b
		if m.focus == paneLens {
			s.lens = rect{b.x, b.y + 1, b.w, b.h - 2}
		}
	}
}

// left shares a column between the shot and its legs. The one that is worked in gets the room.
func (s *screen) left(m *model, c rect) {
	shot := 1 + m.lines(paneShot)
	legs := 2 + m.lines(paneLegs)
	if m.focus == paneShot && m.faultLine() != "" {
		shot++
	}
	const least = 6
	if shot+legs > c.h {
		if m.focus == paneLegs {
			legs = min(legs, c.h-least)
			shot = c.h - legs
		} else {
			table := min(legs, max(least, 2+m.card().legs()))
			shot = min(shot, c.h-table)
		}
	} else if shot+legs+1 <= c.h {
		shot++ // a blank line between
	}
	s.panes[paneShot] = rect{c.x, c.y, c.w, shot}
	s.panes[paneLegs] = rect{c.x, c.y + shot, c.w, c.h - shot}
}

// middle shares a column between the picture and the strips.
func (s *screen) middle(m *model, c rect) {
	strips := len(stripsShown(m.more[paneFlight]))
	compact := 2 + strips
	tall := 2 + 2*strips
	picture := (c.w*9/16 + 1) / 2
	if m.shape() > 0 {
		picture = (int(float64(c.w)*m.shape()) + 1) / 2
	}
	flight := tall
	switch rest := c.h - picture - 2; {
	case rest >= tall+1:
		flight = min(rest-1, 2+5*strips)
	case rest >= compact || c.h-2-compact < 6:
		flight = max(compact, min(rest, tall))
	default:
		flight = compact
	}
	lens := min(c.h-flight, picture+3)
	s.panes[paneLens] = rect{c.x, c.y, c.w, lens}
	s.panes[paneFlight] = rect{c.x, c.y + lens, c.w, c.h - lens}
	s.lens = rect{c.x, c.y + 1, c.w, min(lens-2, picture)}
}

// shape gives the height of the last picture over its width, 0 before there is one.
func (m *model) shape() float64 {
	if p := m.calc.frame; p != nil && p.W > 0 && m.calc.tall > 0 {
		return m.calc.tall
	}
	return 0
}

// view draws the screen when something changed and joins its lines.
func (s *screen) view(m *model) string {
	if !s.dirty {
		return s.text
	}
	s.dirty = false
	s.hits = s.hits[:0]
	s.canvas.Reset(s.w, s.h)
	s.draw(m)
	s.lines = s.pen.Lines(&s.canvas, s.lines)
	s.text = strings.Join(s.lines, "\n") // grown to the exact sum
	return s.text
}

func (s *screen) window(r rect) cells.Window { return s.canvas.All().Sub(r.x, r.y, r.w, r.h) }

func (s *screen) hit(r rect, do func(m *model, x, y int)) {
	s.hits = append(s.hits, hit{r, do})
}
