package field

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// maxFaults bounds the report on a hopeless document; suggestions stop a little earlier, because
// they cost the most.
const (
	maxFaults      = 1000
	maxSuggestions = 100
)

// checker collects the faults of one document.
type checker struct {
	file   string
	text   []byte
	root   *Spec
	faults Faults
	fatal  bool
	more   int
}

func (c *checker) add(line, col int, p *place, found, allowed string) {
	if len(c.faults) >= maxFaults {
		c.more++
		return
	}
	c.faults = append(c.faults, Fault{File: c.file, Line: line, Column: col, Field: Clean(p.String(), 80), Found: found, Allowed: allowed})
}

// done returns the faults in the order of the lines.
func (c *checker) done() Faults {
	sort.SliceStable(c.faults, func(i, j int) bool {
		a, b := c.faults[i], c.faults[j]
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	if c.more > 0 {
		last := c.faults[len(c.faults)-1]
		c.faults = append(c.faults, Fault{File: c.file, Line: last.Line, Column: last.Column, more: c.more,
			Found: strconv.Itoa(c.more) + " more faults", Allowed: "a document that follows the table of fields"})
	}
	return c.faults
}

// screen refuses, anywhere in the document, what may stand nowhere.
func (c *checker) screen(p *place, n *node) {
	refuse := func(found, allowed string) {
		c.fatal = true
		c.add(n.line, n.col, p, found, allowed)
	}
	if n.odd != "" {
		refuse(Clean(n.odd, 40), "values written out, without anchors (&), aliases (*) and tags (!)")
	}
	if n.flow && n.kind == mapNode && (n.off >= len(c.text) || c.text[n.off] != '{') && n.odd == "" {
		refuse("a field inside a list, without braces", "a map in braces: [{key: value}]")
		return
	}
	if n.kind == scalarNode {
		for _, r := range n.value {
			if unprintable(r) {
				refuse(fmt.Sprintf("the control character U+%04X", r), "text without control characters")
				break
			}
		}
	}
	for i, item := range n.items {
		at := &place{up: p, index: i}
		if n.kind == mapNode {
			key := n.keys[i]
			at.key = key.value
			if at.key == "" {
				at.key = `""`
			}
			if key.kind != scalarNode {
				c.fatal = true
				c.add(key.line, key.col, p, describe(key)+" as a field's name", "a name, followed by a colon and a value")
				continue
			}
			c.key(at, key)
		}
		c.screen(at, item)
	}
}

// key refuses names that could not be edited: anchored, with control characters, or written
// without a colon behind them.
func (c *checker) key(at *place, key *node) {
	c.screen(at, key)
	end := spanEnd(c.text, key, 0)
	for end < len(c.text) && c.text[end] == ' ' || end < len(c.text) && c.text[end] == '\t' {
		end++
	}
	if key.odd == "" && (end >= len(c.text) || c.text[end] != ':') {
		c.fatal = true
		c.add(key.line, key.col, at.up, Quoted(key.value)+" without a colon right behind it", `a name, a colon, a space and a value: "name: value"`)
	}
}

// value checks a node against its row of the table.
func (c *checker) value(p *place, n *node, s *Spec) {
	if n.odd != "" {
		return // screened already
	}
	if n.null {
		c.add(n.line, n.col, p, describe(n), s.absent())
		return
	}
	switch {
	case s.Kind == Map:
		c.fields(p, n, s)
	case s.Kind == List:
		c.items(p, n, s)
	case s.Kind == Pairs:
		c.pairs(p, n, s)
	case n.kind == listNode && (s.Pair || s.PairOnly):
		c.pair(p, n, s)
	case n.kind != scalarNode || s.PairOnly:
		c.add(n.line, n.col, p, describe(n), s.Allowed())
	default:
		if allowed := s.wrong(n, false); allowed != "" {
			c.add(n.line, n.col, p, describe(n), allowed)
		}
	}
}

func (c *checker) fields(p *place, n *node, s *Spec) {
	if n.kind != mapNode {
		c.add(n.line, n.col, p, describe(n), s.Allowed())
		return
	}
	var seen map[string]*node
	if len(n.keys) > 64 {
		seen = make(map[string]*node, len(n.keys))
	}
	for i, key := range n.keys {
		if key.kind != scalarNode {
			continue // screened already
		}
		at := &place{up: p, key: key.value}
		if key.value == "" {
			at.key = `""`
		}
		if first := firstOf(n.keys, i, seen); first != nil {
			c.add(key.line, key.col, at, fmt.Sprintf("%s a second time, first on line %d", Quoted(key.value), first.line), "each field once")
			continue
		}
		f, _ := s.field(key.value)
		if f == nil {
			allowed := "one of the fields " + names(s.Fields, 12)
			if len(c.faults) < maxSuggestions && key.value != "" { // the items of a list have no name either
				if meant := suggest(key.value, s, c.root); meant != "" {
					allowed = "a known field; did you mean " + meant + "?"
				}
			}
			c.add(key.line, key.col, at, "the unknown field "+Quoted(key.value), allowed)
			continue
		}
		c.value(at, n.items[i], f)
	}
	for i := range s.Fields {
		if f := &s.Fields[i]; f.Required && n.find(f.Key) < 0 {
			c.add(n.line, n.col, &place{up: p, key: f.Key}, "nothing", f.absent())
		}
	}
}

// firstOf returns the earlier key of the same name, or nil. Long maps use an index.
func firstOf(keys []*node, i int, seen map[string]*node) *node {
	name := keys[i].value
	if seen != nil {
		first := seen[name]
		if first == nil {
			seen[name] = keys[i]
		}
		return first
	}
	for _, k := range keys[:i] {
		if k.kind == scalarNode && k.value == name {
			return k
		}
	}
	return nil
}

func (c *checker) items(p *place, n *node, s *Spec) {
	if n.kind != listNode || len(n.items) < s.MinItems || len(n.items) > s.maxItems() {
		allowed := s.Allowed()
		if n.kind == listNode && len(n.items) > s.maxItems() && s.MaxItems == 0 {
			allowed = "a list of at most 1000"
		}
		c.add(n.line, n.col, p, describe(n), allowed)
		if n.kind != listNode {
			return
		}
	}
	for i, item := range n.items {
		c.value(&place{up: p, index: i}, item, s.Item)
	}
}

func (c *checker) pair(p *place, n *node, s *Spec) {
	if len(n.items) != 2 {
		c.add(n.line, n.col, p, describe(n), s.Allowed())
		return
	}
	for i, item := range n.items {
		at := &place{up: p, index: i}
		one := s.step(step{index: i})
		if item.kind != scalarNode || item.null {
			c.value(at, item, one)
		} else if allowed := s.wrong(item, true); allowed != "" {
			c.add(item.line, item.col, at, describe(item), allowed)
		}
	}
}

func (c *checker) pairs(p *place, n *node, s *Spec) {
	if n.kind != listNode || len(n.items) < s.MinItems || len(n.items) > s.maxItems() {
		c.add(n.line, n.col, p, describe(n), s.Allowed())
		if n.kind != listNode {
			return
		}
	}
	row := *s
	row.Kind, row.PairOnly, row.Check, row.Required, row.Default, row.Key = Number, true, nil, false, "", ""
	for i, item := range n.items {
		at := &place{up: p, index: i}
		before := len(c.faults)
		c.value(at, item, &row)
		if s.Check != nil && len(c.faults) == before && item.kind == listNode && len(item.items) == 2 {
			text := item.items[0].value + " " + item.items[1].value
			if err := s.Check(text); err != nil {
				c.add(item.line, item.col, at, Quoted(strings.Join(strings.Fields(text), ", ")), err.Error())
			}
		}
	}
}
