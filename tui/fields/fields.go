// Package fields says which lines the forms of a card have. A leg's form follows its move: it has what the move
// needs, and what is written, and nothing that would be refused.
package fields

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/panel"
)

// under finds a key among the fields of a map.
func under(s *field.Spec, key string) *field.Spec {
	if s == nil {
		return nil
	}
	for i := range s.Fields {
		if s.Fields[i].Key == key {
			return &s.Fields[i]
		}
	}
	return nil
}

// legTable is the table of a leg's fields.
var legTable = under(shot.CardSpec(), "legs").Item

// Leg returns the line of a leg's field.
func Leg(card *shot.Card, leg int, key string) panel.Row {
	s := legTable
	for k := range strings.SplitSeq(key, ".") {
		s = under(s, k)
	}
	r := panel.Row{Path: shot.LegPath(leg, key), Spec: s, Label: Label(key)}
	if card != nil {
		_, _, r.Fixed = card.Shows(r.Path)
	}
	return r
}

// Label returns the name of a card's field for people, by its path. A subject has fields of the names that its leg has
// too.
func Label(path string) string {
	switch {
	case strings.HasSuffix(path, "target.distance_m"):
		return "subject away"
	case strings.HasSuffix(path, "target.speed_ms"):
		return "subject speed"
	case strings.HasSuffix(path, "target.toward_deg"):
		return "subject goes"
	case strings.HasSuffix(path, "target.height_m"):
		return "subject height"
	}
	return panel.Label(path[strings.LastIndexByte(path, '.')+1:])
}

// first are the fields of the card's form that are never folded: four of them are enough for an answer. "heading" is
// that of the leg the cursor is on.
var first = []string{"place.lat", "place.lon", "place.zone", "take_off", "purpose", "heading", "aim", "camera", "name"}

// OfCard returns the lines of the card's form. Folded, it has the first ones, and those that something is wrong with.
func OfCard(card *shot.Card, leg int, more bool, wrong func(path string) bool) []panel.Row {
	var rows, groups []panel.Row
	for _, p := range first {
		if p == "heading" {
			r := Leg(card, leg, "heading_deg")
			r.Label = fmt.Sprintf("heading, leg %d", leg+1)
			rows = append(rows, r)
			continue
		}
		s := shot.CardSpec()
		for k := range strings.SplitSeq(p, ".") {
			s = under(s, k)
		}
		if s != nil {
			rows = append(rows, panel.Row{Path: p, Spec: s, Label: panel.Label(s.Key)})
		}
	}
	shown := func(path string) bool { return !slices.Contains(first, path) && (more || wrong(path)) }
	for i := range shot.CardSpec().Fields {
		s := &shot.CardSpec().Fields[i]
		switch {
		case s.Key == "skywedge":
		case s.Kind == field.Map:
			var group []panel.Row
			for k := range s.Fields {
				f := &s.Fields[k]
				if p := s.Key + "." + f.Key; scalar(f) && shown(p) {
					group = append(group, panel.Row{Path: p, Spec: f, Label: panel.Label(f.Key)})
				}
			}
			if len(group) > 0 {
				groups = append(groups, panel.Row{Heading: true, Label: panel.Label(s.Key)})
				groups = append(groups, group...)
			}
		case scalar(s) && shown(s.Key):
			rows = append(rows, panel.Row{Path: s.Key, Spec: s, Label: panel.Label(s.Key)})
		}
	}
	return append(rows, groups...)
}

func scalar(s *field.Spec) bool {
	return s.Kind != field.Map && s.Kind != field.List && s.Kind != field.Pairs
}

// OfLeg returns the lines of one leg's form.
func OfLeg(card *shot.Card, leg int, more bool, wrong func(path string) bool) []panel.Row {
	var rows []panel.Row
	add := func(key string) {
		r := Leg(card, leg, key)
		folded, means, _ := card.Shows(r.Path)
		if folded || more && means || wrong(r.Path) {
			rows = append(rows, r)
		}
	}
	for i := range legTable.Fields {
		f := &legTable.Fields[i]
		switch {
		case f.Kind == field.Map:
			for k := range f.Fields {
				add(f.Key + "." + f.Fields[k].Key)
			}
		case scalar(f):
			add(f.Key)
		}
	}
	return rows
}

// Fixed says why nothing can be typed into a field that others say.
func Fixed(card *shot.Card, leg int, key string) string {
	switch move := shot.Move(card.Doc.At(shot.LegPath(leg, "move")).Text()); {
	case move == shot.Orbit:
		return "an orbit's speed follows from how far the subject is, the headings and the seconds"
	case move == shot.Follow:
		return "a follow has the speed and the course of its subject"
	case move == shot.Rise:
		return "the speed of a rise follows from its heights and seconds"
	case key == "speed_ms":
		return fmt.Sprintf("a %s goes nowhere, unless it gets a course (m shows it)", move)
	}
	return "other fields say this one"
}
