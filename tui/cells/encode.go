package cells

import "strconv"

// Pen writes rows of cells as text with colour codes for one terminal. It keeps its buffer, so a
// repaint allocates the strings of the lines and nothing for a cell.
type Pen struct {
	Profile Profile
	Theme   *Theme
	ASCII   bool // nothing outside ASCII is written
	Pixels  bool // true pictures are laid over those in half blocks

	buf   []byte
	row   []Cell               // one that was changed for ASCII
	near  numbers              // of the 256 colours
	codes [roleCount][2]string // colour codes of the roles, for letters and for grounds
	made  Profile
	theme *Theme
	ready bool
}

// Lines encodes the whole canvas.
func (p *Pen) Lines(c *Canvas, into []string) []string {
	into = into[:0]
	for y := 0; y < c.H; y++ {
		into = append(into, string(p.Line(c, y)))
	}
	return into
}

// Line encodes one row. The bytes are good until the next call.
func (p *Pen) Line(c *Canvas, y int) []byte {
	p.prepareOnce()
	b := p.buf[:0]
	var now Style // what the terminal has been told
	for _, cell := range p.cellsOf(c, y) {
		if cell.Rune == 0 {
			continue
		}
		b, now = p.write(b, now, p.seen(cell))
	}
	if now != (Style{}) {
		b = append(b, "\x1b[m"...)
	}
	p.buf = b
	return b
}

// cellsOf returns a row of a canvas as this terminal can show it.
func (p *Pen) cellsOf(c *Canvas, y int) []Cell {
	row := c.cells[y*c.W : (y+1)*c.W]
	if p.ASCII {
		p.row = degreesSpelt(row, p.row)
		row = p.row
		for i := range row {
			if row[i].Rune == 0 { // of a wide letter one stand-in is left, a cell wide
				row[i].Rune = ' '
			}
		}
	}
	return row
}

// glyph is a cell as a terminal shows it: glyphs that look alike are equal.
type glyph struct {
	Rune rune
	Style
}

// seen returns what a cell is shown as.
func (p *Pen) seen(cell Cell) glyph {
	s, r := cell.Style, cell.Rune
	if p.Profile <= Sixteen || p.ASCII {
		s, r = p.poor(s, r)
	}
	whole := (r == '▀' || r == '█') && s.Fg == s.Bg && s.Fg != Default
	s.Fg, s.Bg = p.shown(s.Fg, 0), p.shown(s.Bg, 1)
	switch {
	case whole && s.Bg != Default:
		r = ' ' // a blank on a ground leaves no seam, and needs one code instead of two
	case whole:
		r = '█' // this profile has no such ground
	}
	if s.Bg == BandGround || s.Bg == PickGround {
		if s.Fg == Default || s.Fg == Strong { // the terminal's own colour may not read on them
			s.Fg = OnGround
		}
	}
	if p.theme.paints {
		s.Fg, s.Bg = p.painted(s.Fg, text, 0), p.painted(s.Bg, ground, 1)
	}
	if r == ' ' && s.Attr&(Underline|Reverse) == 0 {
		s.Fg, s.Attr = Default, 0 // a blank shows no letter
	}
	return glyph{r, s}
}

// write writes a glyph after the codes that lead to its style, and returns what the terminal has been told then.
func (p *Pen) write(b []byte, now Style, g glyph) ([]byte, Style) {
	s, r := g.Style, g.Rune
	if r == ' ' && s.Attr&(Underline|Reverse) == 0 {
		s.Fg, s.Attr = now.Fg, now.Attr&^(Underline|Reverse) // whatever the colour of the letters is
		if now.Attr&(Underline|Reverse) != 0 {
			s.Fg = Default
		}
	}
	if s != now {
		b = p.change(b, now, s)
	}
	if r < 0x80 {
		return append(b, byte(r)), s
	}
	return append(b, string(r)...), s
}

// change writes the codes that lead from one style to another.
func (p *Pen) change(b []byte, from, to Style) []byte {
	b = append(b, '\x1b', '[')
	start := len(b)
	if from.Attr&^to.Attr != 0 || to.Fg == Default && from.Fg != Default || to.Bg == Default && from.Bg != Default {
		from = Style{}
		if to == from {
			return append(b, 'm')
		}
		b = append(b, '0', ';')
	}
	add := to.Attr &^ from.Attr
	if add&Bold != 0 {
		b = append(b, "1;"...)
	}
	if add&Underline != 0 {
		b = append(b, "4;"...)
	}
	if add&Reverse != 0 {
		b = append(b, "7;"...)
	}
	if to.Fg != from.Fg {
		b = p.colour(b, to.Fg, 0)
	}
	if to.Bg != from.Bg {
		b = p.colour(b, to.Bg, 1)
	}
	if len(b) == start { // colours that this profile does not show
		return b[:start-2]
	}
	b[len(b)-1] = 'm'
	return b
}

func (p *Pen) colour(b []byte, c Colour, ground int) []byte {
	if c&kindMask == kindRole {
		return append(b, p.codes[c&0xff][ground]...)
	}
	switch p.Profile {
	case TrueColour:
		return appendRGB(b, c, ground)
	case TwoFiftySix:
		return append256(b, int(p.near.of(c)), ground)
	case Sixteen:
		return append16(b, grey16(c), ground)
	}
	return b
}

