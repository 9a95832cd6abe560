package tui

import (
	"strings"

	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// screen is the window: its size, the places of the panes, and what was drawn last.
type screen struct {
	w, h    int
	kind    panel.Arrangement
	panes   [paneCount]panel.Rect // empty: not on the screen
	lens    panel.Rect            // room for the picture
	noteAt  int                   // the line for news and help, −1 when the title line has to do
	viewsAt int                   // the line that names the views, −1 without
	body    panel.Rect
	spare   panel.Rect // rows that nothing else needs, where the call is not on the screen

	pen    *cells.Pen
	canvas cells.Canvas
	dirty  bool
	hits   []panel.Hit
}

// room returns the cells that the picture may take.
func (s *screen) room() (cols, rows int) { return s.lens.W, s.lens.H }

// arrange shares the window among the panes.
func (s *screen) arrange(m *model) {
	s.panes, s.spare = [paneCount]panel.Rect{}, panel.Rect{}
	if m.view == viewShot {
		s.lens = panel.Rect{}
	}
	if s.kind = panel.Arranged(s.w, s.h); s.kind == panel.TooSmall {
		return
	}
	top, bottom := 2, s.h-1
	s.noteAt = -1
	if s.h >= 24 {
		bottom--
		s.noteAt = bottom
	}
	s.viewsAt = -1
	if s.h >= 30 {
		if len(m.views.existing()) > 1 {
			s.viewsAt = top
		}
		top++
	}
	b := panel.Box(1, top, s.w-2, bottom-top)
	s.body = b
	if m.view != viewShot {
		return
	}
	const gutter = 2
	switch s.kind {
	case panel.ThreeColumns:
		left := max(35, min(48, b.W*3/10))
		right := max(30, min(50, b.W*27/100))
		mid := b.W - left - right - 2*gutter
		s.left(m, panel.Box(b.X, b.Y, left, b.H))
		s.middle(m, panel.Box(b.X+left+gutter, b.Y, mid, b.H))
		s.panes[paneCall] = panel.Box(b.X+left+mid+2*gutter, b.Y, right, b.H)
	case panel.TwoColumns:
		left := max(35, b.W*42/100)
		s.left(m, panel.Box(b.X, b.Y, left, b.H))
		right := panel.Box(b.X+left+gutter, b.Y, b.W-left-gutter, b.H)
		if m.focus == paneCall {
			s.panes[paneCall] = right
		} else {
			s.middle(m, right)
			s.keepSpare(m, s.panes[paneLegs], m.lines(paneLegs)+2)
		}
	case panel.OnePane:
		b.Y, b.H = b.Y+1, b.H-1 // under the line of pane names
		s.panes[m.focus] = b
		if m.focus == paneLens {
			s.lens = panel.Box(b.X, b.Y+1, b.W, b.H-1)
		}
		switch m.focus {
		case paneShot:
			s.keepSpare(m, b, m.lines(paneShot)+s.shotHead())
		case paneLegs:
			s.keepSpare(m, b, m.lines(paneLegs)+2)
		}
	}
}

// shotHead is how many lines stand above the shot's form: none where its title stands in the line of pane names, so
// that the smallest window has room for the ring below.
func (s *screen) shotHead() int {
	if s.kind == panel.OnePane {
		return 0
	}
	return 1
}

// keepSpare keeps the rows of a pane of which so many are used for the call in short, where they are enough.
func (s *screen) keepSpare(m *model, r panel.Rect, used int) {
	if m.faultLine() != "" { // it takes a line of the form
		used++
	}
	if free := r.H - used; free >= call.ShortRows {
		s.spare = panel.Box(r.X, r.Y+used, r.W, free)
	}
}

// left shares a column between the shot and its legs. The one that is worked in gets the room.
func (s *screen) left(m *model, c panel.Rect) {
	n := m.card().legs()
	ofShot, ofLegs := m.formOf(paneShot, m.rows(paneShot), 0), m.formOf(paneLegs, m.rows(paneLegs), n)
	shot := 1 + ofShot.Lines(c.W)
	legs := 2 + n + ofLegs.Lines(c.W)
	const least = 6
	if shot+legs > c.H {
		if m.focus == paneLegs {
			legs = min(legs, c.H-least)
			shot = c.H - legs
		} else {
			table := min(legs, max(least, min(2+n, c.H/2))) // many legs scroll
			shot = min(shot, c.H-table)
		}
	} else if shot+legs+1 <= c.H {
		shot++ // a blank line between
	}
	s.panes[paneShot] = panel.Box(c.X, c.Y, c.W, shot)
	s.panes[paneLegs] = panel.Box(c.X, c.Y+shot, c.W, c.H-shot)
}

// view draws the screen when something changed, and tells whether it did.
func (s *screen) view(m *model) bool {
	if !s.dirty {
		return false
	}
	s.dirty = false
	s.hits = s.hits[:0]
	s.canvas.Reset(s.w, s.h)
	s.draw(m)
	m.pixels.See(&s.canvas)
	return true
}

// text returns what was drawn as lines.
func (s *screen) text() string { return strings.Join(s.pen.Lines(&s.canvas, nil), "\n") }

// window returns a part of the screen to draw on.
func (s *screen) window(r panel.Rect) panel.Window {
	return panel.NewWindow(&s.canvas, s.pen, &s.hits).In(r)
}
