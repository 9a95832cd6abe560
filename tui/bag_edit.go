package tui

import (
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/filters"
)

// typedBag works the text into the bag, so that every keystroke re-computes the flight.
func (m *model) typedBag(text string) {
	s, e := m.card(), &m.edit
	was := e.bag.Doc.At(e.row.Path).Text()
	if text == was {
		e.fault = ""
		s.current = e.base
		s.check()
		s.bag.try(e.bag)
		m.bagChanged()
		return
	}
	b, faults := e.bag.SetFilter(e.row.FilterAt, e.row.Spec.Key, text)
	if b == nil {
		e.fault, e.allowed = "not a value for this field", ""
		if len(faults) > 0 {
			e.fault, e.allowed = filters.Fault(faults, e.row), faults[0].Allowed
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

// renamed returns the card with the new name of its filter, where the name of that one is being typed; nil
// when the card names another one or none.
func (m *model) renamed(e *edit, name string) *shot.Card {
	if e.row.Spec.Key != "name" || e.base == nil {
		return nil
	}
	was := e.bag.Doc.At(e.row.Path).Text()
	if e.base.Doc.At("filter").Text() != was {
		return nil
	}
	c, _ := e.base.Set("filter", name)
	return c
}
