package field

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// Set returns a new document with the scalar, pair or word at path replaced by what a person typed:
// "35", "35 50" or "35, 50" or "[35, 50]" (a pair), "1/50", "auto", "NW", "sun+90". Empty text
// removes the key, which brings its default back. Missing parent maps are made. Comments survive.
// Faults are those of the text against the table; the new Doc is nil then. A list of scalars is
// set like a pair ("24 25 30"), a list of pairs as "[250, 4], [290, 9]".
func (d *Doc) Set(path, text string) (*Doc, Faults) {
	steps, ok := split(path, nil)
	spec := d.SpecAt(path)
	if !ok || spec == nil || len(steps) == 0 {
		return nil, d.refuse(path, "no such field", "a field of the table")
	}
	at, left := d.locate(steps)
	text = strings.TrimSpace(text)
	if text == "" {
		return d.clear(path, spec, at, left)
	}
	if !utf8.ValidString(text) {
		return nil, d.refuse(path, Quoted(text), "UTF-8 text")
	}
	n, problem := spec.typed(text)
	if problem == "" {
		if allowed := d.judge(path, n, spec); allowed != nil {
			return nil, allowed
		}
	} else {
		return nil, d.refuse(path, Quoted(text), problem)
	}
	if len(left) == 0 && same(at.n, n, true) {
		return d, nil
	}
	if spec.Kind == Text && n.style == plain && (at.n.style == doubleQuoted || at.n.style == singleQuoted) && len(left) == 0 {
		n.style = doubleQuoted // the author's choice
	}
	if len(left) == 0 || at.n.null && keysOnly(left) {
		n = nest(n, left)
		want := d.root.clone()
		at.in(want).items[at.index()] = n
		return d.become(path, want, d.replacing(at, n))
	}
	return d.addKey(path, at, left, n, "")
}

// clear is Set with nothing typed.
func (d *Doc) clear(path string, spec *Spec, at spot, left []step) (*Doc, Faults) {
	switch {
	case spec.Required:
		return nil, d.refuse(path, "nothing", spec.absent())
	case len(left) > 0:
		return d, nil
	}
	return d.remove(path, at)
}

// Insert puts an item, written as YAML ("{move: hold, heading_deg: 90, seconds: 10}"), into the
// list at path ("legs") before index i (len: at the end).
func (d *Doc) Insert(path string, i int, yaml string) (*Doc, Faults) {
	steps, ok := split(path, nil)
	list := d.SpecAt(path)
	if !ok || list == nil || list.Kind != List && list.Kind != Pairs || len(steps) == 0 {
		return nil, d.refuse(path, "no such list", "a list of the table")
	}
	at, left := d.locate(steps)
	count := 0
	if len(left) == 0 {
		count = len(at.n.items)
	}
	item := list.step(step{})
	if i < 0 || i > count {
		return nil, d.refuse(path, "no place "+join("", "", i), "an index from 0 to the length of the list")
	}
	yaml = strings.TrimSpace(strings.ReplaceAll(yaml, "\r\n", "\n"))
	n, faults := d.fragment(join(path, "", i), yaml, item)
	if faults != nil {
		return nil, faults
	}
	lone := &node{kind: listNode, flow: true, items: []*node{n}}
	switch {
	case len(left) > 0 && !(at.n.null && keysOnly(left)):
		block := ""
		if len(left) == 1 && !at.n.flow {
			lone.flow = false
			pad := strings.Repeat(" ", at.n.col+1)
			block = d.newline() + pad + "- " + d.indented(yaml, len(pad)+2)
		}
		return d.addKey(path, at, left, lone, block)
	case len(left) > 0 || at.n.null:
		n := nest(lone, left)
		want := d.root.clone()
		at.in(want).items[at.index()] = n
		return d.become(path, want, d.replacing(at, n))
	case at.n.kind != listNode:
		return nil, d.refuse(path, describe(at.n), list.Allowed())
	}
	want := d.root.clone()
	target := at.node(want)
	target.items = append(target.items[:i:i], append([]*node{n}, target.items[i:]...)...)
	return d.become(path, want, d.inserting(at, i, n, yaml))
}

