package field

import (
	"bytes"
	"fmt"
	"regexp"
	"unicode/utf8"
)

// spaceless is a key and a value that YAML takes for one word.
var spaceless = regexp.MustCompile(`^[a-z_0-9]+:[^ ]`)

var byteOrderMark = []byte("\xef\xbb\xbf")

// Read decodes data against the table. All faults are reported at once. The Doc is nil only when
// the text cannot be taken for one YAML document that is a map (syntax, size, second document,
// anchors, tags, control characters); with lesser faults it is there, so that the workbench can
// show what is wrong.
func Read(file string, data []byte, spec *Spec) (*Doc, Faults) {
	name := Clean(file, 4096)
	if len(data) > MaxBytes {
		// Who reads a file stops soon after the limit, so how large it is is not known.
		return nil, Faults{{File: name, Line: 1, Column: 1, Found: fmt.Sprintf("more than %d KiB", MaxBytes>>10),
			Allowed: fmt.Sprintf("a file of at most %d KiB", MaxBytes>>10)}}
	}
	d := &Doc{file: file, spec: spec, data: bytes.Clone(data)}
	d.text = bytes.TrimPrefix(d.data, byteOrderMark)
	d.lines = lineStarts(d.text)
	c := &checker{file: name, text: d.text, root: spec}
	if c.bytes(d.lines); c.fatal {
		return nil, c.done()
	}
	root, faults := parse(d.text, d.lines)
	for _, f := range faults {
		f.File = name
		c.faults, c.fatal = append(c.faults, f), true
	}
	switch {
	case root == nil && c.fatal:
		return nil, c.done()
	case root == nil:
		c.add(1, 1, nil, "nothing", spec.Allowed())
		return nil, c.done()
	}
	c.screen(nil, root)
	if root.kind != mapNode {
		c.fatal = true
		allowed := spec.Allowed()
		if root.kind == scalarNode && spaceless.MatchString(root.value) {
			allowed += "; a space after the colon"
		}
		c.add(root.line, root.col, nil, describe(root), allowed)
	} else {
		c.value(nil, root, spec)
	}
	d.root, d.faults = root, c.done()
	if c.fatal {
		return nil, d.faults
	}
	return d, d.faults
}

// bytes refuses, before anything is parsed, text that is not UTF-8 and control characters.
func (c *checker) bytes(lines []int) {
	if bytes.HasPrefix(c.text, []byte("\xff\xfe")) || bytes.HasPrefix(c.text, []byte("\xfe\xff")) {
		c.fatal = true
		c.add(1, 1, nil, "UTF-16 text", "UTF-8 text")
		return
	}
	for l, start := range lines {
		end := len(c.text)
		if l+1 < len(lines) {
			end = lines[l+1] - 1
		}
		line := c.text[start:end]
		if l+1 < len(lines) {
			line = bytes.TrimSuffix(line, []byte("\r"))
		}
		if found, col := badCharacter(line); found != "" {
			c.fatal = true
			c.add(l+1, col, nil, found, "UTF-8 text without control characters")
		}
	}
}

// badCharacter finds the first character of a line that may not stand in a document.
func badCharacter(line []byte) (found string, col int) {
	for i := 0; i < len(line); {
		col++
		if b := line[i]; b >= 0x20 && b < 0x7f || b == '\t' {
			i++
			continue
		}
		r, size := utf8.DecodeRune(line[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			return fmt.Sprintf("the byte 0x%02X, which is not UTF-8", line[i]), col
		case unprintable(r):
			return fmt.Sprintf("the control character U+%04X", r), col
		}
		i += size
	}
	return "", 0
}
