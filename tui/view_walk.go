package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// walkView is the view to carry: all legs on one screen, what to set in big type, so that a phone can
// photograph it. After landing the same list is what the log is held against.
type walkView struct{}

var _ = func() bool { views[viewWalk] = walkView{}; return true }()

func (walkView) name() string { return "Walk" }

// walkState is where the list stands when it is longer than the screen, and what was put into words for
// the report on it.
type walkState struct {
	top int
	of  *plan.Report
	got walk.Walk
}

func (walkView) keys() []binding {
	scroll := func(by int) func(*model, string) tea.Cmd {
		return func(m *model, _ string) tea.Cmd { m.walk.top = max(0, m.walk.top+by); return nil }
	}
	return []binding{
		{"up k", "Up k", 0, "", "scroll up, where the legs do not all fit", 0, scroll(-1)},
		{"down j", "Down j", 0, "", "scroll down", 0, scroll(1)},
		{"pgup home g", "PgUp", 0, "", "to the top", 0, scroll(-1000)},
		{"pgdown end G", "PgDn", 0, "", "to the bottom", 0, scroll(1000)},
	}
}

// kick puts a new report into words; that is a matter of microseconds.
func (walkView) kick(m *model) tea.Cmd {
	if r := m.calc.report; r != m.walk.of {
		m.walk.of, m.walk.got = r, nil
		if r != nil {
			m.walk.got = walk.Of(r)
		}
	}
	return nil
}

func (walkView) take(*model, tea.Msg) bool { return false }

// walkForm is how much room a leg gets.
type walkForm int

const (
	walkBig   walkForm = iota // settings in big type, words beside them
	walkPlain                 // settings in a line, words below
	walkShort                 // of the words only what to look out for
	walkLine                  // one line a leg
)

// walkRow is one line of the list; it draws itself.
type walkRow func(w cells.Window, y, cols int)

func (walkView) draw(s *screen, m *model, w cells.Window) {
	cols, rows := w.Size()
	if m.walk.got == nil || m.calc.report == nil {
		return
	}
	var lines []walkRow
	for f := walkBig; f <= walkLine; f++ {
		if f == walkBig {
			if _, ok := m.walkColumns(cols); s.pen.ASCII || !ok {
				continue
			}
		}
		lines = m.walkRows(f, cols)
		if len(lines) <= rows {
			break
		}
	}
	for _, tail := range m.walkTails(cols) {
		if len(lines)+len(tail) <= rows {
			lines = append(lines, tail...)
		}
	}
	m.walk.top = max(0, min(m.walk.top, len(lines)-rows))
	for y := 0; y < rows && m.walk.top+y < len(lines); y++ {
		lines[m.walk.top+y](w, y, cols)
	}
	if m.walk.top+rows < len(lines) {
		w.Set(cols-1, rows-1, '▼', dim)
	}
	if m.walk.top > 0 {
		w.Set(cols-1, 0, '▲', dim)
	}
	if m.stale() {
		w.Fade()
	}
}

// walkRows sets the list in lines.
func (m *model) walkRows(form walkForm, cols int) []walkRow {
	var out []walkRow
	blank := func(cells.Window, int, int) {}
	for i := range m.walk.got {
		f := &m.walk.got[i]
		if i > 0 {
			out = append(out, blank)
		}
		out = append(out, m.walkHead(f, form, cols)...)
		for j := range f.Legs {
			if form < walkShort {
				out = append(out, blank)
			}
			out = append(out, m.walkLeg(&f.Legs[j], form, cols)...)
		}
	}
	return out
}

// walkTails say what else to have at hand, each where there is room for all of it.
func (m *model) walkTails(cols int) [][]walkRow {
	c := &m.calc.report.Call
	var tails [][]walkRow
	for i, list := range [][]string{c.Ladder, c.Cautions} {
		if len(list) == 0 {
			continue
		}
		title, style := []string{"If the meter disagrees", "Cautions"}[i], []cells.Style{plain, warn}[i]
		out := []walkRow{func(cells.Window, int, int) {},
			func(w cells.Window, y, _ int) { w.Text(0, y, title, strong) }}
		for _, t := range cells.Wrap(m.plainly(strings.Join(list, " · ")), cols) {
			out = append(out, func(w cells.Window, y, cols int) { w.TextIn(0, y, cols, t, style) })
		}
		tails = append(tails, out)
	}
	return tails
}

