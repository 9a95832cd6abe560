package tui

import (
	"strings"

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
	b, faults := e.bag.Set(e.row.Path, text)
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

// renamed returns the card with the new name of its filter, its camera or a mode of that, where the name of that one
// is being typed; nil when the card does not name it.
func (m *model) renamed(e *edit, name string) *shot.Card {
	if e.row.Spec.Key != "name" || e.base == nil {
		return nil
	}
	was := e.bag.Doc.At(e.row.Path).Text()
	named := func(path string) bool { return e.base.Doc.At(path).Text() == was }
	var paths []string
	switch camera, _, isMode := strings.Cut(e.row.Path, ".modes["); {
	case strings.HasPrefix(e.row.Path, "filters["):
		paths = []string{"filter"}
	case !isMode:
		paths = []string{"camera"}
	case e.base.Doc.At("camera").Text() == e.bag.Doc.At(camera+".name").Text():
		paths = []string{"mode"}
		for leg := range e.base.Doc.At("legs").Len() {
			paths = append(paths, shot.LegPath(leg, "mode"))
		}
	}
	var next *shot.Card
	for _, path := range paths {
		if !named(path) {
			continue
		}
		from := next
		if from == nil {
			from = e.base
		}
		if c, _ := from.Set(path, name); c != nil {
			next = c
		}
	}
	return next
}
