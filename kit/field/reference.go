package field

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
