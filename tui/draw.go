package tui

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/tui/cells"
)

// Styles of text. Everything else is a theme's role on its own.
var (
	plain  = cells.Style{}
	dim    = cells.Style{Fg: cells.Dim}
	faint  = cells.Style{Fg: cells.Faint}
	strong = cells.Style{Fg: cells.Strong, Attr: cells.Bold}
	accent = cells.Style{Fg: cells.Accent, Attr: cells.Bold}
	warn   = cells.Style{Fg: cells.Bad}
	fine   = cells.Style{Fg: cells.Good}
)

func (s *screen) draw(m *model) {
	all := s.canvas.All()
	if s.kind == tooSmall {
		if s.h > 0 {
			all.Text(0, 0, cells.Cut(fmt.Sprintf("skywedge needs %d by %d cells; this window has %d by %d", minCols, minRows, s.w, s.h), s.w), plain)
		}
		if s.h > 2 {
			s.band(m, s.window(rect{0, 2, s.w, 1}))
		}
		return
	}
	s.title(m, s.window(rect{0, 0, s.w, 1}))
	s.band(m, s.window(rect{0, 1, s.w, 1}))
	if s.viewsAt >= 0 {
		s.viewLine(m, s.window(rect{0, s.viewsAt, s.w, 1}))
	}
	if m.view != viewShot {
		views[m.view].draw(s, m, s.window(s.body))
		if !s.bag.empty() {
			s.bagPane(m, s.window(s.bag))
		}
	} else if s.kind == onePane {
		s.tabs(m, s.window(rect{1, s.body.y, s.w - 2, 1}))
	}
	for p, r := range s.panes {
		if r.empty() {
			continue
		}
		pane := p
		s.hit(r, func(m *model, x, y int) { m.focus = pane; m.clampCursors() })
		w := s.window(r)
		switch p {
		case paneShot:
			s.shotPane(m, w)
		case paneLegs:
			s.legsPane(m, w)
		case paneLens:
			s.lensPane(m, w)
		case paneFlight:
			s.flightPane(m, w)
		case paneCall:
			s.callPane(m, w)
		}
	}
	s.noteLine(m)
	s.foot(m, s.window(rect{0, s.h - 1, s.w, 1}))
	if m.help.on {
		s.helpSheet(m)
	}
	if m.ask.on {
		m.ask.draw(all)
	}
}

// header draws the title line of one of the panes of view 1.
func (s *screen) header(m *model, w cells.Window, pane int, right ...string) {
	title := paneTitle[pane]
	if s.kind == onePane {
		title = "" // the line above names it
	}
	paneHead(w, m.focus == pane, title, right...)
}

// paneHead draws a pane's title line, with the longest text that fits on its right. Focus is a mark as
// well as a colour.
func paneHead(w cells.Window, focus bool, title string, right ...string) {
	cols, _ := w.Size()
	x := 2
	switch {
	case title == "":
	case focus:
		x = w.Text(0, 0, "▸ "+title+" ", accent)
	default:
		x = w.Text(0, 0, "  "+title+" ", cells.Style{Fg: cells.Dim, Attr: cells.Bold})
	}
	end := cols
	for _, t := range right { // the first that fits
		if t != "" && x+cells.Width(t)+2 <= cols {
			end = w.TextRight(cols, 0, t, dim) - 1
			break
		}
	}
	for ; x < end; x++ {
		w.Set(x, 0, '─', faint)
	}
}

// paneTabs names panes in one line, where only one of them fits.
func (s *screen) paneTabs(w cells.Window, titles []string, focus int, pick func(m *model, pane int)) {
	x := 0
	x0, y0 := w.Origin()
	for p, t := range titles {
		from, mark, style := x, "  ", dim
		if p == focus {
			mark, style = "▸ ", accent
		}
		x = w.Text(x, 0, mark+t, style)
		s.hit(rect{x0 + from, y0, x - from, 1}, func(m *model, _, _ int) { pick(m, p) })
		x += 3
	}
}

