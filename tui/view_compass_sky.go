package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
)

// What the ends of the map's ramp stand for; the same for every shot, so that shots compare. In the
// map of the effect the dark end is the darkened sky.
const (
	mapMostDegree = 0.8
	mapDarkest    = -2.0 // stops
	mapBrightest  = 1.0
)

// rampAt gives the colour of a place of the map.
func rampAt(degree, stops float64, effect bool, p cells.Profile) cells.Colour {
	if effect {
		return cells.Viridis.In(p, (stops-mapDarkest)/(mapBrightest-mapDarkest))
	}
	return cells.Cividis.In(p, degree/mapMostDegree)
}

// paintSky paints the map, a pixel a place; outside the horizon nothing is painted.
func paintSky(p *cells.Picture, m *plan.SkyMap, effect bool, profile cells.Profile) {
	p.Reset(m.N, m.N)
	for k := range p.Pix {
		p.Pix[k] = cells.Default
		if !math.IsNaN(m.Degree[k]) {
			p.Pix[k] = rampAt(m.Degree[k], m.Effect[k], effect, profile)
		}
	}
}

// outlines paints the frames' outlines into the map: the one at the playhead as a line, those at the
// ends of the legs dotted and paler. Where a map is small or the legs are many, only the playhead's.
func (a *compassAnswer) outlines(profile cells.Profile) {
	const most, roomy = 4, 44
	for i := range a.prints {
		f := &a.prints[i]
		if a.of.n >= roomy && (f.Leg == a.here.Leg || len(a.prints) <= 2*most) {
			a.outline(f, 3, 0.5, profile)
		}
	}
	a.outline(&a.here, 1, 0.75, profile)
}

// outline paints one pixel in every so many of an outline, lighter than a dark ground and darker than a
// light one by a share of what there is.
func (a *compassAnswer) outline(f *plan.Footprint, every int, share float64, profile cells.Profile) {
	if profile <= cells.Sixteen {
		share = 1 // its greys are too few for a pale line
	}
	for i, at := range outlinePixels(f, a.of.n) {
		k := at[1]*a.of.n + at[0]
		if i%every != 0 || a.pic.Pix[k] == cells.Default {
			continue
		}
		ground := rampAt(a.sky.Degree[k], a.sky.Effect[k], a.of.effect, cells.TrueColour)
		a.pic.Pix[k] = cells.Mix(ground, against(ground), share)
	}
}

// outlinePixels gives the pixels that an outline goes through on a map of n by n. A step aslant is one
// pixel and not two, so that lines are thin.
func outlinePixels(f *plan.Footprint, n int) [][2]int {
	var path [][2]int
	for i := range f.Outline {
		x0, y0 := f.Outline[i].OnMap()
		x1, y1 := f.Outline[(i+1)%len(f.Outline)].OnMap()
		steps := 1 + int(float64(n)*math.Hypot(x1-x0, y1-y0))
		for s := range steps {
			t := float64(s) / float64(steps)
			x, y := mapPixel(x0+t*(x1-x0), y0+t*(y1-y0), n)
			at := [2]int{max(0, min(x, n-1)), max(0, min(y, n-1))}
			k := len(path)
			if k > 0 && path[k-1] == at {
				continue
			}
			if k > 1 && absInt(path[k-2][0]-at[0]) == 1 && absInt(path[k-2][1]-at[1]) == 1 {
				path = path[:k-1]
			}
			path = append(path, at)
		}
	}
	return path
}

// against gives black or white, whichever stands out.
func against(c cells.Colour) cells.Colour {
	if c.Luma() < 118 {
		return cells.RGB(255, 255, 255)
	}
	return cells.RGB(0, 0, 0)
}

// mapPixel gives the pixel of a place on a map of n by n.
func mapPixel(x, y float64, n int) (col, row int) {
	return int(math.Floor((1 + x) / 2 * float64(n))), int(math.Floor((1 - y) / 2 * float64(n)))
}

// disc draws on the map: places come as the map's x and y.
type disc struct {
	w    cells.Window
	x, y int // of the map's upper left cell
	a    *compassAnswer
	bare bool // no colour: figures stand for the ramp
}

// cell gives the cell of a place, which may lie just outside the horizon.
func (d *disc) cell(x, y float64) (col, row int) {
	px, py := mapPixel(x, y, d.a.of.n)
	return d.x + px, d.y + int(math.Floor(float64(py)/2))
}

// ground gives a style that stands out from the map at a cell.
func (d *disc) ground(col, row int) cells.Style {
	n := d.a.of.n
	i, j := col-d.x, 2*(row-d.y)
	if d.bare || i < 0 || j < 0 || i >= n || j+1 >= n || d.a.pic.Pix[j*n+i] == cells.Default {
		return plain
	}
	k := j*n + i
	if math.IsNaN(d.a.sky.Degree[k]) {
		return plain
	}
	bg := rampAt(d.a.sky.Degree[k], d.a.sky.Effect[k], d.a.of.effect, cells.TrueColour)
	return cells.Style{Fg: against(bg), Bg: d.a.pic.Pix[k]}
}

