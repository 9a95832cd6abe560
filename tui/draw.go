package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/where"
)

func (s *screen) draw(m *model) {
	all := s.canvas.All()
	if s.kind == panel.TooSmall {
		if s.h > 0 {
			all.Text(0, 0, cells.Cut(fmt.Sprintf("skywedge needs %d by %d cells; this window has %d by %d", panel.MinCols, panel.MinRows, s.w, s.h), s.w), panel.Plain)
		}
		if s.h > 2 {
			call.Band(s.window(panel.Box(0, 2, s.w, 1)), m.callState())
		}
		return
	}
	s.title(m, s.window(panel.Box(0, 0, s.w, 1)))
	call.Band(s.window(panel.Box(0, 1, s.w, 1)), m.callState())
	if s.viewsAt >= 0 {
		s.viewLine(m, s.window(panel.Box(0, s.viewsAt, s.w, 1)))
	}
	if m.view != viewShot {
		m.views.all[m.view].Draw(s.window(s.body), m)
	} else if s.kind == panel.OnePane {
		s.tabs(m, s.window(panel.Box(1, s.body.Y, s.w-2, 1)))
	}
	for p, r := range s.panes {
		if r.Empty() {
			continue
		}
		pane := p
		w := s.window(r)
		w.OnClick(panel.Box(0, 0, r.W, r.H), func(panel.Bench, int, int) { m.focus = pane; m.clampCursors() })
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
	if !s.spare.Empty() {
		call.DrawShort(s.window(s.spare), m.callState())
	}
	s.noteLine(m)
	s.foot(m, s.window(panel.Box(0, s.h-1, s.w, 1)))
	if m.kept.on && !m.edit.on {
		s.kept(m)
	}
	if m.list.On {
		m.list.Draw(s.window(panel.Box(0, 0, s.w, s.h)))
	}
	s.tourLine(m)
	if m.ask.on {
		m.ask.draw(all)
	}
}

// header draws the title line of one of the panes of view 1.
func (s *screen) header(m *model, w panel.Window, pane int, right ...string) {
	title := paneTitle[pane]
	if s.kind == panel.OnePane {
		title = "" // the line above names it
	}
	panel.Head(w, m.focus == pane, title, right...)
}

// title says which shot is on the screen, and where the sun stands at the playhead.
func (s *screen) title(m *model, w panel.Window) {
	cols, _ := w.Size()
	if note := m.firstAsked(); s.noteAt < 0 && m.note == "" && note != "" {
		w.TextIn(1, 0, cols-2, cells.Fit(note, "", cols-2, m.wholeKey()), panel.Warn)
		return
	}
	if s.noteAt < 0 && m.note != "" {
		w.TextIn(1, 0, cols-2, m.newsIn(cols-2), panel.Warn)
		return
	}
	sh := m.card()
	right := ""
	if r := m.calc.report; r != nil && len(r.Path) > 0 {
		if i := m.calc.at(m.second); i >= 0 {
			p := r.Path[i].Sun[0]
			last := r.Path[len(r.Path)-1].Sun[1]
			way := r.Shot.BehindWords(p)
			switch {
			case way != "":
			case last.GeometricDeg < r.Path[0].Sun[0].GeometricDeg:
				way = ", falling"
			default:
				way = ", rising"
			}
			right = fmt.Sprintf("sun %s° at %.0f°%s", panel.Minus(fmt.Sprintf("%.0f", math.Round(p.AltitudeDeg)+0)), p.AzimuthDeg, way)
		}
	}
	state := "saved"
	typing, _ := m.typingIn()
	switch {
	case sh.current == nil:
		state = "cannot be read"
	case sh.readOnly != "":
		state = "read only"
	case sh.unsaved, typing == document(sh):
		state = "not saved"
	case sh.unwritten:
		state = "new, no file yet"
	case sh.fileless:
		state = "demo, a copy"
	}
	when, right := m.whenFact(cols, right, state == "not saved")
	free := cols - 3 - cells.Width(right)
	name := cells.Cut(sh.name(), free)
	if when != "" {
		beside := 4 + cells.Width(when)
		if state == "not saved" {
			beside += 3 + cells.Width(state)
		}
		name = cells.Cut(name, max(leastName, free-beside))
	}
	x := w.Text(1, 0, name, panel.Strong)
	facts := []string{takeOffWords(sh.text("take_off")), state}
	if when != "" {
		facts[0] = when
	} else if x+3+cells.Width(facts[0])+3+cells.Width(state) > free {
		facts = facts[1:] // the take-off stands in its field; what can be lost must be seen
	}
	if p, ok := sh.place(); ok && sh.unwritten && m.lent(p) {
		facts = append(facts, lentFact)
	}
	if kept := m.keptFact(); kept != "" {
		facts = append(facts, kept)
	}
	switch {
	case sh.bag.readOnly != "":
		facts = append(facts, "bag read only")
	case sh.bag.unsaved:
		facts = append(facts, "bag not saved")
	}
	if len(m.cards) > 1 {
		facts = append(facts, fmt.Sprintf("%d of %d", m.at+1, len(m.cards)))
	}
	facts = append(facts, sh.bag.which())
	for _, p := range facts {
		if p != "" && x+3+cells.Width(p) <= free {
			st := panel.Dim
			if p == "not saved" || p == "cannot be read" || p == "bag not saved" || p == notKeptFact || p == lentFact {
				st = panel.Warn
			}
			if p == when {
				st = panel.Strong
			}
			x = w.Text(x, 0, " · ", panel.Faint)
			x = w.Text(x, 0, p, st)
		}
	}
	w.TextRight(cols-1, 0, right, panel.Dim)
}

// lentFact is said of a new shot while its place is not its pilot's.
const lentFact = "the demo's place"

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
func (s *screen) tabs(m *model, w panel.Window) {
	panel.Tabs(w, []string{"Shot", "Legs", "Lens", "Flight", "Call"}, m.focus, func(pane int) {
		m.focus = pane
		m.clampCursors()
	})
}

// noteLine shows the news, or what the field under the cursor means.
func (s *screen) noteLine(m *model) {
	if s.noteAt < 0 {
		return
	}
	w := s.window(panel.Box(1, s.noteAt, s.w-2, 1))
	cols, _ := w.Size()
	if m.note != "" {
		w.TextIn(0, 0, cols, m.newsIn(cols), panel.Warn)
		return
	}
	if m.edit.on && m.edit.fault != "" {
		w.TextIn(0, 0, cols, cells.Fit(m.edit.row.Label+": "+m.edit.fault, "", cols, wholeInEdit), panel.Warn)
		return
	}
	if list := m.faultLines(); len(list) > 0 {
		w.TextIn(0, 0, cols, cells.Fit(list[0], "", cols, m.wholeKey()), panel.Warn)
		return
	}
	if m.here() == inBag || m.edit.on && m.edit.row.InBag {
		s.fieldHelp(m, w, m.views.filters.Field(m))
		return
	}
	if m.view != viewShot || m.focus != paneShot && m.focus != paneLegs {
		w.TextIn(0, 0, cols, m.expect(), panel.Dim)
		return
	}
	r := m.field()
	if text := m.zone.Help(m.card().current); text != "" && r.Path == where.ZonePath {
		w.TextIn(0, 0, cols, "zone: "+text, panel.Warn)
		return
	}
	s.fieldHelp(m, w, r)
}

// fieldHelp says what a field means and what may stand there.
func (s *screen) fieldHelp(m *model, w panel.Window, r panel.Row) {
	if r.Spec == nil || r.Heading {
		return
	}
	cols, _ := w.Size()
	text := r.Spec.Help
	if !strings.HasPrefix(text, r.Label) {
		text = r.Label + ": " + text
	}
	more := m.card().allowed(r)
	if shot.IsPlace(r.Path) {
		more = "or a whole place in any notation, or a link"
	}
	if more != "" && cells.Width(text)+cells.Width(more)+3 <= cols {
		text += " · " + more
	}
	w.TextIn(0, 0, cols, text, panel.Dim)
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
	phrases := []string{fmt.Sprintf("leg %d, %s", leg+1, l.Move)}
	if l.Facing != "" {
		phrases = append(phrases, l.Facing+" light")
	}
	if l.Band != "" && len(l.Notes) == 0 {
		phrases = append(phrases, string(l.Band)+" motion")
	}
	return panel.Plainly(m.screen.pen, strings.Join(append(phrases, l.Notes...), " · "))
}

// foot lists the keys that work here. The way to all keys is the last to go.
func (s *screen) foot(m *model, w panel.Window) {
	cols, _ := w.Size()
	here := m.here()
	var shown []*binding
	var over []string // keys that do something else while a take-off is kept
	if m.keeping() {
		for i := range m.table.rows {
			if b := &m.table.rows[i]; b.where == inClock {
				shown, over = append(shown, b), append(over, b.keys)
			}
		}
	}
	for _, common := range []bool{false, true} { // what is particular to the place first
		for i := range m.table.rows {
			if b := &m.table.rows[i]; b.where&here != 0 && b.foot != "" && b.where.all() == common && !slices.Contains(over, b.keys) {
				shown = append(shown, b)
			}
		}
	}
	if list := m.views.existing(); s.viewsAt < 0 && len(list) > 1 && !m.edit.on {
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
		x = w.Text(x+1, 0, t, panel.Dim) + 3
	}
}
