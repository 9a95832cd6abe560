package cells

import (
	"slices"
	"strconv"
)

// Painter brings a terminal from what it shows to a canvas, and writes only the cells that differ: a nudge changes a few
// hundred of the thousands on the screen, and over a slow line every byte is time. The zero value knows nothing of the
// terminal and writes all.
type Painter struct {
	shown []glyph // what the terminal shows; empty: that is not known
	how   manner
}

// manner is what all of a screen was written with.
type manner struct {
	w, h    int
	profile Profile
	theme   *Theme
	ascii   bool
}

// Forget tells that nothing is known of what the terminal shows: the next canvas is written whole.
func (p *Painter) Forget() { p.shown = p.shown[:0] }

// Paint appends what brings the terminal to a canvas, nothing where it shows that already. Afterwards the terminal is at
// its plain style; where its cursor stands is not told.
func (p *Painter) Paint(b []byte, pen *Pen, c *Canvas) []byte {
	pen.prepareOnce()
	if how := (manner{c.W, c.H, pen.Profile, pen.Theme, pen.ASCII}); how != p.how {
		p.how = how
		p.Forget()
	}
	whole := len(p.shown) == 0
	if whole {
		p.shown = slices.Grow(p.shown, c.W*c.H)[:c.W*c.H]
	}
	var now Style
	for y := range c.H {
		row := pen.cellsOf(c, y)
		was := p.shown[y*c.W : (y+1)*c.W]
		cursor := -1 // its column, where it is in this row
		for x := 0; x < len(row); x++ {
			if row[x].Rune == 0 { // written with its left half
				continue
			}
			g, wide := pen.seen(row[x]), x+1 < len(row) && row[x+1].Rune == 0
			if !whole && was[x] == g && wide == (x+1 < len(row) && was[x+1].Rune == 0) {
				continue
			}
			if cursor != x {
				b = moveTo(b, cursor, x, y)
			}
			b, now = pen.write(b, now, g)
			was[x], cursor = g, x+1
			if wide { // a terminal may hold it for a narrow one: what follows is put where it belongs
				was[x+1], cursor = glyph{}, -1
			}
			if cursor == len(row) { // a terminal waits there with the cursor on the last cell
				cursor = -1
			}
		}
	}
	if now != (Style{}) {
		b = append(b, "\x1b[m"...)
	}
	return b
}

// moveTo moves the cursor to a cell from a column of the same row, or from anywhere (−1).
func moveTo(b []byte, from, x, y int) []byte {
	b = append(b, '\x1b', '[')
	if from >= 0 {
		if x-from > 1 {
			b = strconv.AppendInt(b, int64(x-from), 10)
		}
		return append(b, 'C')
	}
	b = append(strconv.AppendInt(b, int64(y+1), 10), ';')
	return append(strconv.AppendInt(b, int64(x+1), 10), 'H')
}