// put writes a text at a place, so that its first letter is there; where it would leave the window it
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

// above writes a text on the line over a place, its middle there; where it would hide the sun, on the
// line under it.
func (d *disc) above(x, y float64, text string) {
	col, row := d.cell(x, y)
	cols, _ := d.w.Size()
	col = max(0, min(col-(len(text)-1)/2, cols-len(text)))
	p := d.a.sky.Sun
	sunCol, sunRow := d.cell(plan.Bearing{AzimuthDeg: p.AzimuthDeg, AltitudeDeg: p.AltitudeDeg}.OnMap())
	line := row - 1
	if line == sunRow && sunCol >= col && sunCol < col+len(text) {
		line = row + 1
	}
	for _, r := range text {
		d.w.Set(col, line, r, d.ground(col, line))
		col++
	}
}

// skyMap draws the sky with everything on it, and its words.
func (s *screen) skyMap(m *model, w cells.Window, room *compassRoom) {
	a := &m.compass.got
	cols, rows := w.Size()
	if a.sky == nil || a.of.n < 8 || a.of.n > cols-4 || a.of.n/2+2 > rows {
		return // of another size of the window; the next one is on its way
	}
	left := 3
	if !room.aside {
		left = max(3, (cols-a.of.n)/2)
	}
	d := &disc{w: w, x: left, y: 1, a: a, bare: s.pen.Profile == cells.NoColour || s.pen.ASCII}
	if d.bare {
		d.rim()
	} else {
		d.picture()
		if s.pen.Profile == cells.Sixteen {
			d.horizon() // its darkest grey is the ground's
		}
	}
	d.strokes()
	d.sun()
	d.numbers()
	d.around()
	if room.aside {
		s.skyWords(m, w.Sub(left+a.of.n+4, 1, cols-left-a.of.n-4, rows-1))
	} else {
		s.skyWords(m, w.Sub(0, a.of.n/2+2, cols, rows-a.of.n/2-2))
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
			case top == cells.Default:
				d.w.Set(d.x+i, d.y+j, '▄', cells.Style{Fg: bottom})
			default:
				d.w.Set(d.x+i, d.y+j, '▀', cells.Style{Fg: top, Bg: bottom})
			}
		}
	}
}

// horizon draws it as dots.
func (d *disc) horizon() {
	for az := 0.0; az < 360; az += 2 {
		x, y := plan.Bearing{AzimuthDeg: az}.OnMap()
		const in = 0.999
		col, row := d.cell(in*x, in*y)
		d.w.Set(col, row, '·', dim)
	}
}

// rim draws the horizon where no colour shows it, and the frame at the playhead.
func (d *disc) rim() {
	d.horizon()
	for _, b := range d.a.here.Outline {
		x, y := b.OnMap()
		const in = 0.999
		col, row := d.cell(in*x, in*y)
		d.w.Set(col, row, '+', plain)
	}
}

// strokeStep gives how many pixels lie between two strokes.
func (d *disc) strokeStep() int {
	if d.bare {
		return 6
	}
	return 4 + 2*min(d.a.of.n/48, 2)
}

// strokes draws the direction of E on a coarse lattice. Where the light has hardly any there is none.
func (d *disc) strokes() {
	const least = 0.08
	n, step := d.a.of.n, d.strokeStep()
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
			if p >= least {
				d.w.Set(col, row, stroke(d.a.sky.E[k]), d.ground(col, row))
			}
			if d.bare && i+1 < n && !math.IsNaN(d.a.sky.Degree[k+1]) {
				d.w.Text(col+1, row, figure(p, d.a.sky.Effect[k], d.a.of.effect), dim)
			}
		}
	}
}

// stroke gives the letter that lies along a direction on the map, degrees clockwise from up. A letter is
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

// figure writes a place of the map where no colour shows it: tenths of the degree, or half stops, with
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

