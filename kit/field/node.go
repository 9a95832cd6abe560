package field

import (
	"bytes"
	"strconv"
	"strings"
)

// shape is what a node holds.
type shape uint8

const (
	scalarNode shape = iota
	listNode
	mapNode
)

// style is how a scalar is written.
type style uint8

const (
	plain style = iota
	doubleQuoted
	singleQuoted
	literal
	folded
)

// node is one value of a document and the place where it is written. Nodes are never changed once
// they are part of a Doc.
type node struct {
	kind    shape
	style   style
	flow    bool // a list or map in brackets or braces
	null    bool // a plain ~, null or nothing at all
	value   string
	written string // of a plain scalar
	odd     string // a construct that is refused: an anchor, an alias, a tag

	line, col int // from 1, the column in characters
	off       int // byte offset in the text

	keys  []*node // of a map, as long as items
	items []*node

	head, side, foot string // comments, used only when the tree is encoded anew
	docHead, docFoot string // of the root
}

// find returns the index of a key of a map, or -1.
func (n *node) find(key string) int {
	if n == nil {
		return -1
	}
	for i, k := range n.keys {
		if k.kind == scalarNode && k.value == key {
			return i
		}
	}
	return -1
}

// clone copies a tree, so that an edit of the copy leaves the original alone.
func (n *node) clone() *node {
	c := *n
	c.keys, c.items = cloneAll(n.keys), cloneAll(n.items)
	return &c
}

func cloneAll(ns []*node) []*node {
	if ns == nil {
		return nil
	}
	out := make([]*node, len(ns))
	for i, n := range ns {
		out[i] = n.clone()
	}
	return out
}

// same tells whether two trees mean the same: comments, layout and quotation marks do not count,
// key order does when ordered is set.
func same(a, b *node, ordered bool) bool {
	if a.kind != b.kind || a.null != b.null || len(a.items) != len(b.items) {
		return false
	}
	switch a.kind {
	case scalarNode:
		return a.null || strings.TrimRight(a.value, "\n") == strings.TrimRight(b.value, "\n")
	case mapNode:
		for i, k := range a.keys {
			j := i
			if !same(k, b.keys[i], ordered) {
				if j = b.find(k.value); ordered || j < 0 {
					return false
				}
			}
			if !same(a.items[i], b.items[j], ordered) {
				return false
			}
		}
	case listNode:
		for i := range a.items {
			if !same(a.items[i], b.items[i], ordered) {
				return false
			}
		}
	}
	return true
}

func isNull(s string) bool {
	switch s {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// place is a path that is only spelt out when it is needed.
type place struct {
	up    *place
	key   string
	index int // of a list item, when key is ""
}

func (p *place) String() string {
	if p == nil {
		return ""
	}
	return join(p.up.String(), p.key, p.index)
}

// join appends a key, or an index when there is none, to a path.
func join(path, key string, index int) string {
	switch {
	case key == "":
		return path + "[" + strconv.Itoa(index) + "]"
	case path == "":
		return key
	}
	return path + "." + key
}

// step is one element of a path: a key, or an index when key is "".
type step struct {
	key   string
	index int
}

// way is room for the steps of any path that a table has: it is lent to [split], which then allocates nothing.
type way [8]step

// split takes a path such as "legs[2].target.distance_m" apart, into steps; ok is false when it is malformed.
func split(path string, steps []step) (_ []step, ok bool) {
	steps = steps[:0]
	for rest := path; rest != ""; {
		if rest[0] == '[' {
			end := strings.IndexByte(rest, ']')
			if end < 0 {
				return nil, false
			}
			i, err := strconv.Atoi(rest[1:end])
			if err != nil || i < 0 {
				return nil, false
			}
			steps, rest = append(steps, step{index: i}), rest[end+1:]
			if rest != "" && rest[0] == '.' {
				rest = rest[1:]
				if rest == "" {
					return nil, false
				}
			} else if rest != "" && rest[0] != '[' {
				return nil, false
			}
			continue
		}
		end := strings.IndexAny(rest, ".[")
		if end == 0 {
			return nil, false
		}
		if end < 0 {
			end = len(rest)
		}
		steps = append(steps, step{key: rest[:end]})
		if end < len(rest) && rest[end] == '.' {
			if end++; end == len(rest) {
				return nil, false
			}
		}
		rest = rest[end:]
	}
	return steps, true
}

// lineStarts returns the offset of every line's first byte.
func lineStarts(text []byte) []int {
	starts := make([]int, 1, 64)
	for i, c := range text {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// lineText returns one line without its end.
func lineText(text []byte, lines []int, line int) string {
	start := lines[line-1]
	if end := bytes.IndexByte(text[start:], '\n'); end >= 0 {
		return strings.TrimSuffix(string(text[start:start+end]), "\r")
	}
	return string(text[start:])
}
