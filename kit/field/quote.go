package field

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Quoted returns what was found for a fault: in quotation marks, cut to about 40 characters, and
// with everything that could move a terminal's cursor spelt out.
func Quoted(text string) string { return `"` + Clean(text, 38) + `"` }

// Clean returns text on one line, cut to a number of characters, with everything spelt out that could
// move a terminal's cursor, ring its bell, hide, or turn the direction of what stands beside it. Every
// name that comes from outside (of a file, a card, a filter) goes through it before it is shown.
func Clean(text string, limit int) string {
	var b strings.Builder
	count := 0
	for i, r := range text {
		s := string(r)
		switch {
		case r == '\n':
			s = `\n`
		case r == '\t':
			s = `\t`
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], s):
			s = fmt.Sprintf("<0x%02X>", text[i]) // a byte that is not UTF-8
		case unprintable(r) || !unicode.IsGraphic(r):
			s = fmt.Sprintf("<U+%04X>", r)
		}
		if count += len([]rune(s)); count > limit {
			b.WriteString("…")
			break
		}
		b.WriteString(s)
	}
	return b.String()
}

// unprintable tells the characters that no document may hold, raw or as an escape sequence: the
// controls, the line separators that only some programs take for one, the byte order mark, and
// the marks that turn the direction of the text after them and so make a line look like another.
func unprintable(r rune) bool {
	switch {
	case r == '\n' || r == '\t':
		return false
	case r < 0x20, r >= 0x7f && r <= 0x9f, r == 0x2028, r == 0x2029, r == 0xfeff:
		return true
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true
	}
	return false
}

// describe says what stands at a node, for a fault.
func describe(n *node) string {
	switch {
	case n.kind == listNode && len(n.items) == 0:
		return "an empty list"
	case n.kind == listNode:
		return "a list of " + strconv.Itoa(len(n.items))
	case n.kind == mapNode && len(n.keys) == 0:
		return "an empty map"
	case n.kind == mapNode:
		return "a map with " + Quoted(n.keys[0].value)
	case n.null && n.written == "":
		return "nothing"
	}
	return Quoted(n.value)
}
