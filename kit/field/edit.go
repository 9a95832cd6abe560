package field

// Set gives a new document with the scalar, pair or word at path replaced by what a person typed:
// "35", "35 50" or "35, 50" or "[35, 50]" (a pair), "1/50", "auto", "NW", "sun+90". Empty text
// removes the key, which brings its default back. Missing parent maps are made. Comments survive.
// Faults are those of the text against the table; the new Doc is nil then.
func (d *Doc) Set(path, text string) (*Doc, Faults) { panic("not written") }

// Insert puts an item, written as YAML ("{move: hold, heading_deg: 90, seconds: 10}"), into the
// list at path ("legs") before index i (len: at the end).
func (d *Doc) Insert(path string, i int, yaml string) (*Doc, Faults) { panic("not written") }

// Remove gives a new document without the key or the list item at path ("legs[2]").
func (d *Doc) Remove(path string) (*Doc, Faults) { panic("not written") }

// Swap exchanges two items of the list at path.
func (d *Doc) Swap(path string, i, j int) (*Doc, Faults) { panic("not written") }
