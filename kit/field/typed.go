package field

import (
	"bytes"
	"strings"
)

// typed turns what a person typed into a node, or says what is allowed instead. The value itself
// is not checked yet.
func (s *Spec) typed(text string) (n *node, problem string) {
	switch s.Kind {
	case Map:
		return nil, s.Allowed() + "; set its fields one by one"
	case List:
		if s.Item.Kind == Map || s.Item.Kind == List || s.Item.Kind == Pairs || s.Item.Pair || s.Item.PairOnly {
			return nil, s.Allowed() + "; insert its items one by one"
		}
		n = &node{kind: listNode, flow: true}
		for _, word := range words(text, s.Item.Kind == Text) {
			n.items = append(n.items, s.Item.scalar(word))
		}
		return n, ""
	case Pairs:
		if !strings.HasPrefix(text, "[[") {
			text = "[" + text + "]"
		}
		line := []byte(text)
		n, faults := parse(line, lineStarts(line))
		if faults != nil || n == nil || n.kind != listNode {
			return nil, s.Allowed()
		}
		n.flow = true
		return n, ""
	}
	if s.Pair || s.PairOnly {
		bracketed := strings.HasPrefix(text, "[") && strings.HasSuffix(text, "]")
		if all := words(text, s.Kind == Text); len(all) != 1 || bracketed {
			n = &node{kind: listNode, flow: true}
			for _, word := range all {
				n.items = append(n.items, s.scalar(word))
			}
			return n, ""
		}
	}
	return s.scalar(text), ""
}

// scalar makes a node of one typed value. Text that another reader of YAML would take for a number
// goes into quotation marks; the minus sign of the printed page becomes the one of the keyboard.
func (s *Spec) scalar(text string) *node {
	n := &node{value: text, written: text}
	switch {
	case s.Kind == Text && strings.Contains(text, "\n"):
		n.style = literal
	case s.Kind == Text && (looksOther(text) || isNull(text)):
		n.style = doubleQuoted
	case s.Kind != Text && isNull(text):
		n.null = true
	case s.Kind != Text && s.Kind != Word:
		n.value = strings.Replace(text, "−", "-", 1)
	}
	return n
}

// words splits a typed list at blanks and commas, or at commas alone.
func words(text string, commasOnly bool) []string {
	if strings.HasPrefix(text, "[") && strings.HasSuffix(text, "]") {
		text = text[1 : len(text)-1]
	}
	var out []string
	for _, part := range strings.Split(text, ",") {
		if commasOnly {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}

// source writes a value for a place in the text: on one line, except for a text of several lines
// in a block.
func (d *Doc) source(n *node, inFlow bool, holder int) string {
	if n.kind == scalarNode && n.style == literal && !inFlow && literalSafe(n.value) {
		return "|-" + d.newline() + strings.Repeat(" ", holder+1) + d.indented(n.value, holder+1)
	}
	if n.kind != scalarNode {
		return flowText(n)
	}
	return scalarSource(n, inFlow)
}

// literalSafe tells whether text can stand in a literal block without an indentation sign.
func literalSafe(text string) bool {
	if text == "" || text[0] == ' ' || text[0] == '\n' || strings.HasSuffix(text, "\n") {
		return false
	}
	for _, line := range strings.Split(text, "\n") {
		if strings.TrimRight(line, " ") != line {
			return false
		}
	}
	return true
}

// indented moves the second and later lines of a text in.
func (d *Doc) indented(text string, by int) string {
	lines := strings.Split(text, "\n")
	for i := 1; i < len(lines); i++ {
		if lines[i] != "" {
			lines[i] = strings.Repeat(" ", by) + lines[i]
		}
	}
	return strings.Join(lines, d.newline())
}

// newline returns the line end that the document uses.
func (d *Doc) newline() string {
	if i := bytes.IndexByte(d.text, '\n'); i > 0 && d.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}
