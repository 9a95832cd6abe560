package compass

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// legend says what the map's colours or figures and its strokes mean, and returns the lines it takes.
func (a *answer) legend(w panel.Window) (lines int) {
	cols, _ := w.Size()
	name, x := "polarised", 0
	switch figures := bare(w.Pen); {
	case figures && a.of.effect:
		name = "half stops darker, + brighter"
	case figures:
		name = "tenths polarised"
	default:
		from, to := "0", fmt.Sprintf("%.0f%%", 100*mapMostDegree)
		if a.of.effect {
			from, to, name = panel.Minus(fmt.Sprintf("%.0f", mapDarkest)), fmt.Sprintf("+%.0f", mapBrightest), "stops at this ring"
		}
		x = w.Text(x, 0, from+" ", panel.Dim)
		const bar = 8
		for i := range bar {
			v := (float64(i) + 0.5) / bar
			c := rampAt(v*mapMostDegree, mapDarkest+v*(mapBrightest-mapDarkest), a.of.effect, w.Pen.Profile)
			w.Set(x, 0, '▀', cells.Style{Fg: c, Bg: c})
			x++
		}
		x = w.Text(x+1, 0, to+" ", panel.Dim)
	}
	if x > 0 && x+cells.Width(name) > cols {
		lines, x = 1, 0
	}
	x = w.Text(x, lines, name, panel.Dim)
	_, rows := w.Size()
	y := lines
	for i, item := range a.drawn(bare(w.Pen)) {
		if x+3+cells.Width(item) > cols {
			if left := rows - y - 1; left < 3 && (left < 2 || i > 0) { // the words need the line more
				break
			}
			y, x = y+1, 0
		}
		if x > 0 {
			x = w.Text(x, y, " · ", panel.Faint)
		}
		x = w.Text(x, y, item, panel.Dim)
	}
	return y + 1
}

// drawn names what is drawn on the map, what needs it most first.
func (a *answer) drawn(figures bool) []string {
	list := []string{"strokes: E"}
	up := a.track.Start().Pos.AltitudeDeg > 0 || a.track.End().Pos.AltitudeDeg > 0
	if up {
		list = append(list, "* sun")
		if len(a.prints) > 2 {
			list = append(list, "o a leg begins")
		}
	}
	behind := false
	for i := range a.track.Points {
		p := &a.track.Points[i]
		behind = behind || p.Behind && p.Pos.AltitudeDeg > 0
	}
	if behind {
		list = append(list, "x behind the ridge")
	}
	if len(a.here.Outline) > 0 {
		outline := "outline: the frame"
		if figures {
			outline = "+ the frame's edge"
		}
		list = append(list, outline, "numbers: legs")
	}
	return list
}

// skyWords writes the legend and what the map says.
func (a *answer) skyWords(w panel.Window) {
	cols, rows := w.Size()
	y := a.legend(w)
	t := &a.track
	words := a.sky.Words()
	if t.Start().Pos.AltitudeDeg > 0 {
		swept := "under 1°"
		if by := math.Abs(t.SweptDeg); by >= 1 {
			swept = fmt.Sprintf("%.0f°", by)
		}
		words = append([]string{fmt.Sprintf("Rim: the sun %s to %s, %s.", t.Start().Time.Format("15:04"), t.End().Time.Format("15:04"), swept)}, words[1:]...)
	}
	for i, f := range a.prints {
		if len(f.Outline) == 0 && !f.End && len(a.prints[i+1].Outline) == 0 {
			words = append(words, fmt.Sprintf("Leg %d sees no sky.", f.Leg+1))
		}
	}
	lines := func() []string { return cells.Wrap(w.Plainly(strings.Join(words, " ")), cols) }
	for len(words) > 1 && len(lines()) > rows-y { // no sentence is cut in two: where the sun stands can be seen
		words = words[1:]
	}
	for _, l := range lines() {
		if y < rows {
			w.Text(0, y, l, panel.Plain)
		}
		y++
	}
}
