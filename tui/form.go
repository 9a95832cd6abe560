package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
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
func legSpec() *field.Spec { return specFor(plan.CardSpec, "legs").Item }

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
			rows = append(rows, panel.Row{Path: fmt.Sprintf("legs[%d].heading_deg", leg), Spec: specFor(legSpec(), "heading_deg"), Label: fmt.Sprintf("heading, leg %d", leg+1)})
			continue
		}
		s := plan.CardSpec
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
	for i := range plan.CardSpec.Fields {
		s := &plan.CardSpec.Fields[i]
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
	base := fmt.Sprintf("legs[%d]", leg)
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

// words returns the words that may stand in a field: the table's, or the names in the bag.
func (s *sheet) words(path string, spec *field.Spec) []string {
	switch {
	case path == "camera":
		var names []string
		for _, c := range s.bag.Cameras {
			names = append(names, c.Name)
		}
		return names
	case path == "filter":
		names := []string{"auto", "none"}
		for _, f := range s.bag.Filters {
			names = append(names, f.Name)
		}
		return names
	case strings.HasSuffix(path, "mode"):
		if c, ok := s.bag.CameraByName(s.text("camera")); ok {
			var names []string
			for _, m := range c.Modes {
				names = append(names, m.Name)
			}
			return names
		}
	case spec.Kind == field.Bool:
		return []string{"false", "true"}
	}
	return spec.Words
}

// shown returns what stands in a field and whether it is only the default.
func (s *sheet) shown(r panel.Row) (text string, isDefault bool) {
	if t := s.text(r.Path); t != "" {
		return t, false
	}
	if i := strings.LastIndexByte(r.Path, '.'); i >= 0 && strings.HasPrefix(r.Path, "legs[") && r.Spec.Default == "" {
		key := r.Path[i+1:]
		if c := specFor(plan.CardSpec, key); c != nil && scalar(c) && strings.Count(r.Path, ".") == 1 { // the card's value holds on the leg
			if t := s.text(key); t != "" {
				return t, true
			}
			return c.Default, true
		}
	}
	return r.Spec.Default, true
}

// allowed says in a few words what may stand in a field.
func (s *sheet) allowed(r panel.Row) string {
	if w := s.words(r.Path, r.Spec); len(w) > 0 && len(r.Spec.Words) == 0 {
		return strings.Join(w, ", ")
	}
	return r.Spec.Allowed()
}