// Remove returns a new document without the key or the list item at path ("legs[2]"). A comment
// beside a removed key stays, on a line of its own; an item takes the comments above and beside
// it along.
func (d *Doc) Remove(path string) (*Doc, Faults) {
	steps, ok := split(path, nil)
	if !ok || len(steps) == 0 {
		return nil, d.refuse(path, "no such field", "a field of the table")
	}
	at, left := d.locate(steps)
	switch {
	case len(left) == 0:
		return d.remove(path, at)
	case steps[len(steps)-1].key == "":
		return nil, d.refuse(path, "no such item", "an item of the list")
	}
	return d, nil
}

// remove takes a place out of its map or list. A map that is left empty goes as well, where the
// table can spare it.
func (d *Doc) remove(path string, at spot) (*Doc, Faults) {
	for at.parent().kind == mapNode && len(at.parent().items) == 1 && at.depth() > 1 {
		up := at.up()
		if spec := d.SpecAt(d.pathOf(up)); up.parent().kind != mapNode || spec != nil && spec.Required {
			break
		}
		at = up
	}
	want := d.root.clone()
	in := at.in(want)
	i := at.index()
	if len(in.items) == 1 {
		in.keys, in.items, in.flow = nil, nil, true
		return d.become(path, want, d.emptying(at.up()))
	}
	in.items = append(in.items[:i], in.items[i+1:]...)
	if in.kind == mapNode {
		in.keys = append(in.keys[:i], in.keys[i+1:]...)
		return d.become(path, want, d.removingKey(at))
	}
	return d.become(path, want, d.removingItem(at))
}

// Swap exchanges two items of the list at path.
func (d *Doc) Swap(path string, i, j int) (*Doc, Faults) {
	steps, ok := split(path, nil)
	at, left := d.locate(steps)
	if !ok || len(left) > 0 || at.n.kind != listNode {
		return nil, d.refuse(path, "no such list", "a list of the document")
	}
	if count := len(at.n.items); i < 0 || j < 0 || i >= count || j >= count {
		return nil, d.refuse(path, "no such item", "two items of the list")
	}
	if i == j {
		return d, nil
	}
	want := d.root.clone()
	in := at.node(want)
	in.items[i], in.items[j] = in.items[j], in.items[i]
	return d.become(path, want, d.swapping(at, min(i, j), max(i, j)))
}

// addKey puts a key that is not there yet into the map at a spot, where the table's order has it;
// further steps become maps around the value. block is how the value is written in a block map,
// when that is not on the key's line.
func (d *Doc) addKey(path string, at spot, left []step, n *node, block string) (*Doc, Faults) {
	if at.n.kind != mapNode || !keysOnly(left) {
		found := describe(at.n)
		if at.n.kind == listNode {
			found = "no such item"
		}
		return nil, d.refuse(path, found, "a place inside the document")
	}
	n = nest(n, left[1:])
	spec := d.SpecAt(d.pathOf(at))
	_, order := spec.field(left[0].key)
	after := -1 // the last key that the table has before the new one
	for i, best := 0, -1; i < len(at.n.keys); i++ {
		if _, o := spec.field(at.n.keys[i].value); o >= 0 && o < order && o >= best {
			after, best = i, o
		}
	}
	want := d.root.clone()
	in := at.node(want)
	key := &node{value: left[0].key, written: left[0].key}
	in.keys = append(in.keys[:after+1:after+1], append([]*node{key}, in.keys[after+1:]...)...)
	in.items = append(in.items[:after+1:after+1], append([]*node{n}, in.items[after+1:]...)...)
	return d.become(path, want, d.addingKey(at, after, key, n, block))
}