// title says which shot is on the screen, and where the sun stands at the playhead.
func (s *screen) title(m *model, w cells.Window) {
	cols, _ := w.Size()
	if s.noteAt < 0 && m.note != "" {
		w.TextIn(1, 0, cols-2, m.note, warn)
		return
	}
	sh := m.card()
	right := ""
	if r := m.calc.report; r != nil && len(r.Path) > 0 {
		if i := m.calc.at(m.second); i >= 0 {
			p := r.Path[i].Sun[0]
			last := r.Path[len(r.Path)-1].Sun[1]
			way := "rising"
			if last.GeometricDeg < r.Path[0].Sun[0].GeometricDeg {
				way = "falling"
			}
			right = fmt.Sprintf("sun %s° at %.0f°, %s", minus(fmt.Sprintf("%.0f", math.Round(p.AltitudeDeg)+0)), p.AzimuthDeg, way)
		}
	}
	state := "saved"
	switch {
	case sh.current == nil:
		state = "cannot be read"
	case sh.readOnly != "":
		state = "read only: open in another window"
	case sh.unsaved:
		state = "not saved"
	case sh.unwritten:
		state = "new, no file yet"
	case sh.fileless:
		state = "demo, a copy"
	}
	free := cols - 3 - cells.Width(right)
	name := cells.Cut(sh.name(), free)
	x := w.Text(1, 0, name, strong)
	parts := []string{takeOffWords(sh.text("take_off")), state}
	if sh.bag.unsaved {
		parts = append(parts, "bag not saved")
	}
	if len(m.cards) > 1 {
		parts = append(parts, fmt.Sprintf("%d of %d", m.at+1, len(m.cards)))
	}
	for _, p := range parts {
		if p != "" && x+3+cells.Width(p) <= free {
			st := dim
			if p == "not saved" || p == "cannot be read" || p == "bag not saved" {
				st = warn
			}
			x = w.Text(x, 0, " · ", faint)
			x = w.Text(x, 0, p, st)
		}
	}
	w.TextRight(cols-1, 0, right, dim)
}

// takeOffWords writes a take-off as people say it.
func takeOffWords(text string) string {
	for _, layout := range []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04"} {
		if t, err := time.Parse(layout, text); err == nil {
			return t.Format("2 Jan 2006, 15:04")
		}
	}
	return text
}

// tabs names the panes of view 1 where only one fits.
func (s *screen) tabs(m *model, w cells.Window) {
	s.paneTabs(w, []string{"Shot", "Legs", "Lens", "Flight", "Call"}, m.focus, func(m *model, pane int) {
		m.focus = pane
		m.clampCursors()
	})
}

// noteLine shows the news, or what the field under the cursor means.
func (s *screen) noteLine(m *model) {
	if s.noteAt < 0 {
		return
	}
	w := s.window(rect{1, s.noteAt, s.w - 2, 1})
	cols, _ := w.Size()
	if m.note != "" {
		w.TextIn(0, 0, cols, m.note, warn)
		return
	}
	if m.edit.on && m.edit.fault != "" {
		w.TextIn(0, 0, cols, m.edit.row.label+": "+m.edit.fault, warn)
		return
	}
	if len(m.calc.faults) > 0 {
		f := m.calc.faults[0]
		w.TextIn(0, 0, cols, f.Field+": found "+f.Found+"; allowed: "+f.Allowed, warn)
		return
	}
	if m.here() == inBag || m.edit.on && m.edit.row.filter {
		s.fieldHelp(m, w, m.bagRow())
		return
	}
	if m.view != viewShot || m.focus != paneShot && m.focus != paneLegs {
		w.TextIn(0, 0, cols, m.expect(), dim)
		return
	}
	s.fieldHelp(m, w, m.field())
}

// fieldHelp says what a field means and what may stand there.
func (s *screen) fieldHelp(m *model, w cells.Window, r row) {
	if r.spec == nil || r.heading {
		return
	}
	cols, _ := w.Size()
	text := r.spec.Help
	if !strings.HasPrefix(text, r.label) {
		text = r.label + ": " + text
	}
	if more := m.card().allowed(r); more != "" && cells.Width(text)+cells.Width(more)+3 <= cols {
		text += " · " + more
	}
	w.TextIn(0, 0, cols, text, dim)
}

