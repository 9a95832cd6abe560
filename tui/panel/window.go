package panel

import "example.org/skywedge/tui/cells"

// Window is a part of the screen to draw on: its cells, the pen that will write them, and the areas in it
// that answer to the mouse.
type Window struct {
	cells.Window
	Pen  *cells.Pen
	hits *[]Hit
}

// Hit is an area of the screen that answers to the mouse.
type Hit struct {
	Rect
	x0, y0 int // of the window it was drawn in
	do     func(b Bench, x, y int)
}

// Do answers to a press at a cell of the screen.
func (h *Hit) Do(b Bench, x, y int) { h.do(b, x-h.x0, y-h.y0) }

// NewWindow returns the whole of a canvas. Areas that answer to the mouse are added to hits, which may be
// nil.
func NewWindow(c *cells.Canvas, pen *cells.Pen, hits *[]Hit) Window {
	return Window{Window: c.All(), Pen: pen, hits: hits}
}

// Sub returns a part of the window.
func (w Window) Sub(x, y, cols, rows int) Window {
	w.Window = w.Window.Sub(x, y, cols, rows)
	return w
}

// In returns the part of the window at a rectangle.
func (w Window) In(r Rect) Window { return w.Sub(r.X, r.Y, r.W, r.H) }

// OnClick makes an area of the window answer to the mouse. do gets the cell relative to this window. Of two
// areas that overlap the one added last answers.
func (w Window) OnClick(r Rect, do func(b Bench, x, y int)) {
	if w.hits == nil {
		return
	}
	x0, y0 := w.Origin()
	*w.hits = append(*w.hits, Hit{Rect: Box(x0+r.X, y0+r.Y, r.W, r.H), x0: x0, y0: y0, do: do})
}

// Plainly spells fractions of a stop out where only ASCII may be drawn.
func (w Window) Plainly(text string) string { return Plainly(w.Pen, text) }
