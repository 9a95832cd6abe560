package compass

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// disc draws on the map: points come as the map's x and y.
type disc struct {
	w    cells.Window
	x, y int // of the map's upper left cell
	a    *answer
	bare bool // no colour: figures stand for the ramp
}

// bare tells whether figures stand for the ramp: the greys of 16 colours would draw edges into a smooth sky.
func bare(pen *cells.Pen) bool { return pen.Profile <= cells.Sixteen || pen.ASCII }

// cell returns the cell of a point, which may lie just outside the horizon.
func (d *disc) cell(x, y float64) (col, row int) {
	px, py := mapPixel(x, y, d.a.of.n)
	return d.x + px, d.y + int(math.Floor(float64(py)/2))
}

// ground returns a style that stands out from the map at a cell.
func (d *disc) ground(col, row int) cells.Style {
	n := d.a.of.n
	i, j := col-d.x, 2*(row-d.y)
	if d.bare || i < 0 || j < 0 || i >= n || j+1 >= n || d.a.pic.Pix[j*n+i] == cells.Default {
		return panel.Plain
	}
	k := j*n + i
	if math.IsNaN(d.a.sky.Degree[k]) {
		return panel.Plain
	}
	bg := rampAt(d.a.sky.Degree[k], d.a.sky.Effect[k], d.a.of.effect, cells.TrueColour)
	return cells.Style{Fg: panel.Against(bg), Bg: d.a.pic.Pix[k]}
}

// put writes a text at a point, so that its first letter is there; where it would leave the window it
// ends there instead.
func (d *disc) put(x, y float64, text string, attr cells.Attr) {
	col, row := d.cell(x, y)
	if cols, _ := d.w.Size(); col+cells.Width(text) > cols {
		col -= cells.Width(text) - 1
	}
	for _, r := range text {
		s := d.ground(col, row)
		d.w.Set(col, row, r, s.With(attr))
		col++
	}
}

// clock writes a time beside its point, on the line so many lines below it.
func (d *disc) clock(p *compass.SunPoint, below int) {
	text := p.Time.Format("15:04")
	col, row := d.cell(p.Bearing().OnMap())
	cols, rows := d.w.Size()
	col = max(0, min(col-len(text)/2, cols-len(text)))
	if row += below; row < 0 || row >= rows {
		return
	}
	for _, r := range text {
		d.w.Set(col, row, r, d.ground(col, row))
		col++
	}
}

// skyMap draws the sky with everything on it, and its words.
func (a *answer) skyMap(w panel.Window, room *room) {
	cols, rows := w.Size()
	if a.sky == nil || a.of.n < 8 || a.of.n > cols-4 || a.of.n/2+2 > rows {
		return // of another size of the window; the next one is on its way
	}
	left := 3
	if !room.aside {
		left = max(3, (cols-a.of.n)/2)
	}
	d := &disc{w: w.Window, x: left, y: 1, a: a, bare: bare(w.Pen)}
	if d.bare {
		d.rim()
	} else {
		d.picture()
		d.w.Patch(d.x, d.y, a.of.n, a.of.n/2, finer{a.of.base, a.of.second, a.of.n, a.of.effect}, 0)
	}
	d.strokes()
	d.sun()
	d.numbers()
	d.around()
	if room.aside {
		a.skyWords(w.Sub(left+a.of.n+4, 1, cols-left-a.of.n-4, rows-1))
	} else {
		a.skyWords(w.Sub(0, a.of.n/2+2, cols, rows-a.of.n/2-2))
	}
}

// picture draws the map in half blocks and leaves what is outside the horizon alone.
func (d *disc) picture() {
	p := &d.a.pic
	for j := 0; 2*j+1 < p.H; j++ {
		for i := range p.W {
			top, bottom := p.Pix[2*j*p.W+i], p.Pix[(2*j+1)*p.W+i]
			switch {
			case top == cells.Default && bottom == cells.Default:
				// nothing here, but a true picture's rim may be
			case top == cells.Default:
				d.w.Set(d.x+i, d.y+j, '▄', cells.Style{Fg: bottom})
			default:
				d.w.Set(d.x+i, d.y+j, '▀', cells.Style{Fg: top, Bg: bottom})
			}
			d.w.InPicture(d.x+i, d.y+j)
		}
	}
}

// horizon draws it as dots.
func (d *disc) horizon() {
	for az := 0.0; az < 360; az += 2 {
		x, y := compass.Bearing{AzimuthDeg: az}.OnMap()
		const in = 0.999
		col, row := d.cell(in*x, in*y)
		d.w.Set(col, row, '·', panel.Dim)
	}
}

// rim draws the horizon where no colour shows it, and the frame at the playhead.
func (d *disc) rim() {
	d.horizon()
	for _, b := range d.a.here.Outline {
		x, y := b.OnMap()
		const in = 0.999
		col, row := d.cell(in*x, in*y)
		d.w.Set(col, row, '+', panel.Plain)
	}
}

// strokeStep returns how many pixels lie between two strokes on a map of n by n.
func strokeStep(n int, bare bool) int {
	if bare {
		return 6
	}
	return 4 + 2*min(n/48, 2)
}

// leastStroke is the degree of polarisation below which no direction of E is drawn (ours).
const leastStroke = 0.08