// expect says what to expect of the leg at the playhead.
func (m *model) expect() string {
	i := m.calc.at(m.second)
	if i < 0 {
		return ""
	}
	leg := m.calc.report.Path[i].Leg
	if leg >= len(m.calc.report.Legs) {
		return ""
	}
	l := &m.calc.report.Legs[leg]
	parts := []string{fmt.Sprintf("leg %d, %s", leg+1, l.Move)}
	if l.Facing != "" {
		parts = append(parts, l.Facing+" light")
	}
	if l.Band != "" && len(l.Notes) == 0 {
		parts = append(parts, string(l.Band)+" motion")
	}
	return m.plainly(strings.Join(append(parts, l.Notes...), " · "))
}

// foot lists the keys that work here. The way to all keys is the last to go.
func (s *screen) foot(m *model, w cells.Window) {
	cols, _ := w.Size()
	here := m.here()
	var shown []*binding
	for _, common := range []bool{false, true} { // what is particular to the place first
		for i := range keyTable {
			if b := &keyTable[i]; b.where&here != 0 && b.foot != "" && (b.where&everywhere == everywhere) == common {
				shown = append(shown, b)
			}
		}
	}
	if list := existing(); s.viewsAt < 0 && len(list) > 1 && !m.edit.on {
		shown = append(shown, &binding{shown: fmt.Sprintf("1-%d", list[len(list)-1]+1), foot: "views", weight: 6})
	}
	words := func(b *binding) (string, string) { return strings.Fields(b.shown)[0], b.foot }
	width := func() int {
		n := 1
		for _, b := range shown {
			k, t := words(b)
			n += cells.Width(k) + 1 + cells.Width(t) + 3
		}
		return n
	}
	for width() > cols+2 && len(shown) > 1 {
		least := 0
		for i, b := range shown {
			if b.weight < shown[least].weight {
				least = i
			}
		}
		shown = append(shown[:least], shown[least+1:]...)
	}
	x := 1
	for _, b := range shown {
		k, t := words(b)
		if b.foot == "nudge" && here&(inForms|inBag) != 0 {
			k = "+ -"
		}
		x = w.Text(x, 0, k, cells.Style{Fg: cells.Accent})
		x = w.Text(x+1, 0, t, dim) + 3
	}
}

// helpSheet lies over the panes.
func (s *screen) helpSheet(m *model) {
	cols := min(s.w-4, 76)
	if m.help.title != "" {
		cols = s.w - 4
	}
	rows := s.h - 4
	w := s.window(rect{(s.w - cols) / 2, 2, cols, rows})
	title := m.help.title
	if title == "" {
		title = "Keys"
	}
	frame(w, title)
	in := w.Sub(2, 1, cols-4, rows-2)
	inCols, inRows := in.Size()
	var draw []func(y int)
	if m.help.lines != nil {
		for _, l := range m.help.lines {
			draw = append(draw, func(y int) { in.TextIn(0, y, inCols, l, plain) })
		}
	} else {
		lines := m.helpLines()
		kw := wide(lines) + 2
		for _, l := range lines {
			if l.heading {
				draw = append(draw, func(y int) { in.Text(0, y, l.text, strong) })
				continue
			}
			for i, t := range append(cells.Wrap(l.text, inCols-kw), "")[:max(1, len(cells.Wrap(l.text, inCols-kw)))] {
				keys := ""
				if i == 0 {
					keys = l.keys
				}
				draw = append(draw, func(y int) {
					in.Text(0, y, keys, cells.Style{Fg: cells.Accent})
					in.TextIn(kw, y, inCols-kw, t, plain)
				})
			}
		}
	}
	m.help.top = max(0, min(m.help.top, len(draw)-inRows))
	for y := 0; y < inRows && m.help.top+y < len(draw); y++ {
		draw[m.help.top+y](y)
	}
	foot := " Esc closes "
	if len(draw) > inRows {
		foot = fmt.Sprintf(" Up Down scroll, %d to %d of %d · Esc closes ", m.help.top+1, min(len(draw), m.help.top+inRows), len(draw))
	}
	w.Text(2, rows-1, foot, dim)
}

// plainly spells the fractions of a stop out where only ASCII may be drawn.
func (m *model) plainly(text string) string {
	if !m.screen.pen.ASCII {
		return text
	}
	return strings.NewReplacer(" ⅓", " 1/3", " ⅔", " 2/3", " ½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "½", " 1/2").Replace(text)
}

// minus uses the sign of mathematics in numbers for people.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }
