package field

// suggest says what an unknown key was probably meant to be: a key of this map, or one that
// belongs elsewhere in the document; "" when nothing comes near.
func suggest(key string, here, root *Spec) string {
	keys := make([]string, len(here.Fields))
	for i := range here.Fields {
		keys[i] = here.Fields[i].Key
	}
	if w := Nearest(key, keys); w != "" {
		return w
	}
	elsewhere := ""
	Walk(root, func(path string, s *Spec) {
		if s.Key == key && elsewhere == "" {
			elsewhere = path
		}
	})
	return elsewhere
}