func appendRGB(b []byte, c Colour, ground int) []byte {
	r, g, bl := c.parts()
	b = append(b, "38;2;"...)
	b[len(b)-5] += byte(ground)
	b = strconv.AppendUint(b, uint64(r), 10)
	b = append(b, ';')
	b = strconv.AppendUint(b, uint64(g), 10)
	b = append(b, ';')
	b = strconv.AppendUint(b, uint64(bl), 10)
	return append(b, ';')
}

func append256(b []byte, n, ground int) []byte {
	if ground == 1 {
		b = append(b, "48;5;"...)
	} else {
		b = append(b, "38;5;"...)
	}
	return append(strconv.AppendInt(b, int64(n), 10), ';')
}

func append16(b []byte, n, ground int) []byte {
	base := 30 + 10*ground
	if n >= 8 {
		base, n = base+60, n-8
	}
	return append(strconv.AppendInt(b, int64(base+n), 10), ';')
}

func (p *Pen) prepareOnce() {
	if !p.ready || p.made != p.Profile || p.theme != p.Theme {
		p.prepare()
	}
}

// prepare writes the codes of the roles once. In a profile without colour they stay empty.
func (p *Pen) prepare() {
	if p.Theme == nil {
		p.Theme = &dark
	}
	p.ready, p.made, p.theme = true, p.Profile, p.Theme
	for i := range p.codes {
		for ground := 0; ground < 2; ground++ {
			var b []byte
			s := p.Theme.shades[i]
			switch {
			case i == 0:
			case p.Profile == TrueColour && s.rgb != 0:
				b = appendRGB(b, s.rgb, ground)
			case p.Profile == TwoFiftySix && s.of256 >= 0:
				b = append256(b, int(s.of256), ground)
			case p.Profile == Sixteen && s.of6 >= 0:
				b = append16(b, int(s.of6), ground)
			}
			p.codes[i][ground] = string(b)
		}
	}
}

// shown gives the terminal's own colour for a role that this theme and profile leave to it.
func (p *Pen) shown(c Colour, ground int) Colour {
	if c&kindMask == kindRole && p.codes[c&0xff][ground] == "" {
		return Default
	}
	return c
}

// painted gives the theme's own colour for that of the terminal.
func (p *Pen) painted(c, own Colour, ground int) Colour {
	if c == Default {
		return p.shown(own, ground)
	}
	return c
}

// poor fits a cell to a terminal without colour, with 16 colours, or with ASCII only.
func (p *Pen) poor(s Style, r rune) (Style, rune) {
	exact := s.Fg&kindMask == kindRGB || s.Bg&kindMask == kindRGB
	if exact && (p.Profile <= Sixteen || p.ASCII) && r == '▀' {
		// Characters by brightness take over from colour. The four greys of 16 colours are too few: a smooth sky
		// would have edges in them that are not there.
		l := (s.Fg.Luma() + s.Bg.Luma()) / 2
		if p.Theme != nil && p.Theme.Light {
			l = 255 - l
		}
		r = shades[l*len(shades)/256]
		s.Fg, s.Bg = Default, Default
	}
	if p.Profile == NoColour {
		if s.Bg == EditGround {
			s.Attr |= Reverse
		}
		s.Fg, s.Bg = Default, Default
	} else if p.Profile == Sixteen {
		// Cells that look alike must compare alike, or a code is written for nothing.
		if s.Fg&kindMask == kindRGB {
			s.Fg = greyRGB[grey16(s.Fg)]
		}
		if s.Bg&kindMask == kindRGB {
			s.Bg = greyRGB[grey16(s.Bg)]
		}
	}
	if p.ASCII {
		r = asciiRune(r)
	}
	return s, r
}

// shades run from dark to bright.
var shades = [...]rune{' ', '.', ':', '-', '=', '+', '*', '#', '%', '@'}

// greyRGB are exact colours that fall on each of the four greys.
var greyRGB = [16]Colour{0: RGB(0, 0, 0), 8: RGB(90, 90, 90), 7: RGB(170, 170, 170), 15: RGB(255, 255, 255)}

// asciiRune gives a stand-in for each character the workbench draws.
func asciiRune(r rune) rune {
	if r < 0x80 {
		return r
	}
	switch r {
	case '─', '╌', '–', '—', '−':
		return '-'
	case '│', '┊', '╎':
		return '|'
	case '┌', '┐', '└', '┘', '├', '┤', '┬', '┴', '┼', '╭', '╮', '╰', '╯':
		return '+'
	case '▸', '›', '→', '»':
		return '>'
	case '‹', '←', '«':
		return '<'
	case '…':
		return '~'
	case '·':
		return '.'
	case '±':
		return '~'
	case '×':
		return 'x'
	case '▁', '▂':
		return '_'
	case '▃', '▄':
		return '-'
	case '▅', '▆':
		return '='
	case '▇', '█', '▀':
		return '#'
	case '●', '◆', '■':
		return '@'
	case '○', '◦', '□':
		return 'o'
	case '▲', '↑', '△':
		return '^'
	case '▼', '↓', '▾':
		return 'v'
	case '☼', '☀', '✶':
		return '*'
	case '✓':
		return 'y'
	case '½':
		return '~'
	case '’', '‘':
		return '\''
	}
	return '?'
}
