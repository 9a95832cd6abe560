package tui

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/skywedge/tui/fields"
	"example.org/skywedge/tui/find"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// places lists what can be gone to: the fields of the card and of its legs, the filters of the bag, the cards, the
// keys.
func (m *model) places() (out []find.Item) {
	s := m.card()
	here := func(f func()) func() tea.Cmd { return func() tea.Cmd { f(); return nil } }
	none := func(string) bool { return false }
	add := func(r panel.Row, name string) {
		if r.Heading {
			return
		}
		text, _ := s.shown(r)
		if text != "" {
			text = panel.Pretty(text, r.Spec)
		}
		out = append(out, find.Item{Lead: "field", Text: name, Note: text, Go: here(func() { m.goToField(r.Path) })})
	}
	if s.current != nil {
		for _, r := range fields.OfCard(s.current, m.leg, true, none) {
			if !strings.HasPrefix(r.Path, "legs[") {
				add(r, r.Label)
			}
		}
		for leg := range s.legs() {
			for _, r := range fields.OfLeg(s.current, leg, true, none) {
				add(r, fmt.Sprintf("%s, leg %d", r.Label, leg+1))
			}
		}
	}
	if bag := s.kit(); bag != nil && bag.Doc != nil {
		for i, part := range bag.Parts() {
			note := part.Kind + " of the bag"
			if part.Kind == "filter" && i < len(bag.Filters) {
				note = string(bag.Filters[i].Kind)
			}
			out = append(out, find.Item{Lead: part.Kind, Text: part.Name, Note: note, Go: here(func() {
				m.show(viewFilters)
				m.views.filters.OpenAt(m, i)
			})})
		}
	}
	for i, c := range m.cards {
		out = append(out, find.Item{Lead: "card", Text: c.name(), Note: filepath.Base(c.file), Go: here(func() { m.showCard(i) })})
	}
	for i := range m.table.rows {
		b := &m.table.rows[i]
		out = append(out, find.Item{Lead: "key", Text: b.shown + "  " + b.help, Note: m.whereIs(b), Go: here(func() { m.goToKey(b) })})
	}
	return out
}

// goToKey goes where a key works, and says what it does there; the digits show their views.
func (m *model) goToKey(b *binding) {
	for _, v := range m.views.existing() {
		if b.keys == fmt.Sprint(v+1) || v != viewShot && b.where == inView(v) {
			m.show(v)
		}
	}
	if b.where&inViews == 0 {
		for pane := range paneCount {
			if b.where&inPanes != 0 && b.where&(inShot<<pane) != 0 {
				m.show(viewShot)
				m.focus = pane
				m.clampCursors()
				break
			}
		}
	}
	m.say(b.shown + ": " + b.help)
}

// whereIs says where a key works.
func (m *model) whereIs(b *binding) string {
	switch {
	case b.where.all():
		return "everywhere"
	case b.where&inEdit != 0:
		return "while typing"
	case b.where == inClock:
		return "while a take-off is kept"
	case b.where == inTour:
		return "on the tour"
	case b.where == inBag:
		return "the bag"
	case b.where == inMeasuring:
		return "measuring, in view 3"
	case b.where&inPanes != 0:
		for pane := range paneCount {
			if b.where&(inShot<<pane) != 0 {
				return lower(paneTitle[pane])
			}
		}
	}
	for _, v := range m.views.existing() {
		if v != viewShot && b.where == inView(v) {
			return lower(m.views.name(v))
		}
	}
	return ""
}
