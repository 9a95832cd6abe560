package field

import (
	"bytes"
	"sort"
	"strings"
)

// Edits change the text itself, as little of it as they can, so that blank lines, alignment and
// comments stay as the author put them. Each function here returns the text after one edit.

// spot is a place in the tree: the nodes from the root down to it, and the index of each in the
// one before.
type spot struct {
	n       *node
	chain   []*node // from the root, without n
	indices []int   // as long as chain
	holder  int     // column of the innermost block that n stands in
}

func (at spot) parent() *node { return at.chain[len(at.chain)-1] }
func (at spot) index() int    { return at.indices[len(at.indices)-1] }
func (at spot) depth() int    { return len(at.chain) }
func (at spot) key() *node    { return at.parent().keys[at.index()] }

// up returns the parent's spot.
func (at spot) up() spot {
	k := len(at.chain) - 1
	up := spot{n: at.chain[k], chain: at.chain[:k], indices: at.indices[:k]}
	for _, n := range up.chain {
		up.holder = inner(n, up.holder)
	}
	return up
}

// in finds the parent, node the place itself, in a copy of the tree.
func (at spot) in(root *node) *node {
	for _, i := range at.indices[:len(at.indices)-1] {
		root = root.items[i]
	}
	return root
}

func (at spot) node(root *node) *node {
	for _, i := range at.indices {
		root = root.items[i]
	}
	return root
}

// locate goes down the steps as far as the document does; left are those that lead further.
func (d *Doc) locate(steps []step) (at spot, left []step) {
	at.n = d.root
	for k, st := range steps {
		i := st.index
		if st.key != "" {
			i = at.n.find(st.key)
		}
		if i < 0 || i >= len(at.n.items) || (st.key != "") != (at.n.kind == mapNode) {
			return at, steps[k:]
		}
		at = spot{n: at.n.items[i], chain: append(at.chain, at.n), indices: append(at.indices, i), holder: inner(at.n, at.holder)}
	}
	return at, nil
}

// pathOf spells a spot's path.
func (d *Doc) pathOf(at spot) string {
	path := ""
	for k, n := range at.chain {
		if n.kind == mapNode {
			path = join(path, n.keys[at.indices[k]].value, 0)
		} else {
			path = join(path, "", at.indices[k])
		}
	}
	return path
}

// cut is a stretch of text and what takes its place.
type cut struct {
	from, to int
	text     string
}

// splice applies cuts that do not overlap.
func (d *Doc) splice(cuts ...cut) []byte {
	sort.SliceStable(cuts, func(i, j int) bool {
		a, b := cuts[i], cuts[j]
		return a.from < b.from || a.from == b.from && a.to < b.to // an insertion comes first
	})
	out := make([]byte, 0, len(d.text)+64)
	pos := 0
	for _, c := range cuts {
		if c.from < pos || c.to < c.from {
			return nil
		}
		out = append(append(out, d.text[pos:c.from]...), c.text...)
		pos = c.to
	}
	return append(out, d.text[pos:]...)
}

// replacing puts a new value in the place of an old one.
func (d *Doc) replacing(at spot, n *node) []byte {
	old := at.n
	if old.kind == listNode && n.kind == listNode && len(old.items) == len(n.items) && len(n.items) > 0 {
		var cuts []cut // one by one, which keeps the author's spacing
		for i, item := range old.items {
			if item.kind != scalarNode || item.null || n.items[i].kind != scalarNode {
				cuts = nil
				break
			}
			if !same(item, n.items[i], true) {
				cuts = append(cuts, cut{item.off, spanEnd(d.text, item, inner(old, at.holder)), d.source(n.items[i], true, 0)})
			}
		}
		if cuts != nil {
			return d.splice(cuts...)
		}
	}
	c := cut{old.off, spanEnd(d.text, old, at.holder), d.source(n, at.parent().flow, at.holder)}
	if old.kind != scalarNode && !old.flow || old.null && old.written == "" {
		// The value starts on a line of its own, or is nothing: the new one goes behind the colon
		// or dash.
		if lead := d.lead(at); lead >= 0 {
			c.from, c.text = lead, " "+c.text
			c.to = max(c.from, c.to)
		}
		for _, comment := range d.commentsIn(old, at.holder, old.off, c.to) {
			c.text += d.newline() + strings.Repeat(" ", at.holder+1) + comment
		}
		if old.null && c.to < len(d.text) && strings.IndexByte(" \t\r\n,}]", d.text[c.to]) < 0 {
			c.text += " "
		}
	}
	return d.splice(c)
}

