package walk

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

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
	list   walk.Walk
	pen    *cells.Pen
	cols   int
	mind   []string // the cautions in short
	at     int      // the leg that the walk is at
	many   bool     // there are several
	ticked func(l *walk.WalkLeg) bool
}

func (s *setter) plainly(text string) string { return panel.Plainly(s.pen, text) }

// rows sets the list in lines, with or without room between the legs.
func (s *setter) rows(f form, airy bool) []row {
	var out []row
	blank := func(panel.Window, int, int) {}
	for i := range s.list {
		flight := &s.list[i]
		if i > 0 {
			out = append(out, blank)
		}
		out = append(out, s.head(flight, f)...)
		for j := range flight.Legs {
			if airy && f < lineEach {
				out = append(out, blank)
			}
			out = append(out, s.leg(&flight.Legs[j], f, flight.WBK == 0)...)
		}
	}
	return out
}

// tail says what else to have at hand, under a title; nothing of nothing.
func (s *setter) tail(title string, list []string, style cells.Style) []row {
	if len(list) == 0 {
		return nil
	}
	out := []row{func(panel.Window, int, int) {},
		func(w panel.Window, y, _ int) { w.Text(0, y, title, panel.Strong) }}
	for _, t := range cells.Wrap(s.plainly(strings.Join(list, " · ")), s.cols) {
		out = append(out, func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, t, style) })
	}
	return out
}

// inShort sets cautions in one line: as many as there is room for, and how many more there are where that has room
// too. The capitals need no colour to be seen.
func (s *setter) inShort(list []string) string {
	text := s.plainly("CAUTION: " + list[0])
	n := 1
	for ; n < len(list); n++ {
		longer := text + s.plainly(" · "+list[n])
		if cells.Width(longer) > s.cols {
			break
		}
		text = longer
	}
	if more := fmt.Sprintf(" · %d more", len(list)-n); n < len(list) && cells.Width(text+more) <= s.cols {
		text += more
	}
	return cells.Cut(text, s.cols)
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
	if flight.WBK > 0 {
		side = append(side, fmt.Sprintf("white balance %.0f K", flight.WBK))
	}
	if bw, ok := cells.BigWidth(name); ok && f == bigType && bw+40 <= s.cols {
		return append(out, bigRows(name, bw, append([]string{""}, side...), panel.Strong)...)
	}
	text := strings.Join(append([]string{name}, side...), " · ")
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

// leg sets one leg. How the meter and the light behave is kept where other words have no room.
func (s *setter) leg(l *walk.WalkLeg, f form, ownWB bool) []row {
	number, start := s.sign(l)+fmt.Sprint(l.Leg+1), l.Start.Format("15:04")
	kelvin := ""
	if ownWB {
		kelvin = fmt.Sprintf("%.0f K", l.WBK)
	}
	if f == lineEach {
		text := join("  ", number, start, l.Shutter, "ISO "+l.ISO, kelvin, join(" · ", l.Short, l.Meter, l.Move, l.Drift))
		if len(l.LookOut) > 0 {
			text += " · " + lookOut + strings.Join(l.LookOut, "; ")
		}
		return []row{func(w panel.Window, y, cols int) { w.TextIn(0, y, cols, s.plainly(text), panel.Strong) }}
	}
	if f != bigType {
		head := join("  ", number, start, l.Shutter, "ISO "+l.ISO, kelvin)
		move := []string{s.plainly(l.Move)}
		x := cells.Width(head) + 3
		beside := x+cells.Width(move[0]) <= s.cols
		if !beside {
			x, move = 3, cells.Wrap(move[0], s.cols-3)
		}
		out := []row{func(w panel.Window, y, cols int) {
			w.Text(0, y, head, panel.Strong)
			if beside {
				w.TextIn(x, y, cols-x, move[0], panel.Dim)
			}
		}}
		if !beside {
			for _, t := range move {
				out = append(out, func(w panel.Window, y, cols int) { w.TextIn(x, y, cols-x, t, panel.Dim) })
			}
		}
		list, styles := s.words(l, f, s.cols-3)
		for i, t := range list {
			out = append(out, func(w panel.Window, y, cols int) { w.TextIn(3, y, cols-3, t, styles[i]) })
		}
		return out
	}
	c, _ := s.columns()
	side, styles := s.words(l, f, s.cols-c.text)
	move := cells.Wrap(s.plainly(join(" · ", start, kelvin, l.Move)), s.cols-c.text)
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

// lookOut is in capitals, so that it needs no colour to be seen.
const lookOut = "WATCH: "

// words are those of a leg, in lines: what to expect, and what to look out for.
func (s *setter) words(l *walk.WalkLeg, f form, cols int) (lines []string, styles []cells.Style) {
	expect := join(" · ", l.Meter, l.Drift)
	if f != short {
		expect = join(" · ", expect, join(" · ", l.Expect...))
	}
	out := join("; ", l.Short, join("; ", l.LookOut...))
	if out != "" {
		out = lookOut + out
	}
	for i, t := range []string{expect, out} {
		if t == "" {
			continue
		}
		for _, line := range cells.Wrap(s.plainly(t), cols) {
			lines, styles = append(lines, line), append(styles, []cells.Style{panel.Plain, panel.Warn}[i])
		}
	}
	return lines, styles
}

// join puts a separator between what is not empty.
func join(sep string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(parts), func(p string) bool { return p == "" }), sep)
}
