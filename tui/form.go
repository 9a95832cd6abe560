package tui

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
)

// row is one line of a form: a field of the card, or a heading.
type row struct {
	path    string
	spec    *field.Spec
	label   string
	heading bool
	filter  bool // a field of a filter: it is the bag's and not the card's
}

// label gives a field's name for people. The unit stands behind the value, so it leaves the name.
func label(key string) string {
	switch key {
	case "lat":
		return "latitude"
	case "lon":
		return "longitude"
	case "take_off":
		return "take-off"
	case "ring_deg":
		return "ring mark"
	case "cloud_pct":
		return "cloud"
	case "fps":
		return "frames a s"
	case "shutter_angle_deg":
		return "shutter angle"
	case "to":
		return "slides to"
	case "wind_from_deg":
		return "wind from"
	}
	for _, unit := range []string{"_deg", "_ms", "_km", "_m", "_s", "_c"} {
		if s, ok := strings.CutSuffix(key, unit); ok {
			key = s
			break
		}
	}
	return strings.ReplaceAll(key, "_", " ")
}

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
func legSpec() *field.Spec { return specFor(shot.CardSpec, "legs").Item }

// firstOnCard are the fields of the form that are never folded: four of them are enough for an
// answer. "heading" is that of the leg the cursor is on.
var firstOnCard = []string{"place.lat", "place.lon", "take_off", "purpose", "heading", "aim", "camera", "name"}

// shotRows gives the lines of the shot's form.
func shotRows(leg int, more bool) []row {
	var rows []row
	first := map[string]bool{}
	for _, p := range firstOnCard {
		first[p] = true
		if p == "heading" {
			rows = append(rows, row{path: shot.LegPath(leg, "heading_deg"), spec: specFor(legSpec(), "heading_deg"), label: fmt.Sprintf("heading, leg %d", leg+1)})
			continue
		}
		s := shot.CardSpec
		for _, k := range strings.Split(p, ".") {
			if s = specFor(s, k); s == nil {
				break
			}
		}
		if s != nil {
			rows = append(rows, row{path: p, spec: s, label: label(s.Key)})
		}
	}
	if !more {
		return rows
	}
	var groups []row
	for i := range shot.CardSpec.Fields {
		s := &shot.CardSpec.Fields[i]
		switch {
		case s.Key == "skywedge" || first[s.Key]:
		case s.Kind == field.Map:
			g := scalarRows(s, s.Key, first)
			if len(g) > 0 {
				groups = append(groups, row{heading: true, label: label(s.Key)})
				groups = append(groups, g...)
			}
		case scalar(s):
			rows = append(rows, row{path: s.Key, spec: s, label: label(s.Key)})
		}
	}
	return append(rows, groups...)
}

func scalar(s *field.Spec) bool {
	return s.Kind != field.Map && s.Kind != field.List && s.Kind != field.Pairs
}

func scalarRows(s *field.Spec, path string, skip map[string]bool) []row {
	var rows []row
	for i := range s.Fields {
		f := &s.Fields[i]
		if p := path + "." + f.Key; scalar(f) && !skip[p] {
			rows = append(rows, row{path: p, spec: f, label: label(f.Key)})
		}
	}
	return rows
}

// legRows gives the lines of one leg's form. Folded, it has what its move needs.
func legRows(leg int, more bool) []row {
	base := shot.LegPath(leg, "")
	var rows, groups []row
	s := legSpec()
	for i := range s.Fields {
		f := &s.Fields[i]
		switch {
		case f.Kind == field.Map && more:
			groups = append(groups, row{heading: true, label: label(f.Key)})
			groups = append(groups, scalarRows(f, base+"."+f.Key, nil)...)
		case scalar(f) && (more || !f.More):
			rows = append(rows, row{path: base + "." + f.Key, spec: f, label: label(f.Key)})
		}
	}
	return append(rows, groups...)
}

// shown returns what stands in a field and whether it is only the default, or the card's for all legs.
func (o *openCard) shown(r row) (text string, isDefault bool) {
	switch {
	case r.filter:
		if t := o.kit().Doc.At(r.path).Text(); t != "" {
			return t, false
		}
	case o.current != nil:
		text, written := o.current.Holds(r.path)
		return text, !written
	}
	return r.spec.Default, true
}

// allowed says in a few words what may stand in a field.
func (o *openCard) allowed(r row) string {
	if len(r.spec.Words) == 0 && !r.filter && o.current != nil {
		if w := o.current.Choices(r.path, o.kit()); len(w) > 0 {
			return strings.Join(w, ", ")
		}
	}
	return r.spec.Allowed()
}
