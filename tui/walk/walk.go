// Package walk is the view to carry: all legs on one screen, what to set in big type, so that a phone can
// photograph it. After landing the same list is what the log is held against.
//
// The one hard idea: a leg can be set in four forms, from big type down to one line. The largest form in which
// every leg fits is taken, so that the list scrolls only where not even one line a leg has room.
package walk

import (
	"fmt"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// View is the view to carry. It keeps where the list stands when it is longer than the screen, and what was
// said of the report that it is of.
type View struct {
	top  int
	of   *plan.Report
	list walk.Walk
}

// New returns the view.
func New() *View { return &View{} }

// Name implements [panel.View].
func (*View) Name() string { return "Walk" }

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	scroll := func(by int) func(panel.Bench) {
		return func(panel.Bench) { v.top = max(0, v.top+by) }
	}
	return []panel.Key{
		panel.On("up k", "Up k", "", "scroll up, where the legs do not all fit", 0, scroll(-1)),
		panel.On("down j", "Down j", "", "scroll down", 0, scroll(1)),
		panel.On("pgup home g", "PgUp", "", "to the top", 0, scroll(-1000)),
		panel.On("pgdown end G", "PgDn", "", "to the bottom", 0, scroll(1000)),
	}
}

// Kick implements [panel.View]. A new report is put into sentences at once; that is a matter of microseconds.
func (v *View) Kick(b panel.Bench) tea.Cmd {
	if r := b.Report(); r != v.of {
		v.of, v.list = r, nil
		if r != nil {
			v.list = walk.Of(r)
		}
	}
	return nil
}

// Take implements [panel.View].
func (*View) Take(panel.Bench, tea.Msg) bool { return false }

// Hide implements [panel.View].
func (*View) Hide() {}

// form is how much room a leg gets.
type form int

const (
	bigType  form = iota // settings in big type, words beside them
	inLines              // settings in a line, words below
	short                // of the words only what to look out for
	lineEach             // one line a leg
)

// row is one line of the list; it draws itself.
type row func(w panel.Window, y, cols int)

// setter sets the list in rows for a window.
type setter struct {
	list walk.Walk
	pen  *cells.Pen
	cols int
}

func (s *setter) plainly(text string) string { return panel.Plainly(s.pen, text) }

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	r := k.Report()
	if v.list == nil || r == nil {
		return
	}
	set := setter{v.list, w.Pen, cols}
	var lines []row
	for f := bigType; f <= lineEach; f++ {
		if f == bigType {
			if _, ok := set.columns(); w.Pen.ASCII || !ok {
				continue
			}
		}
		lines = set.rows(f)
		if len(lines) <= rows {
			break
		}
	}
	for _, tail := range set.tails(&r.Call) {
		if len(lines)+len(tail) <= rows {
			lines = append(lines, tail...)
		}
	}
	v.top = max(0, min(v.top, len(lines)-rows))
	for y := 0; y < rows && v.top+y < len(lines); y++ {
		lines[v.top+y](w, y, cols)
	}
	panel.More(w, v.top > 0, v.top+rows < len(lines))
	if k.Stale() {
		w.Fade()
	}
}

// rows sets the list in lines.
func (s *setter) rows(f form) []row {
	var out []row
	blank := func(panel.Window, int, int) {}
	for i := range s.list {
		flight := &s.list[i]
		if i > 0 {
			out = append(out, blank)
		}
		out = append(out, s.head(flight, f)...)
		for j := range flight.Legs {
			if f < short {
				out = append(out, blank)
			}
			out = append(out, s.leg(&flight.Legs[j], f)...)
		}
	}
	return out
}

// tails say what else to have at hand, each where there is room for all of it.
func (s *setter) tails(c *plan.Call) [][]row {
	var tails [][]row
	for i, list := range [][]string{c.Ladder, c.Cautions} {
		if len(list) == 0 {
			continue
		}
		title, style := []string{"If the meter disagrees", "Cautions"}[i], []cells.Style{panel.Plain, panel.Warn}[i]
		out := []row{func(panel.Window, int, int) {},
			func(w panel.Window, y, _ int) { w.Text(0, y, title, panel.Strong) }}
		for _, t := range cells.Wrap(s.plainly(strings.Join(list, " · ")), s.cols) {
			out = append(out, func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, t, style) })
		}
		tails = append(tails, out)
	}
	return tails
}

