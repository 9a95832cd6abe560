package field

import (
	"fmt"
	"strings"
)

// Walk calls visit for every row of a table below its root, parents first. The path of a list's
// item ends in "[]": "legs[].target.distance_m".
func Walk(spec *Spec, visit func(path string, s *Spec)) { walk(spec, "", visit) }

func walk(s *Spec, path string, visit func(path string, s *Spec)) {
	for i := range s.Fields {
		f := &s.Fields[i]
		at := f.Key
		if path != "" {
			at = path + "." + f.Key
		}
		visit(at, f)
		walk(f, at, visit)
	}
	if s.Kind == List && s.Item != nil {
		if s.Item.Kind != Map {
			visit(path+"[]", s.Item)
		}
		walk(s.Item, path+"[]", visit)
	}
}

// Reference prints the table as Markdown, for the documentation: one line a field.
func Reference(spec *Spec) string {
	var b strings.Builder
	b.WriteString("| field | allowed | default | meaning |\n| --- | --- | --- | --- |\n")
	Walk(spec, func(path string, s *Spec) {
		fallback := s.Default
		if s.Required {
			fallback = "required"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", path, cell(s.Summary()), cell(fallback), cell(s.Help))
	})
	return b.String()
}

// Summary is Allowed, without the rows of what a map or a list of maps holds: they have their own
// lines in the reference.
func (s *Spec) Summary() string {
	switch {
	case s.Kind == Map:
		return "a map"
	case s.Kind == List && s.Item.Kind == Map:
		if s.countText() == "" {
			return "a list of maps"
		}
		return "a list" + s.countText() + " maps"
	case s.Kind == Word && len(s.Words) > 0:
		return strings.Join(s.Words, ", ")
	}
	return s.Allowed()
}

func cell(text string) string { return strings.ReplaceAll(text, "|", `\|`) }
