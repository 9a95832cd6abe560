package tui

import (
	"errors"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/fields"
	"example.org/skywedge/tui/line"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/where"
)

// edit is the field that is being typed.
type edit struct {
	on      bool
	row     panel.Row
	line    line.Line
	base    *shot.Card // the card before typing
	bag     *kit.Bag   // and the bag, where the field is one of a filter's
	said    string     // what was understood, where that is not what was typed
	fault   string     // what is wrong with the text now
	allowed string     // and what it may be
}

// beginEdit opens a field for typing.
func (m *model) beginEdit(r panel.Row, text string) {
	s := m.card()
	if s.current == nil || r.Spec == nil {
		return
	}
	m.edit = edit{on: true, row: r, line: line.New(text), base: s.current, bag: s.kit()}
	m.say("")
}

// plainly returns a text as the document has it, and remembers what was understood.
func (m *model) plainly(text string) (plain string) {
	s, e := m.card(), &m.edit
	if e.row.InBag {
		plain, e.said = e.row.Spec.Plain(text)
	} else {
		plain, e.said = e.base.Typed(e.row.Path, text, s.kit(), m.opt.Now())
	}
	return plain
}

// typed works the text into the card, so that every keystroke re-computes the flight.
func (m *model) typed() {
	s, e := m.card(), &m.edit
	text := m.plainly(e.line.String())
	if e.row.InBag {
		m.typedBag(text)
		return
	}
	was, _ := e.base.Holds(e.row.Path)
	if text == was {
		e.fault = ""
		s.try(e.base)
		return
	}
	c, faults := e.base.Set(e.row.Path, text)
	if c == nil {
		e.fault, e.allowed = "not a value for this field", ""
		if len(faults) > 0 {
			e.fault, e.allowed = "found "+faults[0].Found+"; allowed: "+faults[0].Allowed, faults[0].Allowed
		}
		return
	}
	e.fault = ""
	s.try(c)
}

// commitEdit keeps what was typed. A text that cannot stand there keeps the field open.
func (m *model) commitEdit() bool {
	if !m.edit.on {
		return true
	}
	m.typed()
	if m.edit.fault != "" {
		return false
	}
	m.settle()
	was := m.edit
	m.edit = edit{}
	m.say(was.said)
	m.changed()
	m.moved(&was)
	return true
}

// moved minds the place when it was typed.
func (m *model) moved(e *edit) {
	if s := m.card(); !e.row.InBag && shot.IsPlace(e.row.Path) {
		where.Moved(m, where.Move{From: e.base, To: s.current, Now: s.begunNow()})
	}
}

// paste takes what is pasted while no field is open: a place, where the cursor is on one; on the page on which a filter is
// measured a picture, which a terminal pastes when a file is dropped on it.
func (m *model) paste(text []rune) {
	if m.here() == inMeasuring && !m.ask.on && !m.list.On && !m.kept.on {
		m.views.filters.Page().Give(m, string(text))
		return
	}
	_, err := place.Parse(string(text))
	if r := m.field(); errors.Is(err, place.ErrShape) || m.view != viewShot || !shot.IsPlace(r.Path) || m.ask.on || m.list.On || m.kept.on {
		m.say("Enter opens a field to paste into")
		return
	}
	if m.editHere(); m.edit.on {
		m.edit.line.Insert(text)
		m.typed()
	}
}

// settle makes what was typed a step of undo.
func (m *model) settle() {
	s := m.card()
	if !m.edit.row.InBag {
		s.settle(m.edit.base)
		return
	}
	cards := len(s.past)
	if m.edit.base != nil {
		s.settle(m.edit.base) // changed where it names a filter that was renamed
	}
	s.bag.settle(m.edit.bag)
	s.future = nil
	if len(s.past) > cards { // one change of both, one step
		s.past[cards].n = s.bag.changes
	}
}

// abandon goes back to what was there before typing.
func (m *model) abandon() (kept bool) {
	s := m.card()
	if !m.edit.row.InBag {
		return s.abandon(m.edit.base)
	}
	card := m.edit.base != nil && s.abandon(m.edit.base)
	if kept = s.bag.abandon(m.edit.bag); kept && card {
		s.future[0].n = s.bag.changes
	}
	m.bagChanged()
	return kept
}

// faultLine gives the fault that is shown under the field, in few columns: of the text itself, or of
// the card that it makes.
func (m *model) faultLine() string {
	switch {
	case !m.edit.on:
		return ""
	case m.edit.fault != "" && m.edit.allowed != "":
		return m.edit.allowed
	case m.edit.fault != "":
		return m.edit.fault
	}
	return m.askedAt(m.edit.row)
}

// firstAsked says what is wrong with the card or missing in it, the first of all; "" for nothing.
func (m *model) firstAsked() string {
	if len(m.calc.faults) == 0 || m.card().current == nil {
		return ""
	}
	return m.card().current.Ask(m.calc.faults[0], fields.Label)
}

// askedAt says what is wrong with one field, or missing there.
func (m *model) askedAt(r panel.Row) string {
	for _, f := range m.calc.faults {
		if m.card().current == nil {
			break
		}
		if f.Field == r.Path || strings.HasPrefix(f.Field, r.Path+"[") || f.Field+".distance_m" == r.Path {
			return m.card().current.Ask(f, fields.Label)
		}
	}
	return ""
}

// isWrong tells whether something is wrong with the field at a path.
func (m *model) isWrong(path string) bool { return m.askedAt(panel.Row{Path: path}) != "" }

// askedOfLeg says what is wrong with a leg, or missing there.
func (m *model) askedOfLeg(leg int) string {
	path := shot.LegPath(leg, "")
	for _, f := range m.calc.faults {
		if m.card().current == nil {
			break
		}
		if f.Field == path || strings.HasPrefix(f.Field, path+".") {
			return m.card().current.Ask(f, fields.Label)
		}
	}
	return ""
}

// leaveEdit backs out of a field. What was typed is not thrown away: redo brings it back.
func (m *model) leaveEdit() {
	typed := strings.TrimSpace(m.edit.line.String())
	if m.abandon() {
		m.say("as before; Ctrl-R brings " + cells.Cut(typed, 24) + " back")
	} else {
		m.say("")
	}
	m.edit = edit{}
	m.changed()
}
