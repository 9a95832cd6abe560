package tui

import (
	"fmt"
	"math"
	"strconv"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/fields"
	"example.org/skywedge/tui/line"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/where"
)

// The panes, in the order of the thought: plan, see, decide.
const (
	paneShot = iota
	paneLegs
	paneLens
	paneFlight
	paneCall
	paneCount
)

var paneTitle = [paneCount]string{"Shot", "Legs", "Through the lens", "Along the flight", "The call"}

// legColumns are the fields of a leg that stand in the table.
var legColumns = []struct {
	key, head string
	width     int
}{{"move", "", 6}, {"heading_deg", "heading", 7}, {"seconds", "s", 4}, {"speed_ms", "m/s", 4}, {"height_m", "m", 6}}

// rows returns the lines of the focused form; of the legs' pane only those below the table.
func (m *model) rows(pane int) []panel.Row {
	switch pane {
	case paneShot:
		rows := fields.OfCard(m.card().current, m.leg, m.more[paneShot], m.isWrong)
		for i := range rows {
			if rows[i].Path == where.ZonePath {
				c := m.card().current
				rows[i].Label, rows[i].Doubt = m.zone.Label(c), m.zone.Doubted(c)
			}
		}
		return rows
	case paneLegs:
		if m.card().legs() > 0 {
			return fields.OfLeg(m.card().current, m.leg, m.more[paneLegs], m.isWrong)
		}
	}
	return nil
}

// field is the one under the cursor: where the focused form's cursor stands. In the legs' pane the lines of the table come
// first, then the fields of the chosen leg.
func (m *model) field() panel.Row {
	rows := m.rows(m.focus)
	i := m.cursor[m.focus]
	if m.focus == paneLegs {
		if n := m.card().legs(); i < n {
			return fields.Leg(m.card().current, m.leg, legColumns[m.col].key)
		} else {
			i -= n
		}
	}
	if i < 0 || i >= len(rows) {
		return panel.Row{}
	}
	return rows[i]
}

func (m *model) lines(pane int) int {
	n := len(m.rows(pane))
	if pane == paneLegs {
		n += m.card().legs()
	}
	return n
}

func (m *model) clampCursors() {
	m.leg = max(0, min(m.leg, m.card().legs()-1))
	for _, p := range []int{paneShot, paneLegs} {
		m.cursor[p] = max(0, min(m.cursor[p], m.lines(p)-1))
	}
	if n := m.card().legs(); m.cursor[paneLegs] < n {
		m.leg = max(0, m.cursor[paneLegs])
	}
}

// move goes by lines and steps over headings.
func (m *model) move(by int) {
	n := m.lines(m.focus)
	i := max(0, min(m.cursor[m.focus]+by, n-1))
	m.cursor[m.focus] = i
	if m.field().Heading {
		if i += sign(by); i < n {
			m.cursor[m.focus] = i
		}
	}
	m.clampCursors()
	if m.focus == paneLegs && m.cursor[paneLegs] < m.card().legs() {
		m.playToLeg(m.leg)
	}
}

func (m *model) column(by int) {
	if m.cursor[paneLegs] < m.card().legs() {
		m.col = max(0, min(m.col+by, len(legColumns)-1))
	}
}

func (m *model) focusBy(by int) {
	m.focus = (m.focus + by + paneCount) % paneCount
	m.clampCursors()
}

// back is Esc: it undoes the last widening of the view, never work.
func (m *model) back() {
	switch {
	case m.note != "":
		m.say("")
	case m.here() == inMeasuring:
		m.views.filters.Page().Close()
	case m.here() == inBag:
		m.views.filters.CloseForm()
	case m.view != viewShot:
		m.show(viewShot)
	case m.more[m.focus]:
		m.more[m.focus] = false
		m.clampCursors()
	case m.focus != paneShot:
		m.focus = paneShot
	}
}

// editHere opens the field under the cursor.
func (m *model) editHere() {
	r := m.field()
	if r.Spec == nil || !m.mayEdit() || m.isFixed(r) {
		return
	}
	text, isDefault := m.card().shown(r)
	if isDefault {
		text = ""
	}
	if s := m.card(); r.Path == where.ZonePath && m.zone.Doubted(s.current) {
		where.Choose(m, where.Move{To: s.current, Now: s.begunNow()}, func(panel.Bench) { m.beginEdit(r, text) })
		return
	}
	m.beginEdit(r, text)
}

// isFixed tells whether a field is one that others say, and says which.
func (m *model) isFixed(r panel.Row) bool {
	if r.Fixed {
		m.say(fields.Fixed(m.card().current, m.leg, r.Spec.Key))
	}
	return r.Fixed
}

func (m *model) mayEdit() bool {
	s := m.card()
	if s.current == nil {
		m.say("this file cannot be read as a card; mend it in an editor")
		return false
	}
	if s.readOnly != "" {
		m.say(s.readOnly)
		return false
	}
	return true
}

// nudge moves the field under the cursor by steps.
func (m *model) nudge(n int) {
	r := m.field()
	if r.Spec == nil || !m.mayEdit() || m.isFixed(r) {
		return
	}
	s := m.card()
	if _, ok := m.nudged(r, s.text(r.Path), n); !ok {
		if m.say("Enter edits this field"); m.keeping() {
			m.say("Esc lets the take-off go, then Enter edits this field")
		}
		return
	}
	c, faults := s.current.Nudge(r.Path, n, s.kit())
	m.putField(r.Path, c, faults)
}