// strokes draws the direction of E on a coarse lattice. Where the light has hardly any there is none.
func (d *disc) strokes() {
	n, step := d.a.of.n, strokeStep(d.a.of.n, d.bare)
	for j := (n / 2) % step; j < n; j += step {
		for i := (n / 2) % step; i < n; i += step {
			k := j*n + i
			p := d.a.sky.Degree[k]
			if math.IsNaN(p) {
				continue
			}
			if x, y := d.a.sky.Place(k); d.bare && math.Hypot(x, y) > 0.92 {
				continue // the horizon's dots are there
			}
			col, row := d.x+i, d.y+j/2
			if over := d.a.of.pixels && !d.painted(i, j/2); p >= leastStroke && !over {
				d.w.Set(col, row, stroke(d.a.sky.E[k]), d.ground(col, row))
				if !d.bare {
					d.w.InPicture(col, row) // in pixels it is a line
				}
			}
			if d.bare && i+1 < n && !math.IsNaN(d.a.sky.Degree[k+1]) {
				d.w.Text(col+1, row, figure(p, d.a.sky.Effect[k], d.a.of.effect), panel.Dim)
			}
		}
	}
}

// painted tells whether a cell of the map is all sky: where it is not, a letter would be seen beside a true picture's rim.
func (d *disc) painted(col, row int) bool {
	n := d.a.of.n
	return d.a.pic.Pix[2*row*n+col] != cells.Default && d.a.pic.Pix[(2*row+1)*n+col] != cells.Default
}

// stroke returns the letter that lies along a direction on the map, degrees clockwise from up. A letter is
// twice as high as wide, so the slanting ones stand steeper than half way.
func stroke(deg float64) rune {
	const upright, level = 16, 62
	switch a := math.Remainder(deg, 180); {
	case math.Abs(a) <= upright:
		return '|'
	case math.Abs(a) > level:
		return '-'
	case a > 0:
		return '/'
	}
	return '\\'
}

// figure writes a point of the map where no colour shows it: tenths of the degree, or half stops, with
// + where the sky gets brighter.
func figure(degree, stops float64, effect bool) string {
	if !effect {
		return fmt.Sprint(int(math.Round(10 * degree)))
	}
	n := int(math.Round(-2 * stops))
	if n < 0 {
		return "+"
	}
	return fmt.Sprint(n)
}

// sun draws the piece of the sun's way that falls in the flight: where legs begin, the clock at its ends, and the sun
// at the playhead.
func (d *disc) sun() {
	t := &d.a.track
	lastCol, lastRow := -1, -1
	for i := range t.Points {
		p := &t.Points[i]
		if p.Pos.AltitudeDeg <= 0 {
			continue
		}
		x, y := p.Bearing().OnMap()
		col, row := d.cell(x, y)
		mark := '·'
		switch {
		case p.Behind:
			mark = 'x'
		case p.Leg >= 0:
			mark = 'o'
		case col == lastCol && row == lastRow:
			continue
		}
		d.w.Set(col, row, mark, d.ground(col, row))
		lastCol, lastRow = col, row
	}
	if start, end := t.Start(), t.End(); start.Pos.AltitudeDeg > 0 && end.Pos.AltitudeDeg > 0 {
		over := -1 // the end that is higher on the map has its clock above it
		_, from := d.cell(start.Bearing().OnMap())
		if _, to := d.cell(end.Bearing().OnMap()); from > to {
			over = 1
		}
		d.clock(start, over)
		d.clock(end, -over)
	}
	if p := d.a.sky.Sun; p.AltitudeDeg > 0 {
		x, y := compass.Bearing{AzimuthDeg: p.AzimuthDeg, AltitudeDeg: p.AltitudeDeg}.OnMap()
		d.put(x, y, "*", cells.Bold)
	}
}

// numbers puts the legs' numbers where their frames are: at the middle of the sky that they see.
func (d *disc) numbers() {
	var t tags
	for i := range d.a.prints {
		f := &d.a.prints[i]
		if len(f.Outline) == 0 || f.End && !moved(&d.a.prints[i-1], f) {
			continue
		}
		var x, y float64
		for _, b := range f.Outline {
			bx, by := b.OnMap()
			x, y = x+bx/float64(len(f.Outline)), y+by/float64(len(f.Outline))
		}
		col, row := d.cell(x, y)
		t.add(col, row, f.Leg+1)
	}
	t.draw(d.w, d.a.here.Leg+1, d.ground, func(s cells.Style) cells.Style { return s.With(cells.Bold | cells.Underline) })
}

// moved tells whether a leg's frame ends elsewhere than it began.
func moved(from, to *compass.Footprint) bool {
	const apart = 10
	return math.Abs(math.Remainder(to.Centre.AzimuthDeg-from.Centre.AzimuthDeg, 360)) > apart ||
		math.Abs(to.Centre.AltitudeDeg-from.Centre.AltitudeDeg) > apart
}

// around draws what stands outside the horizon: the points of the compass, and the sector of bearings
// that the sun sweeps during the flight.
func (d *disc) around() {
	n := d.a.of.n
	d.sector(n)
	mid := d.x + n/2
	name := cells.Style{Fg: cells.Dim, Attr: cells.Bold}
	d.w.Text(mid, d.y-1, "N", name)
	d.w.Text(mid, d.y+n/2, "S", name)
	d.w.Text(d.x+n+1, d.y+n/4, "E", name)
	d.w.Text(d.x-2, d.y+n/4, "W", name)
}

// sector marks the bearings that the sun sweeps, unless it is down.
func (d *disc) sector(n int) {
	t := &d.a.track
	if t.Start().Pos.AltitudeDeg <= 0 && t.End().Pos.AltitudeDeg <= 0 {
		return
	}
	steps := 1 + int(math.Abs(t.SweptDeg))
	for i := 0; i <= steps; i++ {
		x, y := compass.Bearing{AzimuthDeg: t.Start().Pos.AzimuthDeg + t.SweptDeg*float64(i)/float64(steps)}.OnMap()
		out := 1 + 2/float64(n)
		col, row := d.cell(out*x, out*y)
		d.w.Set(col, row, '█', cells.Style{Fg: cells.Bad, Bg: cells.Bad})
	}
}
