package field

import (
	"bytes"
	"strings"
)

// spanEnd returns the offset behind a node's last byte. A block of text needs the column of the
// block that holds it, to know where it ends; 0 otherwise.
func spanEnd(text []byte, n *node, holder int) int {
	switch n.kind {
	case scalarNode:
		return scalarEnd(text, n, holder)
	case listNode:
		end := n.off + 1
		for _, item := range n.items {
			end = max(end, spanEnd(text, item, inner(n, holder)))
		}
		if n.flow {
			return closing(text, end)
		}
		return end
	}
	end := n.off
	if n.flow {
		end++
	}
	for i, item := range n.items {
		end = max(end, spanEnd(text, n.keys[i], holder), spanEnd(text, item, inner(n, holder)))
	}
	if n.flow {
		return closing(text, end)
	}
	return end
}

// inner returns the holder's column for the nodes inside n.
func inner(n *node, holder int) int {
	if n.flow {
		return holder
	}
	return n.col
}

// closing finds the bracket or brace that ends a flow collection behind its last item.
func closing(text []byte, from int) int {
	for i := from; i < len(text); i++ {
		switch text[i] {
		case ']', '}':
			return i + 1
		case '#':
			if next := bytes.IndexByte(text[i:], '\n'); next >= 0 {
				i += next
			} else {
				return len(text)
			}
		}
	}
	return len(text)
}

func scalarEnd(text []byte, n *node, holder int) int {
	i := min(n.off, len(text))
	switch n.style {
	case doubleQuoted:
		for i++; i < len(text); i++ {
			if text[i] == '\\' {
				i++
			} else if text[i] == '"' {
				return i + 1
			}
		}
		return len(text)
	case singleQuoted:
		for i++; i < len(text); i++ {
			if text[i] == '\'' {
				if i+1 < len(text) && text[i+1] == '\'' {
					i++
				} else {
					return i + 1
				}
			}
		}
		return len(text)
	case literal, folded:
		return blockEnd(text, i, holder)
	}
	if bytes.HasPrefix(text[i:], []byte(n.value)) {
		return i + len(n.value)
	}
	return foldedEnd(text, i, n.value)
}

// foldedEnd follows a plain scalar over several lines, whose line breaks became spaces.
func foldedEnd(text []byte, i int, value string) int {
	for j := 0; j < len(value) && i < len(text); {
		if text[i] == value[j] {
			i++
			j++
			continue
		}
		if !strings.ContainsRune(" \t\r\n", rune(text[i])) {
			return i
		}
		for i < len(text) && strings.IndexByte(" \t\r\n", text[i]) >= 0 {
			i++
		}
		if value[j] == ' ' {
			j++
		}
		for j < len(value) && value[j] == '\n' {
			j++
		}
	}
	return i
}

// blockEnd returns the end of the last line of a literal or folded block: the lines as far in as
// its first one, blank ones between them included.
func blockEnd(text []byte, start, holder int) int {
	line := lineEnd(text, start)
	end, depth := line, -1
	for line < len(text) {
		from := nextLine(text, line)
		if from >= len(text) {
			break
		}
		line = lineEnd(text, from)
		body := bytes.TrimLeft(text[from:line], " ")
		if len(body) == 0 {
			continue
		}
		in := line - from - len(body)
		if in < holder || depth >= 0 && in < depth {
			break
		}
		if depth < 0 {
			depth = in
			if digit := bytes.IndexAny(text[start:end], "123456789"); digit == 1 || digit == 2 {
				depth = holder
			}
		}
		end = line
	}
	return end
}

// lineEnd returns the offset of the end of the line that i stands on, before its line break.
func lineEnd(text []byte, i int) int {
	end := len(text)
	if n := bytes.IndexByte(text[i:], '\n'); n >= 0 {
		end = i + n
		if end > i && text[end-1] == '\r' {
			end--
		}
	}
	return end
}

// nextLine returns the start of the line behind a line's end.
func nextLine(text []byte, end int) int {
	if n := bytes.IndexByte(text[end:], '\n'); n >= 0 {
		return end + n + 1
	}
	return len(text)
}

// lineStart returns the start of the line that i stands on.
func lineStart(text []byte, i int) int {
	return bytes.LastIndexByte(text[:i], '\n') + 1
}
