package compass

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// roseStops is what the top of the strip stands for, as in the strips along the flight.
const roseStops = 2.5

// drawRose draws the effect against heading as a strip that goes once round the horizon, north at both ends:
// what the ring in use takes as bars, what the best ring would take behind them. Below stand the
// headings of the legs.
func (a *answer) drawRose(w panel.Window) {
	cols, rows := w.Size()
	words := a.roseWords(w.Pen, cols)
	legs := len(a.prints) / 2
	if rows-len(words)-2-legs < max(4, rows/3) {
		legs = 1
	}
	bars := rows - len(words) - 2 - legs
	for bars < 3 && len(words) > 0 {
		words = words[:len(words)-1]
		bars++
	}
	const gutter = 2
	strip := w.Sub(gutter, 0, cols-gutter, bars)
	if bars < 1 || cols < 20 {
		return
	}
	width := cols - gutter
	roseBars(a.rose, strip)
	for stops := 0.0; stops <= 2; stops++ {
		if y := bars - 1 - int(math.Round(stops/roseStops*float64(bars))); y >= 0 {
			w.Text(0, y, fmt.Sprint(int(stops)), panel.Dim)
		}
	}
	a.roseAxis(w.Sub(gutter, bars, width, 1))
	a.roseLegs(w.Sub(0, bars+1, cols, legs), gutter, legs == 1)
	y := bars + 1 + legs
	x := w.Text(0, y, "█ ", cells.Style{Fg: cells.Chart})
	if a.rose.HasRing {
		x = w.Text(x, y, "this ring  ", panel.Dim)
		if shaded(w.Pen) {
			w.Set(x, y, shade(w.Pen), cells.Style{Fg: cells.Chart})
		} else {
			w.Set(x, y, '█', cells.Style{Fg: rival, Bg: rival})
		}
		x = w.Text(x+2, y, "best ring  + brighter", panel.Dim)
	} else {
		x = w.Text(x, y, "what a ring could do", panel.Dim)
	}
	marks := "stops · ● a leg begins · ▲ now"
	for i := 0; i+1 < len(a.prints) && legs > 1; i += 2 {
		if moved(&a.prints[i], &a.prints[i+1]) {
			marks = "stops · ● leg begins │ ends ▲ now"
		}
	}
	if legs == 1 {
		marks = "stops · numbers: legs"
	}
	for _, t := range []string{marks, "stops · ▲ now", "stops"} {
		if x+2+cells.Width(t) <= cols {
			w.TextRight(cols, y, t, panel.Dim)
			break
		}
	}
	for i, l := range words {
		w.Text(0, y+1+i, l, panel.Plain)
	}
}

// roseWords wraps what is said of the playhead's heading.
func (a *answer) roseWords(pen *cells.Pen, cols int) []string {
	return cells.Wrap(panel.Plainly(pen, strings.Join(a.rose.Words(a.here.Centre.AzimuthDeg), " ")), cols)
}

// shade is the letter for the ring that is not in use.
func shade(pen *cells.Pen) rune {
	if pen.ASCII {
		return ':'
	}
	return '░'
}

// roseColumn returns the column of a heading in a strip of so many.
func roseColumn(deg float64, cols int) int {
	deg = math.Mod(math.Mod(deg, 360)+360, 360)
	return int(math.Round(deg / 360 * float64(cols-1)))
}

// roseBars draws the bars, which grow with the darkening. Without a ring they show the strength of the
// polarisation instead.
func roseBars(o *compass.Rose, w panel.Window) {
	cols, rows := w.Size()
	if !o.SkyOK {
		return
	}
	used, best := make([]float64, cols), make([]float64, cols)
	for x := range used {
		ray := o.At(float64(x) / float64(cols-1) * 360)
		used[x], best[x] = -ray.InUse/roseStops, -ray.Strongest/roseStops
		if !o.HasRing {
			used[x], best[x] = ray.Strength/roseStops, 0
		}
	}
	w.Bars(0, 0, rows, best, cells.Style{Fg: rival}, cells.ChartLow)
	inLetters := shaded(w.Pen)
	for x := range used {
		n := int(math.Round(max(0, min(1, used[x])) * float64(8*rows)))
		over := int(math.Round(max(0, min(1, best[x])) * float64(8*rows)))
		for y := range rows { // from the foot
			style := cells.Style{Fg: cells.Chart, Bg: cells.ChartLow}
			// A cell has room for two bars where the one behind fills the rest of it, or nearly so.
			if !inLetters && (over >= 8*(y+1) || over >= 8*y+5 && over-n >= 3) {
				style.Bg = rival
			}
			switch k := n - 8*y; {
			case k >= 8:
				w.Set(x, rows-1-y, '█', cells.Style{Fg: cells.Chart, Bg: cells.Chart})
			case inLetters && over > 8*y+3 && k < 4: // in a cell of two bars the larger part decides
				w.Set(x, rows-1-y, shade(w.Pen), style)
			case inLetters && over > 8*y && k <= 0 && y > 0:
				w.Set(x, rows-1-y, ' ', style)
			case k > 0 || y == 0 && over < 8:
				w.Set(x, rows-1-y, eighth(max(k, 1)), style)
			}
		}
		if used[x] < -0.15/roseStops {
			w.Set(x, rows-1, '+', cells.Style{Fg: cells.Chart, Bg: cells.ChartLow})
		}
	}
}

