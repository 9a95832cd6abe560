package panel

import (
	"fmt"
	"strings"

	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

// Styles of text. Everything else is a theme's role on its own.
var (
	Plain  = cells.Style{}
	Dim    = cells.Style{Fg: cells.Dim}
	Faint  = cells.Style{Fg: cells.Faint}
	Strong = cells.Style{Fg: cells.Strong, Attr: cells.Bold}
	Accent = cells.Style{Fg: cells.Accent, Attr: cells.Bold}
	Warn   = cells.Style{Fg: cells.Bad}
	Fine   = cells.Style{Fg: cells.Good}
)

// Head draws a pane's title line, with the longest text that fits on its right. Focus is a mark as well as
// a colour.
func Head(w Window, focus bool, title string, right ...string) {
	cols, _ := w.Size()
	x := 2
	switch {
	case title == "":
	case focus:
		x = w.Text(0, 0, "▸ "+title+" ", Accent)
	default:
		x = w.Text(0, 0, "  "+title+" ", cells.Style{Fg: cells.Dim, Attr: cells.Bold})
	}
	end := cols
	for _, t := range right { // the first that fits
		if t != "" && x+cells.Width(t)+2 <= cols {
			end = w.TextRight(cols, 0, t, Dim) - 1
			break
		}
	}
	for ; x < end; x++ {
		w.Set(x, 0, '─', Faint)
	}
}

// Tabs names panes in one line, where only one of them fits. pick chooses one.
func Tabs(w Window, titles []string, focus int, pick func(pane int)) {
	x := 0
	for p, t := range titles {
		from, mark, style := x, "  ", Dim
		if p == focus {
			mark, style = "▸ ", Accent
		}
		x = w.Text(x, 0, mark+t, style)
		w.OnClick(Box(from, 0, x-from, 1), func(Bench, int, int) { pick(p) })
		x += 3
	}
}

// KeepInView returns the first line of a list to show, so that the one under the cursor is on the screen;
// top is the one shown first before.
func KeepInView(top, cursor, lines, rows int) int {
	if cursor < top {
		top = cursor
	}
	if cursor >= top+rows {
		top = cursor - rows + 1
	}
	return max(0, min(top, lines-rows))
}

// More marks at the right edge that lines stand above and below those on the screen.
func More(w Window, above, below bool) {
	cols, rows := w.Size()
	if below {
		w.Set(cols-1, rows-1, '▼', Dim)
	}
	if above {
		w.Set(cols-1, 0, '▲', Dim)
	}
}

// Line is one line of running text: a lead such as a bullet, and the text behind it.
type Line struct {
	Lead, Text string
	Style      cells.Style
}

// Para sets a text behind a lead in lines of at most so many columns.
func Para(pen *cells.Pen, cols int, lead, text string, style cells.Style) []Line {
	var out []Line
	for i, l := range cells.Wrap(Plainly(pen, text), max(8, cols-cells.Width(lead))) {
		if i > 0 {
			lead = strings.Repeat(" ", cells.Width(lead))
		}
		out = append(out, Line{Lead: lead, Text: l, Style: style})
	}
	return out
}

// Section sets texts below a title, each behind a bullet, with a blank line above. Without a text there is
// no title.
func Section(pen *cells.Pen, cols int, title string, texts []string, style cells.Style) []Line {
	if len(texts) == 0 {
		return nil
	}
	out := []Line{{}, {Lead: "  ", Text: title, Style: Strong}}
	for _, t := range texts {
		out = append(out, Para(pen, cols, "· ", t, style)...)
	}
	return out
}

// Draw writes the line from a column on.
func (l *Line) Draw(w Window, x, y int) {
	cols, _ := w.Size()
	x = w.Text(x, y, l.Lead, Dim)
	w.TextIn(x, y, cols-x, l.Text, l.Style)
}

// Plainly spells fractions of a stop and degrees out where only ASCII may be drawn.
func Plainly(pen *cells.Pen, text string) string {
	if !pen.ASCII {
		return text
	}
	return strings.NewReplacer(" ⅓", " 1/3", " ⅔", " 2/3", " ½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "½", " 1/2", "°", "deg").Replace(text)
}

// Minus puts the sign of mathematics into numbers for people.
func Minus(s string) string { return words.Minus(s) }

// FlightTime writes seconds of flight.
func FlightTime(second float64) string {
	if second < 60 {
		return fmt.Sprintf("%.0f s", second)
	}
	return fmt.Sprintf("%d:%02d", int(second)/60, int(second)%60)
}

// Against returns black or white, whichever stands out from a ground.
func Against(c cells.Colour) cells.Colour {
	if c.Luma() < 118 {
		return cells.RGB(255, 255, 255)
	}
	return cells.RGB(0, 0, 0)
}

// Frame clears a box and draws a line around it.
func Frame(w cells.Window, title string) {
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{})
	s := cells.Style{Fg: cells.Accent}
	for x := 1; x < cols-1; x++ {
		w.Set(x, 0, '─', s)
		w.Set(x, rows-1, '─', s)
	}
	for y := 1; y < rows-1; y++ {
		w.Set(0, y, '│', s)
		w.Set(cols-1, y, '│', s)
	}
	w.Set(0, 0, '┌', s)
	w.Set(cols-1, 0, '┐', s)
	w.Set(0, rows-1, '└', s)
	w.Set(cols-1, rows-1, '┘', s)
	if title != "" {
		w.Text(2, 0, " "+title+" ", cells.Style{Fg: cells.Strong, Attr: cells.Bold})
	}
}