// keysOnly tells whether steps lead through maps alone, which can be made on the way.
func keysOnly(steps []step) bool {
	for _, st := range steps {
		if st.key == "" {
			return false
		}
	}
	return true
}

// nest puts maps around a value: the steps a.b make {a: {b: n}}.
func nest(n *node, steps []step) *node {
	for i := len(steps) - 1; i >= 0; i-- {
		key := &node{value: steps[i].key, written: steps[i].key}
		n = &node{kind: mapNode, flow: true, keys: []*node{key}, items: []*node{n}}
	}
	return n
}

// become reads an edited text and makes sure that it means what was wanted. If the edit of the text
// does not, the wanted tree is written anew instead, which costs blank lines and alignment. An edit
// that brings a fault into the document is refused with that fault.
func (d *Doc) become(path string, want *node, text []byte) (*Doc, Faults) {
	next := d.reread(text, want)
	if next == nil {
		if fresh, err := encode(want); err == nil {
			next = d.reread(fresh, want)
		}
	}
	if next == nil {
		return nil, d.refuse(path, "a change that the text does not allow", "a change of the file by hand")
	}
	if fresh := newFaults(d.faults, next.faults); fresh != nil {
		return nil, fresh
	}
	return next, nil
}

// reread returns the document in a text, or nil when it is not the one that was wanted.
func (d *Doc) reread(text []byte, want *node) *Doc {
	if text == nil {
		return nil
	}
	if bytes.HasPrefix(d.data, byteOrderMark) {
		text = append(bytes.Clone(byteOrderMark), text...)
	}
	next, _ := Read(d.file, text, d.spec)
	if next == nil || !same(next.root, want, true) {
		return nil
	}
	return next
}

// newFaults returns the faults that an edit brought in. Indices may have moved.
func newFaults(before, after Faults) Faults {
	had := map[string]int{}
	for _, f := range before {
		had[faultKind(f)]++
	}
	var fresh Faults
	for _, f := range after {
		if had[faultKind(f)]--; had[faultKind(f)] < 0 {
			fresh = append(fresh, f)
		}
	}
	return fresh
}

func faultKind(f Fault) string {
	field := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return -1
		}
		return r
	}, f.Field)
	return field + "\x00" + f.Allowed
}

// refuse returns the fault of an edit, at the place that it would have changed.
func (d *Doc) refuse(path, found, allowed string) Faults {
	return Faults{d.At(path).Fault(found, allowed)}
}

// judge checks a value that is not part of the document yet.
func (d *Doc) judge(path string, n *node, spec *Spec) Faults {
	return d.placed(path, func(c *checker) {
		c.screen(nil, n)
		c.value(nil, n, spec)
	})
}

// fragment reads YAML that is to become part of the document.
func (d *Doc) fragment(path, text string, spec *Spec) (n *node, faults Faults) {
	if len(text) > MaxBytes {
		return nil, d.refuse(path, "too much text", "a document of at most 256 KiB")
	}
	faults = d.placed(path, func(c *checker) {
		c.text = []byte(text)
		lines := lineStarts(c.text)
		if c.bytes(lines); c.fatal {
			return
		}
		var syntax Faults
		n, syntax = parse(c.text, lines)
		switch {
		case syntax != nil:
			c.faults = append(c.faults, syntax...)
		case n == nil:
			c.add(0, 0, nil, "nothing", spec.Allowed())
		default:
			c.screen(nil, n)
			c.value(nil, n, spec)
		}
	})
	return n, faults
}

// placed collects faults of a value that is not in the document and puts them where it
// was to go.
func (d *Doc) placed(path string, check func(*checker)) Faults {
	c := &checker{root: d.spec}
	check(c)
	v := d.At(path)
	var out Faults
	for _, f := range c.done() {
		g := v.Fault(f.Found, f.Allowed)
		switch {
		case strings.HasPrefix(f.Field, "["):
			g.Field += f.Field
		case f.Field != "":
			g.Field += "." + f.Field
		}
		out = append(out, g)
	}
	return out
}
