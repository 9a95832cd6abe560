package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	tea "github.com/charmbracelet/bubbletea"
)

// bagState is what the pane of a filter's fields keeps.
type bagState struct {
	open   bool
	at     int // the filter, by its place in the bag
	cursor int // the line
	scroll int
	more   bool
}

// bagCols is how wide the pane is beside all else, in windows from a width on; in others it stands in the
// place of the words about the filter.
const bagCols, bagBesideFrom = 44, 150

func bagKeys() []binding {
	return []binding{
		{"e", "e", inFilters, "edit", "edit the fields of the chosen filter in the bag", 6, do(func(m *model) { m.bagOpen() })},
		{"up k", "Up k", inBag, "", "to the line above", 0, do(func(m *model) { m.bagMove(-1) })},
		{"down j", "Down j", inBag, "", "to the line below", 0, do(func(m *model) { m.bagMove(1) })},
		{"home g", "Home g", inBag, "", "to the first line", 0, do(func(m *model) { m.bagMove(-1000) })},
		{"end G", "End G", inBag, "", "to the last line", 0, do(func(m *model) { m.bagMove(1000) })},
		{"left h", "Left h", inBag, "", "to the filter before, in the order of the bag", 0, do(func(m *model) { m.bagTurn(-1) })},
		{"right l", "Right l", inBag, "filter", "to the next filter of the bag", 4, do(func(m *model) { m.bagTurn(1) })},
		{"enter", "Enter", inBag, "edit", "edit the field", 10, do(func(m *model) { m.bagEdit() })},
		{"+ =", "+", inBag, "nudge", "one step up, or the next word", 7, do(func(m *model) { m.bagNudge(1) })},
		{"- _", "-", inBag, "", "one step down, or the word before", 0, do(func(m *model) { m.bagNudge(-1) })},
		{"pgup", "PgUp", inBag, "", "five steps up", 0, do(func(m *model) { m.bagNudge(5) })},
		{"pgdown", "PgDn", inBag, "", "five steps down", 0, do(func(m *model) { m.bagNudge(-5) })},
		{"delete backspace", "Del", inBag, "", "put the field back to its default", 0, do(func(m *model) { m.bagDefault() })},
		{"m", "m", inBag, "more", "show or fold the other fields", 3, do(func(m *model) { m.bagStay(func() { m.bag.more = !m.bag.more }) })},
		{"a", "a", inBag, "add", "add a filter after this one", 4, do(func(m *model) { m.bagAdd() })},
		{"d", "d", inBag, "double", "duplicate this filter", 2, do(func(m *model) { m.bagDouble() })},
		{"x", "x", inBag, "delete", "take this filter out of the bag; asks", 3, do(func(m *model) { m.bagAskRemove() })},
		{"tab shift+tab e", "Tab e", inBag, "back", "back to all the filters", 9, do(func(m *model) { m.bagClose() })},
	}
}

// bagOpen shows the fields of the chosen filter.
func (m *model) bagOpen() {
	s := m.card()
	if s.bag == nil || s.kit() == nil || s.kit().Doc == nil {
		m.say("this bag cannot be edited here")
		return
	}
	m.bag.open, m.filters.pane = true, filtersOne
	m.bag.at = m.bagPicked()
	m.bagMove(0)
	m.bagPick()
	if n := len(s.kit().Filters); n == 0 {
		m.say("the bag has no filters; a adds one")
	}
	m.card().bag.offer(m)
}

func (m *model) bagClose() { m.bag.open, m.filters.pane = false, filtersAll }

func (m *model) bagRow() row {
	if rows := m.bagRows(); m.bag.cursor >= 0 && m.bag.cursor < len(rows) {
		return rows[m.bag.cursor]
	}
	return row{}
}

func (m *model) bagMove(by int) {
	if n := len(m.card().kit().Filters); m.bag.at >= n {
		m.bag.at = max(0, n-1)
	}
	m.bag.cursor = max(0, min(m.bag.cursor+by, len(m.bagRows())-1))
}

// bagTurn goes to another filter and stays on the same field where it has that too.
func (m *model) bagTurn(by int) {
	n := len(m.card().kit().Filters)
	if n == 0 {
		return
	}
	m.bagStay(func() { m.bag.at = (m.bag.at + by + n) % n })
	m.bagPick()
}

// bagStay keeps the cursor on its field while the lines change, where that field is still there.
func (m *model) bagStay(change func()) {
	was := m.bagRow()
	change()
	for i, r := range m.bagRows() {
		if was.spec != nil && r.spec.Key == was.spec.Key {
			m.bag.cursor = i
		}
	}
	m.bagMove(0)
}

func (m *model) bagEdit() {
	r := m.bagRow()
	if r.spec == nil {
		return
	}
	text, isDefault := m.card().shown(r)
	if isDefault {
		text = ""
	}
	m.edit = edit{on: true, row: r, line: newLine(text), base: m.card().current, bag: m.card().kit()}
	m.say("")
}

