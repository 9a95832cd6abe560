// Package strips draws measures over the flight, as strips with the legs and the playhead above them.
//
// The one hard idea: what stays the same all along takes one line, and the others get the room.
package strips

import (
	"fmt"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/strip"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// flight is the strips of one answer in a window.
type flight struct {
	w      panel.Window
	r      *plan.Report
	second float64
	at     int     // the moment at the playhead
	length float64 // of the flight, seconds
	pick   func(second float64)
}

// mostBars is how many lines a strip takes at most (ours): from there on it says no more.
const mostBars = 6

// Rows returns how many lines the strips take, of at most so many.
func Rows(r *plan.Report, more bool, most int) int {
	show := shown(more)
	rows := 1 + 2*len(show)
	if r != nil && len(r.Measures) >= len(r.Path) {
		for i := range show {
			if !show[i].Steady(r) {
				rows += mostBars - 1
			}
		}
	}
	return min(most, rows)
}

// shown returns the strips on the screen.
func shown(more bool) []strip.Strip {
	if more {
		return strip.All[strip.Usual:]
	}
	return strip.All[:strip.Usual]
}

// Count returns how many strips are shown.
func Count(more bool) int { return len(shown(more)) }

// Draw draws the strips with the playhead at a second; pick moves it.
func Draw(w panel.Window, k panel.Known, more bool, pick func(second float64)) {
	r := k.Report()
	cols, rows := w.Size()
	if r == nil || len(r.Path) == 0 || len(r.Measures) < len(r.Path) || rows < 2 {
		return
	}
	show := shown(more)
	f := &flight{w: w, r: r, second: k.Second(), at: r.IndexAt(k.Second()), length: r.Path[len(r.Path)-1].FlightS, pick: pick}
	if rows < 1+2*len(show) {
		f.lines(show, cols)
		return
	}
	f.ruler(w, cols)
	// What changes over the flight shares what is left.
	left, lively := rows-1-2*len(show), 0
	for i := range show {
		if !show[i].Steady(r) {
			lively++
		}
	}
	y := 1
	for i := range show {
		bars := 1
		if !show[i].Steady(r) {
			by := min(left/lively, mostBars-1)
			bars, left, lively = bars+by, left-by, lively-1
		}
		f.words(&show[i], y, cols)
		f.bars(&show[i], 0, y+1, cols, bars)
		y += 1 + bars
	}
}

// lines draws each strip on one line, with its name before it, its scale and the value at the playhead behind it.
func (f *flight) lines(show []strip.Strip, cols int) {
	const name, value, enough = 11, 5, 9
	scale := 0
	said := make([]string, len(show))
	for i := range show {
		st := &show[i]
		if lo, hi, ok := st.Ends(f.r); ok {
			foot, top := st.Scale(lo, hi)
			said[i] = f.w.Plainly(st.ScaleWords(foot, top, len(st.Unit) <= len("stops")))
			scale = max(scale, cells.Width(said[i])+1)
		}
	}
	if cols-name-scale-value < enough { // rather the strip than its scale
		scale = 0
	}
	width := cols - name - scale - value - 1
	f.ruler(f.w.Sub(name, 0, width, 1), width)
	for i := range show {
		y := 1 + i
		f.w.TextIn(0, y, name-1, show[i].Name, panel.Dim)
		f.bars(&show[i], name, y, width, 1)
		if scale > 0 {
			f.w.Text(name+width+1, y, said[i], panel.Dim)
		}
		f.w.TextRight(cols, y, show[i].Value(f.r, f.at), panel.Strong)
	}
}

// ruler names the legs over the time they take and marks the playhead.
func (f *flight) ruler(w panel.Window, cols int) {
	for x := 0; x < cols; x++ {
		w.Set(x, 0, '╌', panel.Faint)
	}
	for i := range f.r.Legs {
		l := &f.r.Legs[i]
		x, end := column(l.FromS, f.length, cols), column(l.ToS, f.length, cols)
		w.Set(x, 0, '│', panel.Dim)
		text := fmt.Sprintf("%d %s", i+1, l.Move)
		if cells.Width(text) > end-x-2 {
			text = fmt.Sprint(i + 1)
		}
		if cells.Width(text) <= end-x-1 {
			w.Text(x+1, 0, text+" ", panel.Dim)
		}
	}
	w.Set(column(f.second, f.length, cols), 0, '▼', panel.Accent)
	w.OnClick(panel.Box(0, 0, cols, 1), func(_ panel.Bench, x, _ int) { f.pick(float64(x) / float64(max(1, cols-1)) * f.length) })
}

// column returns the column of a second of the flight.
func column(second, length float64, cols int) int {
	if length <= 0 {
		return 0
	}
	return max(0, min(cols-1, int(math.Round(second/length*float64(cols-1)))))
}

// bars draws the strip itself; the column at the playhead stands out.
func (f *flight) bars(st *strip.Strip, x, y, cols, rows int) {
	if cols < 2 || rows < 1 {
		return
	}
	lo, hi, _ := st.Ends(f.r)
	foot, top := st.Scale(lo, hi)
	values := make([]float64, cols)
	for i := range values {
		values[i] = (st.At(f.r, f.r.IndexAt(float64(i)/float64(cols-1)*f.length)) - foot) / (top - foot)
	}
	f.w.Bars(x, y, rows, values, cells.Style{Fg: cells.Chart}, cells.ChartLow)
	at := column(f.second, f.length, cols)
	f.w.Bars(x+at, y, rows, values[at:at+1], cells.Style{Fg: cells.Accent}, cells.PickGround)
	f.w.OnClick(panel.Box(x, y, cols, rows), func(_ panel.Bench, cx, _ int) { f.pick(float64(cx-x) / float64(cols-1) * f.length) })
}

// words says in numbers what the strip shows.
func (f *flight) words(st *strip.Strip, y, cols int) {
	x := f.w.Text(0, y, st.Name, panel.Plain)
	lo, hi, ok := st.Ends(f.r)
	if !ok {
		f.w.TextIn(x+2, y, cols-x-2, st.None, panel.Dim)
		return
	}
	value := st.Value(f.r, f.at)
	swing := ""
	if st.Swing {
		worst := 0.0
		for i := range f.r.Legs {
			if g := f.r.Legs[i].Swing; g.OK {
				worst = math.Max(worst, math.Abs(g.Max))
			}
		}
		if worst > 0 {
			swing = fmt.Sprintf(", swing %.1f", worst)
		}
	}
	foot, top := st.Scale(lo, hi)
	span, of := st.Span(lo, hi), " · scale "+st.ScaleWords(foot, top, true)
	for _, text := range []string{
		span + " " + st.Unit + swing + of, span + swing + of, span + " " + st.Unit + of, span + of,
		span + " · scale " + st.ScaleWords(foot, top, false), span + " " + st.Unit, span,
	} {
		if text = f.w.Plainly(text); x+2+cells.Width(text)+1+cells.Width(value) <= cols { // the fullest that fits
			f.w.Text(x+2, y, text, panel.Dim)
			break
		}
	}
	f.w.TextRight(cols, y, value, panel.Strong)
}
