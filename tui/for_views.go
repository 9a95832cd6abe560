package tui

import (
	"slices"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/line"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// The model is the bench that the views work at. What it tells and does for them is all here, so that nothing
// of the open documents is known to a view.
var _ panel.Bench = (*model)(nil)

// Room implements [panel.Known].
func (m *model) Room() panel.Room {
	return panel.Room{Kind: m.screen.kind, Cols: m.screen.body.W, Rows: m.screen.body.H}
}

// Pen implements [panel.Known].
func (m *model) Pen() *cells.Pen { return m.screen.pen }

// Report implements [panel.Known].
func (m *model) Report() *plan.Report { return m.calc.report }

// BaseReport implements [panel.Known].
func (m *model) BaseReport() *plan.Report { return m.calc.base }

// Stale implements [panel.Known].
func (m *model) Stale() bool { return m.stale() }

// Second implements [panel.Known].
func (m *model) Second() float64 { return m.second }

// CardKey implements [panel.Known].
func (m *model) CardKey() any { return m.card() }

// Cards implements [panel.Known].
func (m *model) Cards() []panel.OpenCard {
	list := make([]panel.OpenCard, len(m.cards))
	for i, o := range m.cards {
		list[i] = panel.OpenCard{Key: o, File: o.file, Name: o.name(), Card: o.current, Bag: o.kit()}
	}
	return list
}

// CardText implements [panel.Known].
func (m *model) CardText(path string) string { return m.card().text(path) }

// Bag implements [panel.Known].
func (m *model) Bag() *kit.Bag { return m.card().kit() }

// BagFile implements [panel.Known].
func (m *model) BagFile() (exists, unsaved bool) {
	b := m.card().bag
	return !b.fileless, b.unsaved
}

// Typing implements [panel.Known].
func (m *model) Typing() panel.Typing {
	return panel.Typing{On: m.edit.on, Draw: m.edit.line.Draw, Fault: m.faultLine(), Said: m.edit.said}
}

// Say implements [panel.Bench].
func (m *model) Say(text string) { m.say(text) }

// PlayTo implements [panel.Bench].
func (m *model) PlayTo(second float64) { m.playTo(second) }

// Log implements [panel.Bench].
func (m *model) Log(text string) { m.log(text) }

// InBackground implements [panel.Bench].
func (m *model) InBackground(what string, work func() tea.Msg, broke func(said string) tea.Msg) tea.Cmd {
	return m.inBackground(what, work, broke)
}

// Later implements [panel.Bench].
func (m *model) Later(after time.Duration, msg tea.Msg) tea.Cmd {
	if m.sureAfter == 0 { // nothing waits in a test without a terminal
		return nil
	}
	return tea.Tick(after, func(time.Time) tea.Msg { return msg })
}

// MayEditCard implements [panel.Bench].
func (m *model) MayEditCard() bool { return m.mayEdit() }

// SetCard implements [panel.Bench].
func (m *model) SetCard(changes ...panel.Change) bool {
	return m.mayEdit() && m.setCard(m.card(), changes)
}

// SetCardOf implements [panel.Bench].
func (m *model) SetCardOf(key any, changes ...panel.Change) bool {
	s, ok := key.(*openCard)
	if !ok || s.current == nil || !slices.Contains(m.cards, s) {
		return false
	}
	if s.readOnly != "" {
		m.say(s.readOnly)
		return false
	}
	return m.setCard(s, changes)
}

func (m *model) setCard(s *openCard, changes []panel.Change) bool {
	card := s.current
	for _, c := range changes {
		next, faults := card.Set(c.Path, c.Text)
		if next == nil {
			if len(faults) > 0 {
				m.say("found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
			}
			return false
		}
		card = next
	}
	s.put(card, "", m.opt.Now())
	m.changed()
	return true
}

// EditCard implements [panel.Bench].
func (m *model) EditCard(edit func(c *shot.Card) (*shot.Card, field.Faults)) bool {
	if !m.mayEdit() {
		return false
	}
	card, faults := edit(m.card().current)
	if card == nil {
		if len(faults) > 0 {
			m.say("found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
		}
		return false
	}
	m.card().put(card, "", m.opt.Now())
	m.changed()
	return true
}

// Now implements [panel.Bench].
func (m *model) Now() time.Time { return m.opt.Now() }

// NudgeCard implements [panel.Bench].
func (m *model) NudgeCard(path string, n int) {
	s := m.card()
	if !m.mayEdit() {
		return
	}
	if next, _ := s.current.Nudge(path, n, s.kit()); next != nil && next != s.current {
		s.put(next, path, m.opt.Now())
		m.changed()
	}
}

// ShowCard implements [panel.Bench].
func (m *model) ShowCard(key any) {
	if i := slices.IndexFunc(m.cards, func(o *openCard) bool { return any(o) == key }); i >= 0 {
		m.showCard(i)
	}
}

// ShowShot implements [panel.Bench].
func (m *model) ShowShot() { m.show(viewShot) }

// MayEditBag implements [panel.Bench].
func (m *model) MayEditBag() bool {
	s := m.card()
	if s.bag == nil || s.kit() == nil || s.kit().Doc == nil {
		m.say("this bag cannot be edited here")
		return false
	}
	if s.bag.readOnly != "" {
		m.say(s.bag.readOnly)
		return false
	}
	return true
}

// SetBag implements [panel.Bench].
func (m *model) SetBag(b *kit.Bag, path string) { m.putBag(b, path) }

// SaveBag implements [panel.Bench].
func (m *model) SaveBag() { m.card().bag.save(m) }

// Nudged implements [panel.Bench].
func (m *model) Nudged(r panel.Row, n int) (string, bool) {
	return m.nudged(r, m.card().kit().Doc.At(r.Path).Text(), n)
}

// Edit implements [panel.Bench].
func (m *model) Edit(r panel.Row, text string) {
	if !m.MayEditBag() {
		return
	}
	s := m.card()
	m.edit = edit{on: true, row: r, line: line.New(text), base: s.current, bag: s.kit()}
	m.say("")
}

// Confirm implements [panel.Bench].
func (m *model) Confirm(text, yes, esc string, do func(b panel.Bench)) {
	m.Ask(panel.Question{Text: text, Choices: []panel.Choice{{Key: "y", Words: yes, Do: do}}, Esc: esc})
}

// Ask implements [panel.Bench].
func (m *model) Ask(q panel.Question) {
	m.ask = question{on: true, text: q.Text, esc: q.Esc, then: q.Then}
	if q.Enter != nil {
		m.ask.input, m.ask.line, m.ask.verb, m.ask.help = true, line.New(q.Begin), q.Verb, q.Help
		m.ask.enter = func(m *model, text string) { q.Enter(m, text) }
	}
	for _, c := range q.Choices {
		m.ask.choices = append(m.ask.choices, choice{c.Key, c.Words, func(m *model) tea.Cmd { c.Do(m); return nil }})
	}
}
