// Package cells draws on a grid of character cells and writes the grid as text with colour codes.
//
// Everything the workbench shows is drawn on a [Canvas] of exactly w by h cells, so a screen can
// never have a line too many or too long, and a popup is simply drawn last. Colour codes are
// written by hand when a line is encoded: one styled string a cell costs 80 times as much.
package cells

// Attr is how a cell is drawn besides its colours.
type Attr uint8

// The attributes. They survive a terminal without colour.
const (
	Bold Attr = 1 << iota
	Underline
	Reverse
)

// Style is a letter's colour, the ground's colour and attributes.
type Style struct {
	Fg, Bg Colour
	Attr   Attr
}

// On gives the style on another ground.
func (s Style) On(bg Colour) Style { s.Bg = bg; return s }

// With gives the style with more attributes.
func (s Style) With(a Attr) Style { s.Attr |= a; return s }

// Cell is one place of the grid. Rune 0 is the right half of a wide character.
type Cell struct {
	Rune rune
	Style
	Pic bool // it shows a piece of a picture and nothing else; whatever is written over it takes that away
}

// Canvas is a grid of cells.
type Canvas struct {
	W, H    int
	cells   []Cell
	patches []Patch
}

// Reset blanks the canvas and gives it a size; the memory is used again.
func (c *Canvas) Reset(w, h int) {
	w, h = max(w, 0), max(h, 0)
	if cap(c.cells) < w*h {
		c.cells = make([]Cell, w*h)
	}
	c.W, c.H, c.cells, c.patches = w, h, c.cells[:w*h], c.patches[:0]
	for i := range c.cells {
		c.cells[i] = Cell{Rune: ' '}
	}
}

// At gives the cell at a column and a row, both from 0; nil outside.
func (c *Canvas) At(x, y int) *Cell {
	if x < 0 || y < 0 || x >= c.W || y >= c.H {
		return nil
	}
	return &c.cells[y*c.W+x]
}

// All gives a window on the whole canvas.
func (c *Canvas) All() Window { return Window{c: c, w: c.W, h: c.H} }

// Window is a rectangle of a canvas. Drawing is clipped to it.
type Window struct {
	c          *Canvas
	x, y, w, h int
}

// Size gives the window's columns and rows.
func (w Window) Size() (cols, rows int) { return w.w, w.h }

// Origin gives the window's upper left corner on the canvas.
func (w Window) Origin() (x, y int) { return w.x, w.y }

// Contains tells whether a place of the canvas lies in the window.
func (w Window) Contains(x, y int) bool {
	return x >= w.x && y >= w.y && x < w.x+w.w && y < w.y+w.h
}

// Sub gives a rectangle inside the window, cut to it.
func (w Window) Sub(x, y, cols, rows int) Window {
	x0, y0 := max(0, min(x, w.w)), max(0, min(y, w.h))
	x1, y1 := max(x0, min(x+cols, w.w)), max(y0, min(y+rows, w.h))
	return Window{c: w.c, x: w.x + x0, y: w.y + y0, w: x1 - x0, h: y1 - y0}
}

// Set draws one character. Characters that are not one cell wide are drawn as '?'.
func (w Window) Set(x, y int, r rune, s Style) {
	if x < 0 || y < 0 || x >= w.w || y >= w.h {
		return
	}
	if RuneWidth(r) != 1 {
		r = '?'
	}
	w.put(x, y, r, s)
}

// put writes a cell and mends a wide character that it cuts in two.
func (w Window) put(x, y int, r rune, s Style) {
	row := w.c.cells[(w.y+y)*w.c.W : (w.y+y+1)*w.c.W]
	i := w.x + x
	if row[i].Rune == 0 && i > 0 {
		row[i-1].Rune = ' '
	}
	if i+1 < len(row) && row[i+1].Rune == 0 {
		row[i+1].Rune = ' '
	}
	row[i] = Cell{Rune: r, Style: s}
}

// Fill paints a rectangle with a blank in a style.
func (w Window) Fill(x, y, cols, rows int, s Style) {
	for j := max(0, y); j < min(y+rows, w.h); j++ {
		for i := max(0, x); i < min(x+cols, w.w); i++ {
			w.put(i, j, ' ', s)
		}
	}
}

// Tint changes the ground of a row's cells and keeps the letters.
func (w Window) Tint(x, y, cols int, bg Colour) {
	if y < 0 || y >= w.h {
		return
	}
	for i := max(0, x); i < min(x+cols, w.w); i++ {
		w.c.cells[(w.y+y)*w.c.W+w.x+i].Bg = bg
	}
}

// Text draws a text and gives the column after it. It is cut at the window's edge; control
// characters and characters without a width are left out.
func (w Window) Text(x, y int, text string, s Style) int {
	for _, r := range text {
		n := RuneWidth(r)
		if n == 0 {
			continue
		}
		if y >= 0 && y < w.h && x >= 0 && x+n <= w.w {
			w.put(x, y, r, s)
			if n == 2 {
				w.put(x+1, y, 0, s)
			}
		}
		x += n
	}
	return x
}

// TextIn draws a text in a field of so many columns; a longer one ends in "…" (or "~" in ASCII).
func (w Window) TextIn(x, y, cols int, text string, s Style) {
	w.Text(x, y, Cut(text, cols), s)
}

// TextRight draws a text that ends before column x.
func (w Window) TextRight(x, y int, text string, s Style) int {
	x -= Width(text)
	w.Text(x, y, text, s)
	return x
}

// Fade makes everything in the window dim: what it says is not about the present state.
func (w Window) Fade() {
	for j := 0; j < w.h; j++ {
		row := w.c.cells[(w.y+j)*w.c.W+w.x:][:w.w]
		for i := range row {
			if row[i].Fg&kindMask != kindRGB {
				row[i].Fg = Dim
			}
			row[i].Attr &^= Bold
		}
	}
}
