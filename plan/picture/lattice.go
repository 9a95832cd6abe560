package picture

import (
	"math"
	"sync"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Most of a picture is smooth. So it is drawn in blocks: where the scene has no edge in a block ([light.Scene.EdgeIn]),
// nine of its pixels are looked at, parabolas are laid through them, and two pixels more tell how well those hold.
// Where they do not, the block is halved that way, down to pixels that are all looked at. Blocks share the pixels on
// their sides, so that no seam shows.
const (
	// off is what the parabolas may be off in the pixels that tell, in stops of light and of loss. A step of eight
	// bits is a fiftieth of a stop in the middle tones (ours).
	off = 1. / 500

	largestBlock = 32  // pixels a side
	leastBlock   = 8   // of a picture that has fewer pixels a block every one is looked at: there are not many
	widestBlock  = .21 // radians a side: nine degrees of sky have nothing that eleven pixels would miss (ours)
)

// blockFor returns how many pixels a side the largest block of a picture has, a power of two.
func blockFor(v shot.View, w int) int {
	size := 1
	for size < largestBlock && float64(4*size)*v.HalfWidth/float64(w) <= widestBlock {
		size *= 2
	}
	return size
}

// pixel is what is seen in the middle of one.
type pixel struct {
	bare, loss, r, g, b float64
	sky                 bool
	seen                uint32 // in the window of that number
}

// lattice draws block after block. Its window is as large as the largest block and remembers what was looked at.
type lattice struct {
	eye
	p         *Picture
	size      int
	left, top int // of the window, in pixels of the picture
	number    uint32
	window    [stride * stride]pixel
}

var lattices = sync.Pool{New: func() any { return new(lattice) }}

const stride = largestBlock + 1 // a block and the side that it shares with the next one

// drawBand draws the rows from..to, which are no more than the largest block has.
func (l *lattice) drawBand(from int) {
	of := bareLight
	switch {
	case l.sheet != nil:
		of |= lost
	case l.glass != nil: // quicker to work out than to tell from other pixels
		for j := from; j < min(from+l.size, l.p.H); j++ {
			for i := range l.p.W {
				l.p.Loss[j*l.p.W+i] = l.plainLoss(i, j)
			}
		}
	}
	l.number++
	for l.left, l.top = 0, from; l.left < l.p.W; l.left += l.size {
		l.block(0, 0, l.size, l.size, of)
		for k := 0; k <= l.size*stride; k += stride { // the right side is the left one of the next window
			if at := &l.window[k+l.size]; at.seen == l.number {
				l.window[k] = *at
				l.window[k].seen = l.number + 1
			}
		}
		l.number++
	}
}

// at returns what is seen in a pixel of the window, which may lie beside the picture.
func (l *lattice) at(x, y int) *pixel {
	at := &l.window[y*stride+x]
	if at.seen != l.number {
		l.look(at, l.left+x, l.top+y)
		at.seen = l.number
	}
	return at
}

// part is what is drawn of a picture. The light has blocks of its own: it does not depend on what is on the lens.
type part uint8

const (
	bareLight part = 1 << iota
	lost

	whole // no edge is in it
)

// block draws w by h pixels of the window, powers of two; it is two wide at least, so that there is a middle.
func (l *lattice) block(x, y, w, h int, of part) {
	if l.left+x >= l.p.W || l.top+y >= l.p.H {
		return
	}
	if w == 2 && h <= 2 {
		for k := range w * h {
			l.put(x+k&1, y+k>>1, of)
		}
		return
	}
	if of&whole == 0 {
		switch l.edgeIn(l.left+x, l.top+y, w, h) {
		case light.LevelEdge:
			l.halve(x, y, w, h, of, halves{across: h == 1, down: h > 1})
			return
		case light.SpotEdge:
			l.halve(x, y, w, h, of, halves{w > 2, h > 2})
			return
		}
		of |= whole // and so are all parts of it
	}
	var bent, bentLoss halves
	if of&bareLight != 0 {
		if bent = l.bent(x, y, w, h, (*pixel).hasLightBetween); bent == (halves{}) {
			l.fillLight(x, y, w, h)
			of &^= bareLight
		}
	}
	if of&lost != 0 {
		if bentLoss = l.bent(x, y, w, h, (*pixel).losesBetween); bentLoss == (halves{}) {
			l.fillLoss(x, y, w, h)
			of &^= lost
		}
	}
	switch {
	case of == whole:
	case of&bareLight == 0:
		l.halve(x, y, w, h, of, bentLoss)
	case of&lost == 0 || bent == bentLoss:
		l.halve(x, y, w, h, of, bent)
	default:
		l.halve(x, y, w, h, bareLight|whole, bent)
		l.halve(x, y, w, h, lost|whole, bentLoss)
	}
}

// halves are the ways in which a block is halved.
type halves struct{ across, down bool }

func (l *lattice) halve(x, y, w, h int, of part, ways halves) {
	switch {
	case ways.across && ways.down:
		w, h = w/2, h/2
		l.block(x, y, w, h, of)
		l.block(x+w, y, w, h, of)
		l.block(x, y+h, w, h, of)
		l.block(x+w, y+h, w, h, of)
	case ways.across:
		w /= 2
		l.block(x, y, w, h, of)
		l.block(x+w, y, w, h, of)
	default:
		h /= 2
		l.block(x, y, w, h, of)
		l.block(x, y+h, w, h, of)
	}
}

// put writes a pixel that was looked at into the picture.
func (l *lattice) put(x, y int, of part) {
	if l.left+x >= l.p.W || l.top+y >= l.p.H {
		return
	}
	at := l.at(x, y)
	k := (l.top+y)*l.p.W + l.left + x
	if of&bareLight != 0 {
		l.p.putLight(k, at)
	}
	if of&lost != 0 {
		l.p.Loss[k] = at.loss
	}
}

// edgeIn asks the scene for an edge in a block, by its corners.
func (l *lattice) edgeIn(i, j, w, h int) light.Edge {
	if h == 1 {
		h = 0
	}
	corner := [4]r3.Vec{l.ray(i, j), l.ray(i+w, j), l.ray(i, j+h), l.ray(i+w, j+h)}
	return l.sc.EdgeIn(&corner, &l.disc)
}

// bent tells in which ways a block is no parabola: a pixel halfway from the middle to a side tells it.
func (l *lattice) bent(x, y, w, h int, between func(at, a, b, c *pixel) bool) (ways halves) {
	u, v := w/2, h/2
	mid := l.at(x+u, y+v)
	if w > 2 {
		ways.across = !between(l.at(x+u+u/2, y+v), l.at(x, y+v), mid, l.at(x+w, y+v))
	}
	if h > 2 {
		top, foot := l.at(x+u, y), l.at(x+u, y+h)
		ways.down = !between(l.at(x+u, y+v+v/2), top, mid, foot) || !between(l.at(x+u, y+v/2), foot, mid, top)
	}
	return ways
}

// onParabola tells whether a value halfway from b to c is that of the parabola through a, b and c.
func onParabola(is, a, b, c, off float64) bool {
	return math.Abs(.75*b+.375*c-.125*a-is) <= off
}

func (at *pixel) hasLightBetween(a, b, c *pixel) bool {
	const part = off * math.Ln2
	return onParabola(at.bare, a.bare, b.bare, c.bare, part*at.bare) && onParabola(at.r, a.r, b.r, c.r, part*at.r) &&
		onParabola(at.g, a.g, b.g, c.g, part*at.g) && onParabola(at.b, a.b, b.b, c.b, part*at.b)
}

func (at *pixel) losesBetween(a, b, c *pixel) bool {
	return onParabola(at.loss, a.loss, b.loss, c.loss, off)
}

// slope walks along a parabola by its differences.
type slope struct{ at, step, bend float64 }

// slopeOf begins at the first of three places, which are 1/h steps from each other.
func slopeOf(a, b, c, h float64) slope {
	half, bend := (c-a)/2, (a+c)/2-b
	return slope{a, half*h + bend*(h*h-2*h), 2 * bend * h * h}
}

func (s *slope) walk() {
	s.at += s.step
	s.step += s.bend
}

// sheet is the surface over a block: how the three numbers of a row's slope go from row to row.
type sheet [3]slope

func sheetOf(row [3]slope, h float64) sheet {
	return sheet{
		slopeOf(row[0].at, row[1].at, row[2].at, h),
		slopeOf(row[0].step, row[1].step, row[2].step, h),
		slopeOf(row[0].bend, row[1].bend, row[2].bend, h),
	}
}

// row returns the slope of a row. It is walked in registers.
func (s *sheet) row() (at, step, bend float64) { return s[0].at, s[1].at, s[2].at }

func (s *sheet) walk() {
	s[0].walk()
	s[1].walk()
	s[2].walk()
}

// fillLight draws the light of a block through nine of its pixels.
func (l *lattice) fillLight(x, y, w, h int) {
	u, v := w/2, h/2
	across, down := 1/float64(u), 1/float64(max(1, v))
	var bare, r, g, b [3]slope
	for k := range 3 {
		p, q, s := l.at(x, y+k*v), l.at(x+u, y+k*v), l.at(x+w, y+k*v)
		bare[k] = slopeOf(p.bare, q.bare, s.bare, across)
		r[k], g[k], b[k] = slopeOf(p.r, q.r, s.r, across), slopeOf(p.g, q.g, s.g, across), slopeOf(p.b, q.b, s.b, across)
	}
	sheets := [4]sheet{sheetOf(bare, down), sheetOf(r, down), sheetOf(g, down), sheetOf(b, down)}
	isSky := l.at(x, y).sky
	wide := min(w, l.p.W-l.left-x)
	for row := range min(h, l.p.H-l.top-y) {
		k := (l.top+y+row)*l.p.W + l.left + x
		lum, colour, sky := l.p.Bare[k:][:wide], l.p.Colour[k:][:wide], l.p.Sky[k:][:wide]
		at, step, bend := sheets[0].row()
		for i := range lum {
			lum[i], sky[i] = at, isSky
			at += step
			step += bend
		}
		r, rStep, rBend := sheets[1].row()
		g, gStep, gBend := sheets[2].row()
		b, bStep, bBend := sheets[3].row()
		for i := range colour {
			colour[i] = [3]float32{float32(r), float32(g), float32(b)}
			r, g, b = r+rStep, g+gStep, b+bStep
			rStep, gStep, bStep = rStep+rBend, gStep+gBend, bStep+bBend
		}
		for k := range sheets {
			sheets[k].walk()
		}
	}
}

// fillLoss draws what is lost in a block.
func (l *lattice) fillLoss(x, y, w, h int) {
	u, v := w/2, h/2
	var rows [3]slope
	for k := range rows {
		rows[k] = slopeOf(l.at(x, y+k*v).loss, l.at(x+u, y+k*v).loss, l.at(x+w, y+k*v).loss, 1/float64(u))
	}
	s := sheetOf(rows, 1/float64(max(1, v)))
	wide := min(w, l.p.W-l.left-x)
	for row := range min(h, l.p.H-l.top-y) {
		k := (l.top+y+row)*l.p.W + l.left + x
		at, step, bend := s.row()
		loss := l.p.Loss[k:][:wide]
		for i := range loss {
			loss[i] = at
			at += step
			step += bend
		}
		s.walk()
	}
}