// walkHead says what to screw on before this flight.
func (m *model) walkHead(f *walk.WalkFlight, form walkForm, cols int) []walkRow {
	var out []walkRow
	if f.Change != "" {
		text := "Land, power off, " + f.Change
		out = append(out, func(w cells.Window, y, cols int) { w.TextIn(0, y, cols, text, accent) })
	}
	name := m.plainly(f.Filter)
	side := []string{}
	if f.Ring != "" {
		side = append(side, "mark at "+f.Ring+", facing the lens")
	}
	side = append(side, fmt.Sprintf("white balance %.0f K", f.WBK))
	if bw, ok := cells.BigWidth(name); ok && form == walkBig && bw+40 <= cols {
		return append(out, bigRows(name, bw, append([]string{""}, side...), strong)...)
	}
	text := name + " · " + strings.Join(side, " · ")
	for _, l := range cells.Wrap(text, cols) {
		out = append(out, func(w cells.Window, y, cols int) { w.TextIn(0, y, cols, l, strong) })
	}
	return out
}

// bigRows are three lines with a text in big type and words beside it.
func bigRows(text string, width int, side []string, style cells.Style) []walkRow {
	var out []walkRow
	for row := range cells.BigRows {
		out = append(out, func(w cells.Window, y, cols int) {
			if row == 0 {
				w.Sub(0, y, cols, cells.BigRows).Big(0, 0, text, style)
			}
			if row < len(side) {
				w.TextIn(width+3, y, cols-width-3, side[row], plain)
			}
		})
	}
	return out
}

// walkColumns are where the big numbers and the words stand: ISO and text of the same column for all legs.
type walkColumns struct{ iso, text int }

const walkShutterX = 4

// columns finds them; ok is false where a number has no big type or the words would have no room.
func (m *model) walkColumns(cols int) (c walkColumns, ok bool) {
	var shutter, iso int
	for i := range m.walk.got {
		for _, l := range m.walk.got[i].Legs {
			a, ok := cells.BigWidth(walkShutter(&l))
			b, ok2 := cells.BigWidth(l.ISO)
			if !ok || !ok2 {
				return c, false
			}
			shutter, iso = max(shutter, a), max(iso, b)
		}
	}
	c.iso = walkShutterX + shutter + 3 + len("ISO ")
	c.text = c.iso + iso + 3
	return c, c.text+30 <= cols
}

// walkShutter is a leg's shutter as big type has it.
func walkShutter(l *walk.WalkLeg) string { return strings.ReplaceAll(l.Shutter, " ", "") }

func (m *model) walkLeg(l *walk.WalkLeg, form walkForm, cols int) []walkRow {
	number, start := fmt.Sprint(l.Leg+1), l.Start.Format("15:04")
	lookOut := ""
	if len(l.LookOut) > 0 { // in capitals, so that it needs no colour to be seen
		lookOut = "LOOK OUT: " + strings.Join(l.LookOut, "; ")
	}
	words := func(cols int) (out []string, styles []cells.Style) {
		for i, t := range []string{strings.Join(l.Expect, " · "), lookOut} {
			if t == "" || i == 0 && form == walkShort {
				continue
			}
			for _, line := range cells.Wrap(m.plainly(t), cols) {
				out, styles = append(out, line), append(styles, []cells.Style{plain, warn}[i])
			}
		}
		return out, styles
	}
	if form == walkLine {
		text := fmt.Sprintf("%s  %s  %s  ISO %s  %s", number, start, l.Shutter, l.ISO, l.Move)
		if lookOut != "" {
			text += " · " + lookOut
		}
		return []walkRow{func(w cells.Window, y, cols int) { w.TextIn(0, y, cols, m.plainly(text), strong) }}
	}
	if form != walkBig {
		head := fmt.Sprintf("%s  %s  %s  ISO %s", number, start, l.Shutter, l.ISO)
		out := []walkRow{func(w cells.Window, y, cols int) {
			x := w.Text(0, y, head, strong)
			w.TextIn(x+3, y, cols-x-3, m.plainly(l.Move), dim)
		}}
		list, styles := words(cols - 3)
		for i, t := range list {
			out = append(out, func(w cells.Window, y, cols int) { w.TextIn(3, y, cols-3, t, styles[i]) })
		}
		return out
	}
	c, _ := m.walkColumns(cols)
	side, styles := words(cols - c.text)
	move := cells.Wrap(m.plainly(start+" · "+l.Move), cols-c.text)
	var out []walkRow
	for row := range max(cells.BigRows, len(move)+len(side)) {
		out = append(out, func(w cells.Window, y, cols int) {
			if row == 0 {
				w.Text(0, y, number, accent)
				big := w.Sub(0, y, cols, cells.BigRows)
				big.Big(walkShutterX, 0, walkShutter(l), strong)
				w.Text(c.iso-len("ISO "), y, "ISO", dim)
				big.Big(c.iso, 0, l.ISO, strong)
			}
			switch i := row - len(move); {
			case i < 0:
				w.TextIn(c.text, y, cols-c.text, move[row], dim)
			case i < len(side):
				w.TextIn(c.text, y, cols-c.text, side[i], styles[i])
			}
		})
	}
	return out
}