// head says what to screw on before this flight.
func (s *setter) head(flight *walk.WalkFlight, f form) []row {
	var out []row
	if flight.Change != "" {
		text := "Land, power off, " + flight.Change
		out = append(out, func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, text, panel.Accent) })
	}
	name := s.plainly(flight.Filter)
	side := []string{}
	if flight.Ring != "" {
		side = append(side, "mark at "+flight.Ring+", facing the lens")
	}
	side = append(side, fmt.Sprintf("white balance %.0f K", flight.WBK))
	if bw, ok := cells.BigWidth(name); ok && f == bigType && bw+40 <= s.cols {
		return append(out, bigRows(name, bw, append([]string{""}, side...), panel.Strong)...)
	}
	text := name + " · " + strings.Join(side, " · ")
	for _, l := range cells.Wrap(text, s.cols) {
		out = append(out, func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, l, panel.Strong) })
	}
	return out
}

// bigRows are three lines with a text in big type and words beside it.
func bigRows(text string, width int, side []string, style cells.Style) []row {
	var out []row
	for row := range cells.BigRows {
		out = append(out, func(w panel.Window, y, cols int) {
			if row == 0 {
				w.Sub(0, y, cols, cells.BigRows).Big(0, 0, text, style)
			}
			if row < len(side) {
				w.TextIn(width+3, y, cols-width-3, side[row], panel.Plain)
			}
		})
	}
	return out
}

// columns are where the big numbers and the words stand: ISO and text of the same column for all legs.
type columns struct{ iso, text int }

const shutterX = 4

// columns returns them; ok is false where a number has no big type or the words would have no room.
func (s *setter) columns() (c columns, ok bool) {
	var shutter, iso int
	for i := range s.list {
		for _, l := range s.list[i].Legs {
			a, ok := cells.BigWidth(bigShutter(&l))
			b, ok2 := cells.BigWidth(l.ISO)
			if !ok || !ok2 {
				return c, false
			}
			shutter, iso = max(shutter, a), max(iso, b)
		}
	}
	c.iso = shutterX + shutter + 3 + len("ISO ")
	c.text = c.iso + iso + 3
	return c, c.text+30 <= s.cols
}

// bigShutter is a leg's shutter as big type has it.
func bigShutter(l *walk.WalkLeg) string { return strings.ReplaceAll(l.Shutter, " ", "") }

func (s *setter) leg(l *walk.WalkLeg, f form) []row {
	number, start := fmt.Sprint(l.Leg+1), l.Start.Format("15:04")
	lookOut := ""
	if len(l.LookOut) > 0 { // in capitals, so that it needs no colour to be seen
		lookOut = "LOOK OUT: " + strings.Join(l.LookOut, "; ")
	}
	words := func(cols int) (out []string, styles []cells.Style) {
		for i, t := range []string{strings.Join(l.Expect, " · "), lookOut} {
			if t == "" || i == 0 && f == short {
				continue
			}
			for _, line := range cells.Wrap(s.plainly(t), cols) {
				out, styles = append(out, line), append(styles, []cells.Style{panel.Plain, panel.Warn}[i])
			}
		}
		return out, styles
	}
	if f == lineEach {
		text := fmt.Sprintf("%s  %s  %s  ISO %s  %s", number, start, l.Shutter, l.ISO, l.Move)
		if lookOut != "" {
			text += " · " + lookOut
		}
		return []row{func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, s.plainly(text), panel.Strong) }}
	}
	if f != bigType {
		head := fmt.Sprintf("%s  %s  %s  ISO %s", number, start, l.Shutter, l.ISO)
		out := []row{func(w panel.Window, y, cols int) {
			x := w.Text(0, y, head, panel.Strong)
			w.TextIn(x+3, y, cols-x-3, s.plainly(l.Move), panel.Dim)
		}}
		list, styles := words(s.cols - 3)
		for i, t := range list {
			out = append(out, func(w panel.Window, y, cols int) { w.TextIn(3, y, cols-3, t, styles[i]) })
		}
		return out
	}
	c, _ := s.columns()
	side, styles := words(s.cols - c.text)
	move := cells.Wrap(s.plainly(start+" · "+l.Move), s.cols-c.text)
	var out []row
	for row := range max(cells.BigRows, len(move)+len(side)) {
		out = append(out, func(w panel.Window, y, cols int) {
			if row == 0 {
				w.Text(0, y, number, panel.Accent)
				big := w.Sub(0, y, cols, cells.BigRows)
				big.Big(shutterX, 0, bigShutter(l), panel.Strong)
				w.Text(c.iso-len("ISO "), y, "ISO", panel.Dim)
				big.Big(c.iso, 0, l.ISO, panel.Strong)
			}
			switch i := row - len(move); {
			case i < 0:
				w.TextIn(c.text, y, cols-c.text, move[row], panel.Dim)
			case i < len(side):
				w.TextIn(c.text, y, cols-c.text, side[i], styles[i])
			}
		})
	}
	return out
}
