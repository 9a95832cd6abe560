package compass

import (
	"fmt"
	"math"
	"slices"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// groundMap places metres east and north on cells, which are twice as high as wide.
type groundMap struct {
	w          cells.Window
	x, y       float64 // the middle of the window, cells
	east       float64 // and what lies there
	north      float64
	metresCell float64 // metres a column; a row is twice that
}

// leastAcrossM keeps a flight that hovers from being drawn larger than life.
const leastAcrossM = 20

// newGroundMap fits the extents into a window, with room for arrows and numbers around them.
func newGroundMap(a *compass.Above, w cells.Window) groundMap {
	cols, rows := w.Size()
	g := groundMap{w: w, x: float64(cols-1) / 2, y: float64(rows-1) / 2}
	g.east, g.north = (a.Min.East+a.Max.East)/2, (a.Min.North+a.Max.North)/2
	const side, ends = 6, 2
	g.metresCell = max(
		max(a.WidthM(), leastAcrossM)/max(1, float64(cols-2*side)),
		max(a.HeightM(), leastAcrossM)/max(1, float64(2*(rows-2*ends))),
	)
	return g
}

func (g *groundMap) cell(p compass.Spot) (col, row int) {
	return int(math.Round(g.x + (p.East-g.east)/g.metresCell)), int(math.Round(g.y - (p.North-g.north)/g.metresCell/2))
}

// scale returns a round length that is drawn as a bar of some columns.
func (g *groundMap) scale(most int) (metres float64, cols int) {
	for _, m := range []float64{5000, 2000, 1000, 500, 200, 100, 50, 20, 10, 5, 2, 1} {
		if c := int(math.Round(m / g.metresCell)); c <= most && c >= 2 {
			return m, c
		}
	}
	return 0, 0
}

// dots draws a straight way.
func (g *groundMap) dots(from, to compass.Spot, style cells.Style) {
	x0, y0 := g.cell(from)
	x1, y1 := g.cell(to)
	steps := max(absInt(x1-x0), absInt(y1-y0), 1)
	for k := range steps + 1 {
		g.w.Set(x0+(x1-x0)*k/steps, y0+(y1-y0)*k/steps, '·', style)
	}
}

// fromAbove draws the ways of the legs on the ground, the headings pointed on them, and the subjects.
func (got *answer) fromAbove(w panel.Window) {
	a := got.above
	cols, rows := w.Size()
	if len(a.Legs) == 0 || cols < 20 || rows < 5 {
		return
	}
	g := newGroundMap(a, w.Sub(0, 0, cols, rows-1).Window)
	here := got.here.Leg
	for pass := range 2 { // the playhead's leg lies on top
		for i := range a.Legs {
			if l := &a.Legs[i]; (l.Leg == here) == (pass == 1) {
				g.leg(l, pass == 1, w.Pen.ASCII)
			}
		}
	}
	g.numbers(a, here)
	x, y := g.cell(compass.Spot{})
	w.Text(x, y, "o", panel.Dim)
	got.aircraft(&g, w.Pen.ASCII)
	w.Text(0, 0, "N", cells.Style{Fg: cells.Dim, Attr: cells.Bold})
	w.Text(0, 1, "↑", panel.Dim)
	x = 0
	if metres, n := g.scale(cols / 4); n > 0 {
		w.Set(0, rows-1, '├', panel.Dim)
		for i := 1; i < n; i++ {
			w.Set(i, rows-1, '─', panel.Dim)
		}
		w.Set(n, rows-1, '┤', panel.Dim)
		x = w.Text(n+2, rows-1, fmt.Sprintf("%.0f m", metres), panel.Dim)
	}
	subject := ""
	if slices.ContainsFunc(a.Legs, func(l compass.LegAbove) bool { return l.HasTarget }) {
		subject = " · ◆ subject"
	}
	for _, t := range []string{
		"o take-off point · 1 a leg begins" + subject + " · arrows: where the camera looks",
		"o take-off · 1 leg begins" + subject + " · arrows: camera", "o take-off · 1 leg" + subject + " · ↑ camera", "o take-off · 1 leg" + subject, "o take-off" + subject,
	} {
		if x+3+cells.Width(t) <= cols {
			w.TextRight(cols, rows-1, t, panel.Dim)
			break
		}
	}
}

// arrowEvery is how many cells lie between two arrows on a way.
const arrowEvery = 7

// leg draws the way of one leg, its arrows and its subject.
func (g *groundMap) leg(l *compass.LegAbove, here, ascii bool) {
	style := panel.Dim
	if here {
		style = panel.Plain
	}
	for i := 1; i < len(l.Points); i++ {
		g.dots(l.Points[i-1].Spot, l.Points[i].Spot, style)
	}
	if l.HasTarget {
		g.dots(l.Target[0], l.Target[1], style)
		x, y := g.cell(l.Target[1])
		g.w.Set(x, y, '◆', style)
	}
	lastX, lastY := -99, -99
	for i, p := range l.Points {
		x, y := g.cell(p.Spot)
		end := i == len(l.Points)-1
		if far := max(absInt(x-lastX), 2*absInt(y-lastY)); far < arrowEvery && !(end && far > 2) {
			continue
		}
		lastX, lastY = x, y
		g.w.Set(x, y, arrow(p.HeadingDeg, ascii), style)
	}
}

// numbers puts the legs' numbers beside their starts.
func (g *groundMap) numbers(a *compass.Above, here int) {
	var t tags
	for i := range a.Legs {
		x, y := g.cell(a.Legs[i].Points[0].Spot)
		t.add(x+1, y, a.Legs[i].Leg+1)
	}
	t.draw(g.w, here+1, func(int, int) cells.Style { return panel.Dim }, func(cells.Style) cells.Style { return panel.Accent })
}

// aircraft marks the playhead, with the two edges of the frame as short lines.
func (got *answer) aircraft(g *groundMap, ascii bool) {
	var at *compass.Overhead
	for i := range got.above.Legs {
		l := &got.above.Legs[i]
		if l.Leg != got.here.Leg {
			continue
		}
		for k := range l.Points {
			if p := &l.Points[k]; at == nil || math.Abs(p.FlightS-got.of.second) < math.Abs(at.FlightS-got.of.second) {
				at = p
			}
		}
	}
	if at == nil {
		return
	}
	x, y := g.cell(at.Spot)
	wide := compass.HalfWidthDeg(got.of.report, got.here.Leg)
	for _, side := range [2]float64{-wide, wide} {
		sin, cos := math.Sincos((at.HeadingDeg + side) * math.Pi / 180)
		for _, far := range [...]float64{1.5, 2.5, 3.5} { // rows
			g.w.Set(int(math.Round(float64(x)+2*far*sin)), int(math.Round(float64(y)-far*cos)), '·', panel.Accent)
		}
	}
	g.w.Set(x, y, arrow(at.HeadingDeg, ascii), panel.Accent.With(cells.Reverse))
}

// arrow returns the letter that points along a heading.
func arrow(deg float64, ascii bool) rune {
	eighths := [...]rune{'↑', '↗', '→', '↘', '↓', '↙', '←', '↖'}
	k := int(math.Round(math.Mod(math.Mod(deg, 360)+360, 360)/45)) % 8
	if ascii { // none of its letters points aslant
		return [...]rune{'^', '>', 'v', '<'}[int(math.Round(math.Mod(math.Mod(deg, 360)+360, 360)/90))%4]
	}
	return eighths[k]
}

func absInt(x int) int { return max(x, -x) }
