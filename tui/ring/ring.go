// Package ring draws the ring of a filter as the pilot sees it who stands before the drone and looks into the lens:
// a closed ring with the mark on it. Bringing that mark to its place is the one thing the hand does, so it is drawn
// and not only said.
//
// The one hard idea: a polariser turned by half a turn is the same polariser, so there are two right places. The one
// that is spoken is drawn full, the other hollow, so that they differ by shape and need no colour. Everything is set
// in dots, two to a cell, and put into half blocks; where only ASCII may be drawn the same dots become letters.
package ring

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// Size is how large a ring is drawn.
type Size struct {
	radius int // of the ring, dots
	half   int // of a mark's square without its middle, dots
}

// The sizes: the small one stands beside words, the large one is read from an arm's length.
var (
	Small = Size{radius: 5, half: 1}
	Large = Size{radius: 9, half: 2}
)

// Cols returns the columns of a ring.
func (s Size) Cols() int { return 2*(s.radius+s.half) + 1 }

// Rows returns its lines: a cell holds two dots, one above the other.
func (s Size) Rows() int { return (s.Cols() + 1) / 2 }

// dot is what stands at a place of the drawing.
type dot uint8

const (
	nothing dot = iota
	line        // the ring itself
	full        // the mark that is spoken
	hollow      // the rim of the other one
)

// dots is the drawing: square, a line of dots after the other from the top.
type dots struct {
	n   int
	all []dot
}

func (d *dots) at(x, y int) dot {
	if x < 0 || y < 0 || x >= d.n || y >= d.n {
		return nothing
	}
	return d.all[y*d.n+x]
}

// drawn returns the dots of a ring whose spoken mark stands at an angle, degrees clockwise from 12 o'clock.
func (s Size) drawn(deg float64) dots {
	d := dots{n: s.Cols()}
	d.all = make([]dot, d.n*d.n)
	middle := s.radius + s.half
	for y := range d.n {
		for x := range d.n {
			off := math.Hypot(float64(x-middle), float64(y-middle)) - float64(s.radius)
			if off >= -0.5 && off < 0.5 {
				d.all[y*d.n+x] = line
			}
		}
	}
	mx, my := s.spot(deg)
	for dy := -s.half; dy <= s.half; dy++ {
		for dx := -s.half; dx <= s.half; dx++ {
			d.all[(middle+my+dy)*d.n+middle+mx+dx] = full
			rim := nothing
			if max(dx, -dx, dy, -dy) == s.half {
				rim = hollow
			}
			d.all[(middle-my-dy)*d.n+middle-mx-dx] = rim
		}
	}
	return d
}

// spot returns where the middle of a mark stands, dots right of and below the ring's own middle: of the dots on the
// ring the one that is nearest to the angle.
func (s Size) spot(deg float64) (x, y int) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	r := float64(s.radius)
	least := math.Inf(1)
	cx, cy := int(math.Round(r*sin)), int(math.Round(-r*cos))
	for j := cy - 1; j <= cy+1; j++ {
		for i := cx - 1; i <= cx+1; i++ {
			// Off the ring counts as much as off along it; a mark covers the ring where its middle misses it by less
			// than a dot.
			off := math.Hypot(float64(i), float64(j)) - r
			along := float64(i)*cos + float64(j)*sin
			if math.Abs(off) >= 0.75 || max(i, -i, j, -j) > s.radius {
				continue
			}
			if miss := math.Hypot(off, along); miss < least {
				least, x, y = miss, i, j
			}
		}
	}
	return x, y
}

// Draw draws a ring with its upper left corner at a cell. ringDeg is where the mark stands, as the report has it;
// the one of the two places that [kit.Clock] says first is drawn full. The small ring has the spoken place in its
// middle, the large one which way to look at it.
func Draw(w panel.Window, x, y int, s Size, ringDeg float64) {
	first, _ := kit.ClockDeg(ringDeg)
	d := s.drawn(first)
	for row := range s.Rows() {
		for col := range d.n {
			r, style := glyph(d.at(col, 2*row), d.at(col, 2*row+1), w.Pen.ASCII)
			if r != ' ' {
				w.Set(x+col, y+row, r, style)
			}
		}
	}
	middle := s.Rows() / 2
	if s == Small {
		centred(w, x, y+middle, d.n, advice.Spoken(ringDeg), panel.Strong)
		return
	}
	centred(w, x, y+s.half+1, d.n, "12", panel.Dim)
	centred(w, x, y+middle-1, d.n, "facing", panel.Plain)
	centred(w, x, y+middle, d.n, "the lens", panel.Plain)
	centred(w, x, y+s.Rows()-s.half-2, d.n, "6", panel.Dim)
}

func centred(w panel.Window, x, y, cols int, text string, style cells.Style) {
	w.Text(x+(cols-cells.Width(text)+1)/2, y, text, style)
}

// glyph returns the character for two dots one above the other. A mark takes its whole cell's colour, so that no
// theme has to know one for its other half.
func glyph(upper, lower dot, ascii bool) (rune, cells.Style) {
	style := panel.Dim
	mark := max(upper, lower)
	if mark >= full {
		style = panel.Accent
	}
	if ascii {
		switch {
		case mark == full:
			return '@', style
		case mark == hollow:
			return 'o', style
		case upper == line && lower == line:
			return ':', style
		case upper == line:
			return '\'', style
		case lower == line:
			return '.', style
		}
		return ' ', style
	}
	switch {
	case upper != nothing && lower != nothing:
		return '█', style
	case upper != nothing:
		return '▀', style
	case lower != nothing:
		return '▄', style
	}
	return ' ', style
}
