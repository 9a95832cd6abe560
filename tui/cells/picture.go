package cells

// Picture is a block of exact colours, two pixels a cell: one above the other.
type Picture struct {
	W, H int      // pixels; H is twice the cells
	Pix  []Colour // row by row from the top left
}

// Reset gives the picture a size; the memory is used again.
func (p *Picture) Reset(w, h int) {
	w, h = max(w, 0), max(h, 0)
	if cap(p.Pix) < w*h {
		p.Pix = make([]Colour, w*h)
	}
	p.W, p.H, p.Pix = w, h, p.Pix[:w*h]
}

// Picture draws half blocks, the picture's upper left corner at (x, y).
func (w Window) Picture(x, y int, p *Picture) {
	for j := 0; 2*j+1 < p.H; j++ {
		if y+j < 0 || y+j >= w.h {
			continue
		}
		top, bottom := p.Pix[2*j*p.W:(2*j+1)*p.W], p.Pix[(2*j+1)*p.W:(2*j+2)*p.W]
		for i := range top {
			if x+i >= 0 && x+i < w.w {
				w.put(x+i, y+j, '▀', Style{Fg: top[i], Bg: bottom[i]})
				w.InPicture(x+i, y+j)
			}
		}
	}
}

// Develop fills the picture with red, green and blue bytes, three a pixel, cut by [PictureColour].
func (p *Picture) Develop(w, h int, rgb []uint8) {
	p.Reset(w, h)
	for i := range p.Pix {
		p.Pix[i] = PictureColour(rgb[3*i], rgb[3*i+1], rgb[3*i+2])
	}
}

// Patch is a place of the canvas whose cells show a picture in half blocks, and where the same can stand in true pixels.
type Patch struct {
	X, Y, W, H int // cells of the canvas
	Of         any // what draws it; equal ones draw the same
	Part       int // which of its pictures
}

// Patch tells that a picture stands at a place of the window. One that is cut off by the window's edge is left out.
func (w Window) Patch(x, y, cols, rows int, of any, part int) {
	if x >= 0 && y >= 0 && x+cols <= w.w && y+rows <= w.h && cols > 0 && rows > 0 {
		w.c.patches = append(w.c.patches, Patch{w.x + x, w.y + y, cols, rows, of, part})
	}
}

// InPicture tells that what stands in a cell is a piece of the picture there, which its true pixels have too.
func (w Window) InPicture(x, y int) {
	if x >= 0 && y >= 0 && x < w.w && y < w.h {
		w.c.cells[(w.y+y)*w.c.W+w.x+x].Pic = true
	}
}

// Patches returns the places of pictures, good until the canvas is drawn on again.
func (c *Canvas) Patches() []Patch { return c.patches }