// sun draws the day's way of the sun, hour marks on it where the flight is, and the sun at the
// playhead.
func (d *disc) sun() {
	t := &d.a.track
	lastCol, lastRow := -1, -1
	for i := range t.Points {
		p := &t.Points[i]
		x, y := p.Bearing().OnMap()
		col, row := d.cell(x, y)
		mark := '·'
		switch {
		case p.Hour:
			mark = 'o'
		case col == lastCol && row == lastRow:
			continue
		case p.Behind:
			mark = 'x'
		}
		d.w.Set(col, row, mark, d.ground(col, row))
		lastCol, lastRow = col, row
	}
	for i := range t.Points {
		p := &t.Points[i]
		if away := p.Time.Sub(t.Start.Time).Hours(); p.Hour && away > -1 && p.Time.Sub(t.End.Time).Hours() < 1 {
			x, y := p.Bearing().OnMap()
			d.above(x, y, p.Time.Format("15"))
		}
	}
	if p := d.a.sky.Sun; p.AltitudeDeg > 0 {
		x, y := plan.Bearing{AzimuthDeg: p.AzimuthDeg, AltitudeDeg: p.AltitudeDeg}.OnMap()
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
func moved(from, to *plan.Footprint) bool {
	const apart = 10
	return math.Abs(math.Remainder(to.Centre.AzimuthDeg-from.Centre.AzimuthDeg, 360)) > apart ||
		math.Abs(to.Centre.AltitudeDeg-from.Centre.AltitudeDeg) > apart
}

// around draws what stands outside the horizon: the points of the compass, and the sector of bearings
// that the sun sweeps during the flight.
func (d *disc) around() {
	n := d.a.of.n
	mid := d.x + n/2
	name := cells.Style{Fg: cells.Dim, Attr: cells.Bold}
	d.w.Text(mid, d.y-1, "N", name)
	d.w.Text(mid, d.y+n/2, "S", name)
	d.w.Text(d.x+n+1, d.y+n/4, "E", name)
	d.w.Text(d.x-2, d.y+n/4, "W", name)
	t := &d.a.track
	if t.Start.Pos.AltitudeDeg <= 0 && t.End.Pos.AltitudeDeg <= 0 {
		return
	}
	steps := 1 + int(math.Abs(t.SweptDeg))
	for i := 0; i <= steps; i++ {
		x, y := plan.Bearing{AzimuthDeg: t.Start.Pos.AzimuthDeg + t.SweptDeg*float64(i)/float64(steps)}.OnMap()
		out := 1 + 2/float64(n)
		col, row := d.cell(out*x, out*y)
		d.w.Set(col, row, '█', cells.Style{Fg: cells.Bad, Bg: cells.Bad})
	}
}

// legend says what the map's colours or figures and its strokes mean, and gives the lines it takes.
func (s *screen) legend(a *compassAnswer, w cells.Window) (lines int) {
	cols, _ := w.Size()
	name, x := "polarised", 0
	switch bare := s.pen.Profile == cells.NoColour || s.pen.ASCII; {
	case bare && a.of.effect:
		name = "half stops darker, + brighter"
	case bare:
		name = "tenths polarised"
	default:
		from, to := "0", fmt.Sprintf("%.0f%%", 100*mapMostDegree)
		if a.of.effect {
			from, to, name = minus(fmt.Sprintf("%.0f", mapDarkest)), fmt.Sprintf("+%.0f", mapBrightest), "stops at this ring"
		}
		x = w.Text(x, 0, from+" ", dim)
		const bar = 8
		for i := range bar {
			v := (float64(i) + 0.5) / bar
			c := rampAt(v*mapMostDegree, mapDarkest+v*(mapBrightest-mapDarkest), a.of.effect, s.pen.Profile)
			w.Set(x, 0, '▀', cells.Style{Fg: c, Bg: c})
			x++
		}
		x = w.Text(x+1, 0, to+" ", dim)
	}
	if x > 0 && x+cells.Width(name) > cols {
		lines, x = 1, 0
	}
	x = w.Text(x, lines, name, dim)
	const strokes = "strokes: E"
	if x+3+len(strokes) > cols {
		w.Text(0, lines+1, strokes, dim)
		return lines + 2
	}
	w.Text(x, lines, " · "+strokes, dim)
	return lines + 1
}

// skyWords writes the legend and what the map says.
func (s *screen) skyWords(m *model, w cells.Window) {
	a := &m.compass.got
	cols, rows := w.Size()
	y := s.legend(a, w)
	t := &a.track
	words := a.sky.Words()
	if t.Start.Pos.AltitudeDeg > 0 {
		swept := "under 1°"
		if by := math.Abs(t.SweptDeg); by >= 1 {
			swept = fmt.Sprintf("%.0f°", by)
		}
		words = append([]string{fmt.Sprintf("Rim: the sun %s to %s, %s.", t.Start.Time.Format("15:04"), t.End.Time.Format("15:04"), swept)}, words[1:]...)
	}
	for i, f := range a.prints {
		if len(f.Outline) == 0 && !f.End && len(a.prints[i+1].Outline) == 0 {
			words = append(words, fmt.Sprintf("Leg %d sees no sky.", f.Leg+1))
		}
	}
	for _, l := range cells.Wrap(m.plainly(strings.Join(words, " ")), cols) {
		if y < rows {
			w.Text(0, y, l, plain)
		}
		y++
	}
}