// lead returns the offset behind the colon or dash that a value follows, or -1 when more than blanks
// stands between them.
func (d *Doc) lead(at spot) int {
	lead := at.n.off
	switch p := at.parent(); {
	case p.kind == mapNode:
		lead = spanEnd(d.text, at.key(), 0)
		for lead < at.n.off && d.text[lead] != ':' {
			lead++
		}
		lead++
	case !p.flow:
		lead = d.dash(p, at.index()) + 1
	}
	if lead > at.n.off || len(bytes.TrimSpace(d.text[lead:at.n.off])) > 0 {
		return -1
	}
	return lead
}

// commentsIn returns the comments between two offsets, inside and around a list or map: whatever
// stands behind a # outside of the keys and scalars.
func (d *Doc) commentsIn(n *node, holder, from, to int) (found []string) {
	if n.kind == scalarNode {
		return nil
	}
	gap := func(to int) {
		for from < to {
			end := min(lineEnd(d.text, from), to)
			if i := bytes.IndexByte(d.text[from:end], '#'); i >= 0 {
				found = append(found, string(bytes.TrimSpace(d.text[from+i:end])))
			}
			from = end + 1
		}
		from = max(from, to)
	}
	var leaves func(n *node, holder int)
	leaves = func(n *node, holder int) {
		if n.kind == scalarNode {
			gap(n.off)
			from = max(from, spanEnd(d.text, n, holder))
			return
		}
		for i, item := range n.items {
			if n.kind == mapNode {
				leaves(n.keys[i], holder)
			}
			leaves(item, inner(n, holder))
		}
	}
	leaves(n, holder)
	gap(to)
	return found
}

// addingKey writes a key into a map behind the key with index after, or first when that is -1.
func (d *Doc) addingKey(at spot, after int, key, n *node, block string) []byte {
	m := at.n
	if m.flow {
		text := key.value + ": " + d.source(n, true, 0)
		switch {
		case len(m.items) == 0:
			return d.splice(cut{m.off + 1, m.off + 1, text})
		case after < 0:
			return d.splice(cut{m.keys[0].off, m.keys[0].off, text + ", "})
		}
		end := max(spanEnd(d.text, m.items[after], at.holder), spanEnd(d.text, m.keys[after], at.holder))
		return d.splice(cut{end, end, ", " + text})
	}
	text := key.value + ": " + d.source(n, false, m.col)
	if block != "" {
		text = key.value + ":" + block
	}
	pad := strings.Repeat(" ", m.col-1)
	if after < 0 {
		return d.splice(cut{m.keys[0].off, m.keys[0].off, text + d.newline() + pad})
	}
	return d.addLine(d.regionEnd(spanEnd(d.text, m.items[after], m.col), m.col), pad+text)
}

// addLine puts a line before the one that starts at an offset.
func (d *Doc) addLine(at int, text string) []byte {
	if at == len(d.text) && at > 0 && d.text[at-1] != '\n' {
		return d.splice(cut{at, at, d.newline() + text})
	}
	return d.splice(cut{at, at, text + d.newline()})
}