// typedBag works the text into the bag, so that every keystroke re-computes the flight.
func (m *model) typedBag(text string) {
	s, e := m.card(), &m.edit
	was := e.bag.Doc.At(e.row.path).Text()
	if text == was {
		e.fault = ""
		s.current = e.base
		s.check()
		s.bag.try(e.bag)
		m.bagChanged()
		return
	}
	b, faults := e.bag.SetFilter(m.bag.at, e.row.spec.Key, text)
	if b == nil {
		e.fault, e.allowed = "not a value for this field", ""
		if len(faults) > 0 {
			e.fault, e.allowed = bagFault(faults, e.row), faults[0].Allowed
		}
		return
	}
	e.fault = ""
	s.bag.try(b)
	s.current = e.base
	if c := m.renamed(e, text); c != nil {
		s.try(c)
	} else {
		s.check()
	}
	m.bagChanged()
}

// renamed gives the card with the new name of its filter, where the name of that one is being typed; nil
// when the card names another one or none.
func (m *model) renamed(e *edit, name string) *shot.Card {
	if e.row.spec.Key != "name" || e.base == nil {
		return nil
	}
	was := e.bag.Doc.At(e.row.path).Text()
	if e.base.Doc.At("filter").Text() != was {
		return nil
	}
	c, _ := e.base.Set("filter", name)
	return c
}

// bagFault words what is wrong; where it is another field that no longer fits, by that field's name.
func bagFault(faults field.Faults, r row) string {
	f := faults[0]
	text := "found " + f.Found + "; allowed: " + f.Allowed
	if f.Field != r.path && f.Field != "" {
		text = filterLabel(f.Field[strings.LastIndexByte(f.Field, '.')+1:]) + ": " + text
	}
	return text
}

// bagSet changes a field in one step.
func (m *model) bagSet(r row, text string) {
	b, faults := m.card().kit().SetFilter(m.bag.at, r.spec.Key, text)
	if b == nil {
		if len(faults) > 0 {
			m.say(bagFault(faults, r))
		}
		return
	}
	m.putBag(b, r.path)
	m.bagMove(0)
	m.say("")
}

func (m *model) bagNudge(n int) {
	r := m.bagRow()
	if r.spec == nil {
		return
	}
	next, ok := m.nudged(r, m.card().kit().Doc.At(r.path).Text(), n)
	if !ok {
		m.say("Enter edits this field")
		return
	}
	m.bagSet(r, next)
}

func (m *model) bagDefault() {
	r := m.bagRow()
	switch {
	case r.spec == nil || !m.card().kit().Doc.At(r.path).Exists():
	case r.spec.Required:
		m.say("this field is needed; Enter edits it")
	default:
		m.bagSet(r, "")
	}
}

// bagChange puts a bag with a filter more or less, and goes to a filter.
func (m *model) bagChange(b *kit.Bag, faults field.Faults, at int, said string) {
	if b == nil || len(faults) > 0 {
		m.say("that does not fit: " + faults.Error())
		return
	}
	m.putBag(b, "")
	m.bag.at, m.bag.cursor = at, 0
	m.bagMove(0)
	m.bagPick()
	m.say(said)
}

func (m *model) bagAdd() {
	b := m.card().kit()
	at := min(m.bag.at+1, len(b.Filters))
	next, faults := b.AddFilter(at)
	m.bagChange(next, faults, at, "a new filter: set its name, kind and stops")
}

func (m *model) bagDouble() {
	if b := m.card().kit(); m.bag.at < len(b.Filters) {
		next, faults := b.DoubleFilter(m.bag.at)
		m.bagChange(next, faults, m.bag.at+1, "")
	}
}

func (m *model) bagAskRemove() {
	b := m.card().kit()
	if m.bag.at >= len(b.Filters) {
		return
	}
	at := m.bag.at
	m.ask = question{on: true, text: fmt.Sprintf("Take %s out of the bag?", b.Filters[at].Name), esc: "keep it",
		choices: []choice{{"y", "take it out", func(m *model) tea.Cmd {
			next, faults := b.RemoveFilter(at)
			m.bagChange(next, faults, max(0, min(at, len(b.Filters)-2)), "out of the bag; u brings it back")
			return nil
		}}}}
}

// bagPicked gives the filter that is chosen among all of them, by its place in the bag.
// The bare lens has no fields: the filter looked at before, then.
func (m *model) bagPicked() int {
	if at := m.filtersAt(); at >= 0 {
		if i := m.bagPlace(m.filters.got.list[at].Filter); i != bareLens {
			return i
		}
	}
	return m.bag.at
}

// bagPick chooses the filter whose fields are shown among all of them.
func (m *model) bagPick() { m.filters.pick, m.filters.moved, m.filters.scroll = m.bag.at, true, 0 }
