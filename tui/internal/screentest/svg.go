//go:build unix

package screentest

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"strings"

	uv "github.com/charmbracelet/ultraviolet"
)

// A cell of the drawing in its units, and where its letters stand. Most monospaced letters are 0.6 of their size wide;
// the length of a run is written beside it, so that another font keeps to the cells too.
const (
	cellW, cellH = 10, 20
	letterSize   = 16.5
	letterFonts  = "ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace"
	baseline     = 15
)

// What a terminal has where a program leaves the colours to it.
var letters, page = color.RGBA{0xdc, 0xdc, 0xd6, 0xff}, color.RGBA{0x10, 0x14, 0x17, 0xff}

// grid is what a drawing needs of an emulator.
type grid interface {
	CellAt(x, y int) *uv.Cell
	Width() int
	Height() int
}

// SVG draws the screen as it stands: its text as text that can be found and copied; grounds, blocks and lines as
// rectangles, so that they join at every size. The same cells give the same bytes.
func (s *Screen) SVG(title string) []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	return drawSVG(s.em, title)
}

func drawSVG(g grid, title string) []byte {
	d := drawing{grid: g}
	for y := range g.Height() {
		d.fills(y)
		d.lines(y)
		d.text(y)
	}
	w, h := g.Width()*cellW, g.Height()*cellH
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d">`+"\n", w, h, w, h)
	fmt.Fprintf(&b, "<title>%s</title>\n", escaped(title))
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="%s"/>`+"\n", w, h, hex(page))
	b.WriteString(`<g shape-rendering="crispEdges">` + "\n")
	d.under.write(&b)
	b.WriteString("</g>\n") // a thin line with crisp edges is lost where the picture is shown smaller
	d.over.write(&b)
	fmt.Fprintf(&b, "<g font-family=\"%s\" font-size=\"%g\">\n", letterFonts, letterSize)
	b.WriteString(d.words.String())
	b.WriteString("</g>\n</svg>\n")
	return b.Bytes()
}

// drawing gathers what is drawn: fills, the lines over them, and the words row by row, as they are read.
type drawing struct {
	grid
	under, over layer
	words       strings.Builder
}

// layer gathers rectangles by colour, in the order in which the colours come; none lies on another.
type layer struct {
	order []color.RGBA
	paths map[color.RGBA]*strings.Builder
}

func (l *layer) rect(c color.RGBA, x, y, w, h float64) {
	if l.paths[c] == nil {
		if l.paths == nil {
			l.paths = map[color.RGBA]*strings.Builder{}
		}
		l.paths[c] = &strings.Builder{}
		l.order = append(l.order, c)
	}
	fmt.Fprintf(l.paths[c], "M%g %gh%gv%gh%gz", x, y, w, h, -w)
}

func (l *layer) write(b *bytes.Buffer) {
	for _, c := range l.order {
		fmt.Fprintf(b, `<path fill="%s" d="%s"/>`+"\n", hex(c), l.paths[c])
	}
}

// look is a cell as it is seen.
type look struct {
	char   string // empty where nothing is written
	fg, bg color.RGBA
	bold   bool
}

func (d *drawing) look(x, y int) look {
	l := look{fg: letters, bg: page}
	c := d.CellAt(x, y)
	if c == nil {
		return l
	}
	l.char, l.bold = strings.TrimSpace(c.Content), c.Style.Attrs&uv.AttrBold != 0
	if c.Style.Fg != nil {
		l.fg = rgba(c.Style.Fg)
	}
	if c.Style.Bg != nil {
		l.bg = rgba(c.Style.Bg)
	}
	if c.Style.Attrs&uv.AttrReverse != 0 {
		l.fg, l.bg = l.bg, l.fg
	}
	return l
}

// parts gives a cell's upper and lower colour, and how many eighths from the top the upper one takes.
func (l look) parts() (upper, lower color.RGBA, eighths int) {
	r := []rune(l.char + " ")[0]
	switch {
	case r == '▀':
		return l.fg, l.bg, 4
	case r >= '▁' && r <= '█':
		return l.bg, l.fg, 7 - int(r-'▁')
	}
	return l.bg, l.bg, 4
}

// fills draws a row's grounds and blocks, with cells side by side that look the same as one rectangle.
func (d *drawing) fills(y int) {
	type part struct {
		c        color.RGBA
		from, to int // eighths from the top
	}
	run := func(of func(look) part) {
		for x := 0; x < d.Width(); {
			p, x0 := of(d.look(x, y)), x
			for x < d.Width() && of(d.look(x, y)) == p {
				x++
			}
			if p.c != page && p.to > p.from {
				d.under.rect(p.c, float64(x0*cellW), (float64(y)+float64(p.from)/8)*cellH, float64((x-x0)*cellW), float64(p.to-p.from)/8*cellH)
			}
		}
	}
	run(func(l look) part {
		a, b, n := l.parts()
		if a == b {
			n = 8
		}
		return part{a, 0, n}
	})
	run(func(l look) part {
		a, b, n := l.parts()
		if a == b {
			n = 8
		}
		return part{b, n, 8}
	})
}

// arms tells where a line of a box leads from the middle of its cell: left, right, up, down.
var arms = map[string][4]bool{
	"─": {true, true, false, false}, "│": {false, false, true, true},
	"├": {false, true, true, true}, "┤": {true, false, true, true},
	"┌": {false, true, false, true}, "┐": {true, false, false, true},
	"└": {false, true, true, false}, "┘": {true, false, true, false},
}

// lines draws a row's lines; those along the row as one.
func (d *drawing) lines(y int) {
	top, mid := float64(y*cellH), float64(y*cellH+cellH/2)
	for x := 0; x < d.Width(); x++ {
		l, left := d.look(x, y), float64(x*cellW)
		if l.char == "─" {
			x0 := x
			for next := d.look(x+1, y); next.char == "─" && next.fg == l.fg; next = d.look(x+1, y) {
				x++
			}
			d.over.rect(l.fg, left, mid, float64((x-x0+1)*cellW), 1)
			continue
		}
		if l.char == "╌" {
			d.over.rect(l.fg, left+1, mid, 3, 1)
			d.over.rect(l.fg, left+6, mid, 3, 1)
		}
		a := arms[l.char]
		if a[0] {
			d.over.rect(l.fg, left, mid, cellW/2, 1)
		}
		if a[1] {
			d.over.rect(l.fg, left+cellW/2, mid, cellW/2, 1)
		}
		if a[2] {
			d.over.rect(l.fg, left+cellW/2, top, 1, cellH/2)
		}
		if a[3] {
			d.over.rect(l.fg, left+cellW/2, mid, 1, cellH/2)
		}
	}
}

// drawn tells whether a character is drawn as a shape, and alone whether it must stand by itself, in the middle of its
// cell: arrows and signs come from another font than the letters, with other widths.
func (l look) drawn() bool {
	r := []rune(l.char + " ")[0]
	_, line := arms[l.char]
	return line || r >= '▀' && r <= '█' || r == '╌'
}

func (l look) alone() bool {
	r := []rune(l.char + " ")[0]
	return r >= '←' && r != '−'
}

// text writes a row's words: a run in one style ends where two blanks follow.
func (d *drawing) text(y int) {
	at := y*cellH + baseline
	for x := 0; x < d.Width(); x++ {
		l := d.look(x, y)
		switch {
		case l.char == "" || l.drawn():
			continue
		case l.alone():
			d.word(l, fmt.Sprintf(`x="%d" y="%d" text-anchor="middle"`, x*cellW+cellW/2, at), l.char)
			continue
		}
		run, x0 := l.char, x
		for {
			n := 1
			next := d.look(x+1, y)
			if next.char == "" {
				n, next = 2, d.look(x+2, y)
			}
			if next.char == "" || next.fg != l.fg || next.bold != l.bold || next.drawn() || next.alone() {
				break
			}
			run += strings.Repeat(" ", n-1) + next.char
			x += n
		}
		d.word(l, fmt.Sprintf(`x="%d" y="%d" textLength="%d"`, x0*cellW, at, (x-x0+1)*cellW), run)
	}
}

// word writes one run.
func (d *drawing) word(l look, place, text string) {
	if l.bold {
		place += ` font-weight="bold"`
	}
	fmt.Fprintf(&d.words, "<text %s fill=\"%s\">%s</text>\n", place, hex(l.fg), escaped(text))
}

func rgba(c color.Color) color.RGBA { return color.RGBAModel.Convert(c).(color.RGBA) }

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes everything
	return b.String()
}