// regionEnd returns the start of the line behind a value and behind the comments that belong to it:
// those on lines further in than its column.
func (d *Doc) regionEnd(end, col int) int {
	region := nextLine(d.text, end)
	for next := region; next < len(d.text); {
		line := d.text[next:lineEnd(d.text, next)]
		body := bytes.TrimLeft(line, " ")
		next = nextLine(d.text, next)
		if len(body) == 0 {
			continue // a blank line belongs to the value only when its comments go on behind it
		}
		if body[0] != '#' || len(line)-len(body) < col {
			break
		}
		region = next
	}
	return region
}

// inserting puts an item into a list.
func (d *Doc) inserting(at spot, i int, n *node, yaml string) []byte {
	l := at.n
	if l.flow {
		text := flowText(n)
		switch {
		case len(l.items) == 0 && n.kind == mapNode && !at.parent().flow && at.parent().kind == mapNode:
			pad := strings.Repeat(" ", at.holder+1)
			start := len(bytes.TrimRight(d.text[:l.off], " \t"))
			return d.splice(cut{start, spanEnd(d.text, l, at.holder), d.newline() + pad + "- " + d.indented(yaml, len(pad)+2)})
		case len(l.items) == 0:
			return d.splice(cut{l.off + 1, l.off + 1, text})
		case i == 0:
			return d.splice(cut{l.items[0].off, l.items[0].off, text + ", "})
		}
		end := spanEnd(d.text, l.items[i-1], at.holder)
		return d.splice(cut{end, end, ", " + text})
	}
	pad := strings.Repeat(" ", l.col-1)
	text := "- " + d.indented(yaml, l.col+1)
	switch {
	case i == len(l.items):
		return d.addLine(d.regionEnd(spanEnd(d.text, l.items[i-1], l.col), l.col), pad+text)
	case i == 0:
		dash := d.dash(l, 0)
		return d.splice(cut{dash, dash, text + d.newline() + pad})
	}
	top, _ := d.headOf(l, i)
	return d.addLine(top, pad+text)
}

// dash returns the offset of the dash before an item of a block list.
func (d *Doc) dash(l *node, i int) int {
	off := l.items[i].off
	for start := lineStart(d.text, min(off, len(d.text))); ; start = lineStart(d.text, start-1) {
		if at := start + l.col - 1; at < off && d.text[at] == '-' {
			return at
		}
		if start == 0 {
			return off
		}
	}
}

// headOf returns the lines above an item of a block list that belong to it: comments right above it
// at the same indentation. What stands above the first item belongs to the list.
func (d *Doc) headOf(l *node, i int) (top, bottom int) {
	bottom = lineStart(d.text, d.dash(l, i))
	top = bottom
	if i == 0 {
		return top, bottom
	}
	floor := d.regionEnd(spanEnd(d.text, l.items[i-1], l.col), l.col)
	for top > floor {
		start := lineStart(d.text, top-1)
		line := d.text[start:lineEnd(d.text, start)]
		body := bytes.TrimLeft(line, " ")
		if len(body) == 0 || body[0] != '#' || len(line)-len(body) != l.col-1 {
			break
		}
		top = start
	}
	return top, bottom
}

// startsLine tells whether only blanks stand before an offset on its line.
func (d *Doc) startsLine(off int) bool {
	return len(bytes.TrimLeft(d.text[lineStart(d.text, off):off], " ")) == 0
}