func (m *model) setField(path, text string) bool {
	c, faults := m.card().current.Set(path, text)
	return m.putField(path, c, faults)
}

// putField puts a card with one field changed.
func (m *model) putField(path string, c *shot.Card, faults field.Faults) bool {
	s := m.card()
	if c == nil {
		if len(faults) > 0 {
			m.say("found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
		}
		return false
	}
	s.put(c, path, m.opt.Now())
	m.say("")
	m.changed()
	return true
}

func (m *model) nudgeTyped(n int) {
	e := &m.edit
	if next, ok := m.nudged(e.row, m.plainly(e.line.String()), n); ok {
		e.line = line.New(next)
		m.typed()
	}
}

func (m *model) toDefault() {
	r := m.field()
	if r.Spec == nil || !m.mayEdit() || m.card().text(r.Path) == "" {
		return
	}
	if r.Spec.Required {
		m.say("this field is needed; Enter edits it")
		return
	}
	m.setField(r.Path, "")
}

func (m *model) commitAndMove(by int) {
	filter := m.edit.row.InBag
	if !m.commitEdit() {
		return
	}
	if filter {
		m.views.filters.MoveField(m, by)
	} else {
		m.move(by)
	}
}

func (m *model) commitAndNext(by int) {
	filter := m.edit.row.InBag
	if !m.commitEdit() {
		return
	}
	if filter {
		m.views.filters.MoveField(m, by)
		m.views.filters.EditField(m)
		return
	}
	if m.focus == paneLegs && m.cursor[paneLegs] < m.card().legs() && m.col+by >= 0 && m.col+by < len(legColumns) {
		m.col += by
	} else {
		m.move(by)
	}
	if !m.ask.on { // what was typed asks something first
		m.editHere()
	}
}

func (m *model) history(dir int) {
	s := m.card()
	if s.bagNext(dir) {
		n := s.bag.next(dir)
		s.bag.step(dir)
		if s.next(dir) == n { // a change of both
			s.step(dir)
		}
		m.bagChanged()
		m.say(map[int]string{-1: "the change of the bag is taken back", 1: "the change of the bag is made again"}[dir])
		m.changed()
		return
	}
	n := s.next(dir)
	if n > 0 && s.bag.next(dir) == n {
		s.bag.step(dir)
		m.bagChanged()
	}
	if !s.step(dir) {
		m.say(map[int]string{-1: "nothing to undo", 1: "nothing to redo"}[dir])
		return
	}
	m.say("")
	m.changed()
}

// changed is called after every change of the document.
func (m *model) changed() {
	m.clampCursors()
	if m.computed() != m.calc.solved {
		m.calc.failed = ""
	}
}

// The playhead.

func (m *model) playTo(second float64) {
	m.second = math.Max(0, math.Min(second, m.calc.length()))
}

// playStep goes to the next moment of the path.
func (m *model) playStep(by int) {
	r := m.calc.report
	if r == nil || len(r.Path) == 0 {
		return
	}
	i := m.calc.at(m.second) + by
	m.second = r.Path[max(0, min(i, len(r.Path)-1))].FlightS
}

func (m *model) playLeg(by int) {
	r := m.calc.report
	if r == nil {
		return
	}
	at := 0
	for i, l := range r.Legs {
		if m.second >= l.FromS-1e-6 {
			at = i
		}
	}
	if by < 0 && m.second > r.Legs[at].FromS+1e-6 {
		by = 0
	}
	m.playTo(r.Legs[max(0, min(at+by, len(r.Legs)-1))].FromS)
}

// playToLeg brings the playhead into a leg when it is outside: to its middle.
func (m *model) playToLeg(leg int) {
	r := m.calc.report
	if r == nil || leg >= len(r.Legs) {
		return
	}
	if l := r.Legs[leg]; m.second < l.FromS || m.second >= l.ToS {
		m.playTo((l.FromS + l.ToS) / 2)
	}
}

func (m *model) cardBy(by int) {
	if len(m.cards) < 2 {
		m.say("this is the only card")
		return
	}
	m.showCard((m.at + by + len(m.cards)) % len(m.cards))
	said := fmt.Sprintf("card %d of %d", m.at+1, len(m.cards))
	m.say(said)
	m.tellTaken(said + ", ")
	m.resumeTyping()
}

// showCard puts a card on the screen.
func (m *model) showCard(i int) {
	if i == m.at {
		return
	}
	m.at = i
	m.calc.forget()
	m.leg, m.cursor, m.scroll, m.second = 0, [paneCount]int{}, [paneCount]int{}, 0
	m.clampCursors()
}

// nudged returns a text for a field moved by n steps, and false where there is nothing to move. What a
// step is, the card and the bag know.
func (m *model) nudged(r panel.Row, text string, n int) (string, bool) {
	s := m.card()
	if r.InBag {
		return s.kit().Doc.NudgeText(r.Path, text, n, nil)
	}
	return s.current.NudgeText(r.Path, text, n, s.kit())
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