// rival is the colour of the ring that is not in use, where colours are fine enough to tell it.
const rival = cells.Dim

// shaded tells whether it is drawn in shade letters instead.
func shaded(pen *cells.Pen) bool { return pen.Profile < cells.TrueColour || pen.ASCII }

// eighth returns the block of so many eighths of a cell, 1 to 7.
func eighth(n int) rune { return '▁' + rune(n-1) }

// roseAxis names the points of the compass and marks the sun.
func (a *answer) roseAxis(w panel.Window) {
	cols, _ := w.Size()
	for x := range cols {
		w.Set(x, 0, '─', panel.Faint)
	}
	names := [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW", "N"}
	for i, n := range names {
		x := roseColumn(45*float64(i), cols)
		if i == len(names)-1 {
			x = cols - 1
		}
		w.Text(max(0, min(x-(len(n)-1)/2, cols-len(n))), 0, n, panel.Dim)
	}
	if p := a.rose.Sun; p.AltitudeDeg > -0.8 {
		x := roseColumn(p.AzimuthDeg, cols)
		if x+4 <= cols {
			w.Text(x, 0, "*sun", panel.Strong)
		} else {
			w.Text(x-3, 0, "sun*", panel.Strong)
		}
	}
}

// roseLegs marks the headings of the legs: each on a line of its own, or all on one.
func (a *answer) roseLegs(w panel.Window, gutter int, together bool) {
	cols, _ := w.Size()
	strip := w.Sub(gutter, 0, cols-gutter, len(a.prints))
	width := cols - gutter
	var numbers tags
	for pass := range 2 { // the playhead's leg lies on top
		for i := 0; i+1 < len(a.prints); i += 2 {
			leg := a.prints[i].Leg
			here := leg == a.here.Leg
			if here != (pass == 1) {
				continue
			}
			y, style := i/2, panel.Dim
			if together {
				y = 0
			}
			if here {
				style = panel.Accent
			}
			for _, at := range a.legHeadings(leg) {
				strip.Set(roseColumn(at, width), y, '─', style)
			}
			from, to := a.prints[i].Centre.AzimuthDeg, a.prints[i+1].Centre.AzimuthDeg
			if moved(&a.prints[i], &a.prints[i+1]) {
				strip.Set(roseColumn(to, width), y, '│', style)
			}
			switch {
			case together && here:
				numbers.add(roseColumn(a.here.Centre.AzimuthDeg, width), y, leg+1)
			case together:
				numbers.add(roseColumn(from, width), y, leg+1)
			default:
				w.Text(0, y, fmt.Sprint(leg+1), style)
				strip.Set(roseColumn(from, width), y, '●', style)
				if here {
					strip.Set(roseColumn(a.here.Centre.AzimuthDeg, width), y, '▲', panel.Accent)
				}
			}
		}
	}
	numbers.draw(strip.Window, a.here.Leg+1, func(int, int) cells.Style { return panel.Dim }, func(cells.Style) cells.Style { return panel.Accent.With(cells.Underline) })
}

// legHeadings returns the headings that a leg goes through.
func (a *answer) legHeadings(leg int) []float64 {
	var out []float64
	for _, l := range a.above.Legs {
		if l.Leg != leg {
			continue
		}
		for i, p := range l.Points {
			if i > 0 { // a fast turn must not leave gaps
				by := math.Remainder(p.HeadingDeg-l.Points[i-1].HeadingDeg, 360)
				for s := range int(math.Ceil(math.Abs(by))) {
					out = append(out, l.Points[i-1].HeadingDeg+math.Copysign(float64(s), by))
				}
			}
			out = append(out, p.HeadingDeg)
		}
	}
	return out
}