// swapping exchanges the texts of two items, i before j, and of the comments that belong to them.
func (d *Doc) swapping(at spot, i, j int) []byte {
	l := at.n
	if l.flow {
		a, b := l.items[i], l.items[j]
		aEnd, bEnd := spanEnd(d.text, a, at.holder), spanEnd(d.text, b, at.holder)
		return d.splice(cut{a.off, aEnd, string(d.text[b.off:bEnd])}, cut{b.off, bEnd, string(d.text[a.off:aEnd])})
	}
	piece := func(k int) (from, to int) {
		to = d.regionEnd(spanEnd(d.text, l.items[k], l.col), l.col)
		to = len(bytes.TrimRight(d.text[:to], "\r\n"))
		return d.dash(l, k), to
	}
	aFrom, aTo := piece(i)
	bFrom, bTo := piece(j)
	cuts := []cut{{aFrom, aTo, string(d.text[bFrom:bTo])}, {bFrom, bTo, string(d.text[aFrom:aTo])}}
	if d.startsLine(aFrom) && d.startsLine(bFrom) {
		aTop, aBottom := d.headOf(l, i)
		bTop, bBottom := d.headOf(l, j)
		cuts = append(cuts, cut{aTop, aBottom, string(d.text[bTop:bBottom])}, cut{bTop, bBottom, string(d.text[aTop:aBottom])})
	}
	return d.splice(cuts...)
}

// emptying writes {} or [] in the place of a map or list whose last entry goes.
func (d *Doc) emptying(at spot) []byte {
	text := "[]"
	if at.n.kind == mapNode {
		text = "{}"
	}
	c := cut{at.n.off, spanEnd(d.text, at.n, at.holder), text}
	if !at.n.flow && at.depth() > 0 {
		if lead := d.lead(at); lead >= 0 {
			c.from, c.text = lead, " "+text
		}
	}
	return d.splice(c)
}

// removingKey takes a key that is not the only one out of its map.
func (d *Doc) removingKey(at spot) []byte {
	key, m := at.key(), at.parent()
	end := max(spanEnd(d.text, key, at.holder), spanEnd(d.text, at.n, at.holder))
	if m.flow {
		return d.removingFlow(key.off, end)
	}
	if !d.startsLine(key.off) { // behind the dash of a list item
		next := m.keys[at.index()+1].off
		if len(bytes.TrimSpace(d.text[end:next])) == 0 {
			return d.splice(cut{key.off, next, ""})
		}
		return d.splice(cut{key.off, end, ""})
	}
	start, region := lineStart(d.text, key.off), d.regionEnd(end, m.col)
	if start == lineStart(d.text, end) {
		if i := bytes.IndexByte(d.text[end:lineEnd(d.text, end)], '#'); i >= 0 {
			return d.splice(cut{key.off, end + i, ""})
		}
		region = nextLine(d.text, end)
	}
	return d.cutLines(start, region)
}

// cutLines takes whole lines out; when they are the last, the line break before them goes if the
// text did not end in one.
func (d *Doc) cutLines(start, end int) []byte {
	if end == len(d.text) && end > 0 && d.text[end-1] != '\n' {
		start = len(bytes.TrimRight(d.text[:start], "\r\n"))
	}
	return d.splice(cut{start, end, ""})
}

// removingItem takes an item that is not the only one out of its list.
func (d *Doc) removingItem(at spot) []byte {
	l, i := at.parent(), at.index()
	end := spanEnd(d.text, at.n, at.holder)
	if l.flow {
		return d.removingFlow(at.n.off, end)
	}
	dash := d.dash(l, i)
	if !d.startsLine(dash) {
		return d.splice(cut{dash, d.dash(l, i+1), ""})
	}
	top, _ := d.headOf(l, i)
	return d.cutLines(top, d.regionEnd(end, l.col))
}

// removingFlow takes a stretch between commas out, with one of the commas.
func (d *Doc) removingFlow(from, to int) []byte {
	after := to
	for after < len(d.text) && (d.text[after] == ' ' || d.text[after] == '\t') {
		after++
	}
	if after < len(d.text) && d.text[after] == ',' {
		for after++; after < len(d.text) && (d.text[after] == ' ' || d.text[after] == '\t'); {
			after++
		}
		return d.splice(cut{from, after, ""})
	}
	if before := len(bytes.TrimRight(d.text[:from], " \t\r\n")); before > 0 && d.text[before-1] == ',' {
		from = before - 1
	}
	return d.splice(cut{from, to, ""})
}
