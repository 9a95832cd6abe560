package field

import "bytes"

// MaxBytes is the largest document that is read. A larger one is refused unread: a megabyte of
// YAML list costs a second and 70 MiB to decode (measured).
const MaxBytes = 256 << 10

// Doc is a document that was read against a table of fields. It is immutable.
type Doc struct {
	file   string
	spec   *Spec
	data   []byte // as read
	text   []byte // data without a byte order mark
	lines  []int  // offsets of the lines of text
	root   *node
	faults Faults
}

// Faults returns what is wrong with the document, in the order of its lines; nil when it is right.
func (d *Doc) Faults() Faults { return d.faults }

// Bytes writes the document: comments and key order kept, values as typed. Reading it and writing
// it again changes nothing.
func (d *Doc) Bytes() []byte { return bytes.Clone(d.data) }

// Equal tells whether two documents hold the same values. Comments, layout, quotation marks and
// the order of keys do not count; 5 and 5.0 differ, because they were typed differently.
func (d *Doc) Equal(other *Doc) bool {
	if d == nil || other == nil {
		return d == other
	}
	return same(d.root, other.root, false)
}

// Root returns the whole document as a Value.
func (d *Doc) Root() Value {
	return Value{doc: d, n: d.root, spec: d.spec, line: d.root.line, col: d.root.col}
}

// At returns the value at a path such as "legs[2].target.distance_m"; an absent one answers
// Exists() == false and keeps the position of the nearest parent for faults.
func (d *Doc) At(path string) Value {
	v := d.Root()
	var room way
	steps, ok := split(path, room[:])
	v.path = path
	if !ok {
		v.n, v.spec = nil, nil
		return v
	}
	for _, st := range steps {
		v = v.below(st)
	}
	return v
}

// SpecAt returns the row of the table that governs a path, or nil.
func (d *Doc) SpecAt(path string) *Spec {
	var room way
	steps, ok := split(path, room[:])
	s := d.spec
	for _, st := range steps {
		s = s.step(st)
	}
	if !ok {
		return nil
	}
	return s
}
