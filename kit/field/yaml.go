package field

import (
	"bytes"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// This is the only file that knows the YAML library: it turns text into nodes and nodes into text.

// parse reads one document. A nil node without faults means that the text holds nothing. The
// faults carry no file and no field yet.
func parse(text []byte, lines []int) (root *node, faults Faults) {
	defer func() {
		// The library panics on some malformed input (found by fuzzing elsewhere); such a
		// document is refused like any other.
		if r := recover(); r != nil {
			root, faults = nil, Faults{{Line: 1, Column: 1, Found: "text that cannot be read", Allowed: "a YAML document"}}
		}
	}()
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var doc yaml.Node
	err := dec.Decode(&doc)
	if err == io.EOF {
		return nil, nil
	}
	if err != nil {
		return nil, Faults{syntaxFault(err, text, lines)}
	}
	c := converter{text: text, lines: lines}
	root = c.node(doc.Content[0])
	root.docHead, root.docFoot = doc.HeadComment, doc.FootComment
	if root.kind == scalarNode && root.null && root.written == "" {
		root = nil
	}
	var more yaml.Node
	switch err = dec.Decode(&more); {
	case err == io.EOF:
	case err != nil:
		faults = append(faults, syntaxFault(err, text, lines))
	default:
		faults = append(faults, Fault{Line: max(more.Line, 1), Column: max(more.Column, 1),
			Found: "a second document", Allowed: "one document, without --- or ... after its start"})
	}
	return root, faults
}

// converter builds our nodes from the library's.
type converter struct {
	text  []byte
	lines []int
	// The place of the last node: nodes come in the order of the text, and counting the characters
	// of a long line from its start each time took 10 s for 256 KiB.
	line, col, off int
}

// offset turns a line and a column, both from 1 and the column in characters, into bytes.
func (c *converter) offset(line, col int) int {
	if line < 1 || line > len(c.lines) {
		return len(c.text)
	}
	if line != c.line || col < c.col {
		c.line, c.col, c.off = line, 1, c.lines[line-1]
	}
	for ; c.col < col && c.off < len(c.text); c.col++ {
		if c.text[c.off] < utf8.RuneSelf {
			c.off++
			continue
		}
		_, size := utf8.DecodeRune(c.text[c.off:])
		c.off += size
	}
	return c.off
}

func (c *converter) node(y *yaml.Node) *node {
	n := &node{
		line: y.Line, col: y.Column, off: c.offset(y.Line, y.Column),
		head: y.HeadComment, side: y.LineComment, foot: y.FootComment,
		flow: y.Style&yaml.FlowStyle != 0,
	}
	switch {
	case y.Kind == yaml.AliasNode:
		n.odd = "an alias (*" + y.Value + ")"
		return n
	case y.Anchor != "":
		n.odd = "an anchor (&" + y.Anchor + ")"
	case y.Style&yaml.TaggedStyle != 0:
		n.odd = "a tag (" + y.Tag + ")"
	case n.off < len(c.text) && c.text[n.off] == '!':
		n.odd = "a tag (!)" // the bare tag leaves no trace in the node
	}
	switch y.Kind {
	case yaml.ScalarNode:
		n.value = y.Value
		switch {
		case y.Style&yaml.DoubleQuotedStyle != 0:
			n.style = doubleQuoted
		case y.Style&yaml.SingleQuotedStyle != 0:
			n.style = singleQuoted
		case y.Style&yaml.LiteralStyle != 0:
			n.style = literal
		case y.Style&yaml.FoldedStyle != 0:
			n.style = folded
		default:
			n.null, n.written = isNull(y.Value), y.Value
		}
	case yaml.SequenceNode:
		n.kind = listNode
		n.items = make([]*node, len(y.Content))
		for i, item := range y.Content {
			n.items[i] = c.node(item)
		}
	case yaml.MappingNode:
		n.kind = mapNode
		n.keys = make([]*node, len(y.Content)/2)
		n.items = make([]*node, len(y.Content)/2)
		for i := range n.keys {
			n.keys[i], n.items[i] = c.node(y.Content[2*i]), c.node(y.Content[2*i+1])
		}
	}
	return n
}

// encode writes a tree with the library's own layout: two spaces, no blank lines. Tags are left
// empty, or an edited number would come out as "!!float 130".
func encode(root *node) ([]byte, error) {
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	doc := yaml.Node{Kind: yaml.DocumentNode, Content: []*yaml.Node{toYAML(root)},
		HeadComment: root.docHead, FootComment: root.docFoot}
	if err := enc.Encode(&doc); err != nil {
		return nil, err
	}
	if err := enc.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func toYAML(n *node) *yaml.Node {
	y := &yaml.Node{HeadComment: n.head, LineComment: n.side, FootComment: n.foot}
	if n.flow {
		y.Style = yaml.FlowStyle
	}
	switch n.kind {
	case scalarNode:
		y.Kind, y.Value = yaml.ScalarNode, n.value
		y.Style = map[style]yaml.Style{doubleQuoted: yaml.DoubleQuotedStyle, singleQuoted: yaml.SingleQuotedStyle,
			literal: yaml.LiteralStyle, folded: yaml.FoldedStyle}[n.style]
	case listNode:
		y.Kind = yaml.SequenceNode
		for _, item := range n.items {
			y.Content = append(y.Content, toYAML(item))
		}
	case mapNode:
		y.Kind = yaml.MappingNode
		for i, key := range n.keys {
			y.Content = append(y.Content, toYAML(key), toYAML(n.items[i]))
		}
	}
	return y
}

var yamlLine = regexp.MustCompile(`^(?:yaml: )?(?:line (\d+): )?((?s).*)$`)

// hints turn the library's complaints into what the author of the text can do about them.
var hints = []struct{ has, found, allowed string }{
	{"mapping values are not allowed", "a second colon", `one "key: value" a line; text that holds ": " stands in quotes`},
	{"could not find expected ':'", "a line without a colon", `"key: value", with a space after the colon`},
	{"cannot start any token", "a character that cannot begin a value", "text that begins with @, ` or % stands in quotes"},
	{"block sequence entries are not allowed", "a list item", "list items on lines of their own, under their key"},
	{"did not find expected ',' or '}'", "a { that is not closed", "fields between { and }, with commas between them"},
	{"did not find expected ',' or ']'", "a [ that is not closed", "items between [ and ], with commas between them"},
	{"unexpected end of stream", "a quotation mark that is not closed", "text between two quotation marks"},
	{"unexpected document indicator", "a --- or ... inside quotes", "text between two quotation marks"},
	{"did not find expected key", "a line that does not fit the map before it", "fields below each other at the same indentation, brackets in pairs"},
	{"did not find expected '-'", "a line that does not fit the list before it", "items below each other, each with a dash at the same indentation"},
	{"the text ends inside a bracket", "a bracket that is not closed", "every [ and { with its ] and }"},
	{"did not find expected node content", "a bracket or comma out of place", "a value behind each colon and dash; text with brackets stands in quotes"},
	{"did not find expected <document start>", "text behind the end of the document", "one map"},
	{"directive", "a % directive", "a document without directives"},
	{"incompatible YAML", "a % directive", "a document without directives"},
	{"unknown escape character", "an unknown escape sequence", `\" and \\ in double quotes; or single quotes`},
	{"unknown anchor", "an alias", "values written out, without anchors (&) and aliases (*)"},
	{"exceeded max depth", "too many nested levels", "maps and lists as the fields need them"},
}

// parserComplaints are the messages whose line the library counts from 0: it prints the line
// before the one it means. The scanner's messages count from 1.
var parserComplaints = []string{
	"did not find expected node content", "did not find expected ','", "did not find expected key",
	"did not find expected '-'", "did not find expected <", "found duplicate %", "found incompatible YAML",
	"found undefined tag",
}

// syntaxFault returns an error of the library, which has a line at best, as a fault.
func syntaxFault(err error, text []byte, lines []int) Fault {
	m := yamlLine.FindStringSubmatch(err.Error())
	line, _ := strconv.Atoi(m[1])
	problem := m[2]
	for _, c := range parserComplaints {
		if strings.HasPrefix(problem, c) && line > 0 {
			line++
		}
	}
	if name, ok := strings.CutPrefix(problem, "unknown anchor '"); ok {
		// It comes without a line.
		name, _, _ = strings.Cut(name, "'")
		if at := bytes.Index(text, []byte("*"+name)); at >= 0 {
			line = 1 + bytes.Count(text[:at], []byte("\n"))
		}
	}
	line = min(max(line, 1), len(lines))
	whole := lineText(text, lines, line)
	if body := bytes.TrimSpace(text); strings.HasPrefix(problem, "did not find expected node content") &&
		bytes.IndexByte([]byte("[{,"), body[len(body)-1]) >= 0 {
		problem = "the text ends inside a bracket"
		line = 1 + bytes.Count(bytes.TrimRight(text, " \r\n"), []byte("\n"))
		whole = lineText(text, lines, line)
	}
	f := Fault{Line: line, Column: 1 + len(whole) - len(strings.TrimLeft(whole, " "))}
	// A tab in the indentation surfaces as several different complaints, at this line or the next.
	for l := line; l <= min(line+1, len(lines)); l++ {
		next := lineText(text, lines, l)
		blank := next[:len(next)-len(strings.TrimLeft(next, " \t"))]
		if i := strings.IndexByte(blank, '\t'); i >= 0 && strings.TrimSpace(next) != "" {
			return Fault{Line: l, Column: i + 1, Found: "a tab", Allowed: "spaces for indentation"}
		}
	}
	if strings.HasPrefix(problem, "mapping values are not allowed") {
		before, rest, _ := strings.Cut(whole, ": ")
		if second := strings.Index(rest, ":"); second >= 0 {
			f.Column = 3 + len([]rune(before)) + len([]rune(rest[:second]))
		} else {
			problem = "did not find expected key" // one colon only: the indentation is to blame
		}
	}
	f.Found, f.Allowed = Quoted(strings.TrimSpace(whole)), "YAML ("+Clean(problem, 120)+")"
	for _, h := range hints {
		if strings.Contains(problem, h.has) {
			f.Found, f.Allowed = h.found+": "+f.Found, h.allowed
			break
		}
	}
	return f
}
