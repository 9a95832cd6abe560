package field

import "strings"

// Value is one place in a document, present or absent.
type Value struct {
	doc  *Doc
	n    *node // nil when absent
	spec *Spec
	path string
	line int // of the nearest place that exists
	col  int
}

// Exists tells whether the place holds something.
func (v Value) Exists() bool { return v.n != nil && !v.n.null }

// Path returns the place's path: "legs[2].height_m".
func (v Value) Path() string { return v.path }

// Position returns the line and column, from 1, of the place or, when absent, of its nearest parent.
func (v Value) Position() (line, column int) { return v.line, v.col }

// below returns the value one step further; its path stays what it was.
func (v Value) below(st step) Value {
	var n *node
	if st.key != "" {
		if i := v.n.find(st.key); i >= 0 {
			n = v.n.items[i]
		}
	} else if st.index >= 0 && st.index < v.Len() {
		n = v.n.items[st.index]
	}
	v.n, v.spec = n, v.spec.step(st)
	if n != nil {
		v.line, v.col = n.line, n.col
	}
	return v
}

// Get returns the value under a key of a map.
func (v Value) Get(key string) Value {
	w := v.below(step{key: key})
	w.path = join(v.path, key, 0)
	return w
}

// Len returns the count of items of a list, 0 when absent.
func (v Value) Len() int {
	if v.n == nil || v.n.kind != listNode {
		return 0
	}
	return len(v.n.items)
}

// Index returns an item of a list.
func (v Value) Index(i int) Value {
	w := v.below(step{index: i})
	w.path = join(v.path, "", i)
	return w
}

// Text returns a scalar as written ("35", "NW"), a pair as "35 50", absent "". A list of scalars
// comes the same way, a list of pairs as "[250, 4], [290, 9]".
func (v Value) Text() string {
	if !v.Exists() {
		return ""
	}
	switch v.n.kind {
	case scalarNode:
		return scalarText(v.n)
	case listNode:
		parts := make([]string, len(v.n.items))
		separator := " "
		for i, item := range v.n.items {
			switch item.kind {
			case scalarNode:
				parts[i] = scalarText(item)
			case listNode:
				parts[i], separator = flowText(item), ", "
			default:
				return ""
			}
		}
		return strings.Join(parts, separator)
	}
	return ""
}

// scalarText leaves out the line end that a block of text carries.
func scalarText(n *node) string { return strings.TrimRight(n.value, "\n") }

// YAML returns the value as it could be inserted elsewhere, on one line: "{move: hold, seconds: 10}".
func (v Value) YAML() string {
	if v.n == nil {
		return ""
	}
	return flowText(v.n)
}

// IsPair tells whether a list of two stands here.
func (v Value) IsPair() bool { return v.Len() == 2 }

// Texts returns the two scalars of a pair, or the one scalar twice.
func (v Value) Texts() (from, to string) {
	if v.IsPair() {
		return scalarText(v.n.items[0]), scalarText(v.n.items[1])
	}
	return v.Text(), v.Text()
}

// Float returns the number at this place (a fraction is worked out), or otherwise when it is absent
// or a word.
func (v Value) Float(otherwise float64) float64 {
	if !v.Exists() || v.n.kind != scalarNode {
		return otherwise
	}
	if x, ok := v.spec.float(scalarText(v.n)); ok {
		return x
	}
	return otherwise
}

// Pair returns the two numbers of a pair, or the one number twice, or otherwise twice.
func (v Value) Pair(otherwise float64) (from, to float64) {
	if v.IsPair() {
		return v.Index(0).Float(otherwise), v.Index(1).Float(otherwise)
	}
	x := v.Float(otherwise)
	return x, x
}

// PairList returns a list of number pairs (Kind Pairs).
func (v Value) PairList() [][2]float64 {
	if v.Len() == 0 {
		return nil
	}
	out := make([][2]float64, 0, v.Len())
	for _, item := range v.n.items {
		if item.kind != listNode || len(item.items) != 2 {
			continue
		}
		a, okA := number(item.items[0].value)
		b, okB := number(item.items[1].value)
		if okA && okB {
			out = append(out, [2]float64{a, b})
		}
	}
	return out
}

// Word returns the text, or otherwise when absent.
func (v Value) Word(otherwise string) string {
	if !v.Exists() || v.n.kind != scalarNode {
		return otherwise
	}
	return scalarText(v.n)
}

// Fault returns a fault at this place, for rules that the table cannot express (contradictions).
// Put found through Quoted when it repeats what the document says.
func (v Value) Fault(found, allowed string) Fault {
	f := Fault{Line: max(v.line, 1), Column: max(v.col, 1), Field: Clean(v.path, 80), Found: Clean(found, 120), Allowed: allowed}
	if v.doc != nil {
		f.File = Clean(v.doc.file, 4096)
	}
	return f
}
