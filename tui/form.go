package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/panel"
)

// specFor finds a key among the fields of a map.
func specFor(s *field.Spec, key string) *field.Spec {
	for i := range s.Fields {
		if s.Fields[i].Key == key {
			return &s.Fields[i]
		}
	}
	return nil
}

// legSpec is the table of a leg's fields.
func legSpec() *field.Spec { return specFor(shot.CardSpec(), "legs").Item }

// firstOnCard are the fields of the form that are never folded: four of them are enough for an
// answer. "heading" is that of the leg the cursor is on.
var firstOnCard = []string{"place.lat", "place.lon", "take_off", "purpose", "heading", "aim", "camera", "name"}

// shotRows returns the lines of the shot's form.
func shotRows(leg int, more bool) []panel.Row {
	var rows []panel.Row
	first := map[string]bool{}
	for _, p := range firstOnCard {
		first[p] = true
		if p == "heading" {
			rows = append(rows, panel.Row{Path: shot.LegPath(leg, "heading_deg"), Spec: specFor(legSpec(), "heading_deg"), Label: fmt.Sprintf("heading, leg %d", leg+1)})
			continue
		}
		s := shot.CardSpec()
		for _, k := range strings.Split(p, ".") {
			if s = specFor(s, k); s == nil {
				break
			}
		}
		if s != nil {
			rows = append(rows, panel.Row{Path: p, Spec: s, Label: panel.Label(s.Key)})
		}
	}
	if !more {
		return rows
	}
	var groups []panel.Row
	for i := range shot.CardSpec().Fields {
		s := &shot.CardSpec().Fields[i]
		switch {
		case s.Key == "skywedge" || first[s.Key]:
		case s.Kind == field.Map:
			g := scalarRows(s, s.Key, first)
			if len(g) > 0 {
				groups = append(groups, panel.Row{Heading: true, Label: panel.Label(s.Key)})
				groups = append(groups, g...)
			}
		case scalar(s):
			rows = append(rows, panel.Row{Path: s.Key, Spec: s, Label: panel.Label(s.Key)})
		}
	}
	return append(rows, groups...)
}

func scalar(s *field.Spec) bool {
	return s.Kind != field.Map && s.Kind != field.List && s.Kind != field.Pairs
}

func scalarRows(s *field.Spec, path string, skip map[string]bool) []panel.Row {
	var rows []panel.Row
	for i := range s.Fields {
		f := &s.Fields[i]
		if p := path + "." + f.Key; scalar(f) && !skip[p] {
			rows = append(rows, panel.Row{Path: p, Spec: f, Label: panel.Label(f.Key)})
		}
	}
	return rows
}

// legRows returns the lines of one leg's form. Folded, it has what its move needs.
func legRows(leg int, more bool) []panel.Row {
	base := shot.LegPath(leg, "")
	var rows, groups []panel.Row
	s := legSpec()
	for i := range s.Fields {
		f := &s.Fields[i]
		switch {
		case f.Kind == field.Map && more:
			groups = append(groups, panel.Row{Heading: true, Label: panel.Label(f.Key)})
			groups = append(groups, scalarRows(f, base+"."+f.Key, nil)...)
		case scalar(f) && (more || !f.More):
			rows = append(rows, panel.Row{Path: base + "." + f.Key, Spec: f, Label: panel.Label(f.Key)})
		}
	}
	return append(rows, groups...)
}

// shown returns what stands in a field and whether it is only the default, or the card's for all legs.
func (o *openCard) shown(r panel.Row) (text string, isDefault bool) {
	if o.current == nil {
		return r.Spec.Default, true
	}
	text, written := o.current.Holds(r.Path)
	return text, !written
}

// allowed says in a few words what may stand in a field.
func (o *openCard) allowed(r panel.Row) string {
	if len(r.Spec.Words) == 0 && !r.Filter && o.current != nil {
		if w := o.current.Choices(r.Path, o.kit()); len(w) > 0 {
			return strings.Join(w, ", ")
		}
	}
	return r.Spec.Allowed()
}
