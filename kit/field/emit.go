package field

import (
	"strconv"
	"strings"
)

// flowText writes a tree on one line.
func flowText(n *node) string {
	parts := make([]string, len(n.items))
	for i, item := range n.items {
		parts[i] = flowText(item)
		if n.kind == mapNode {
			parts[i] = scalarSource(n.keys[i], true) + ": " + parts[i]
		}
	}
	switch n.kind {
	case mapNode:
		return "{" + strings.Join(parts, ", ") + "}"
	case listNode:
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return scalarSource(n, true)
}

// scalarSource writes a scalar on one line: plain where it was plain and may be, in quotation
// marks otherwise.
func scalarSource(n *node, inFlow bool) string {
	if n.null {
		return "~"
	}
	text := n.value
	if n.style == literal || n.style == folded {
		text = strings.TrimRight(text, "\n")
	}
	if n.style == plain && plainSafe(text, inFlow) {
		return text
	}
	return quoteYAML(text)
}

// quoteYAML puts text in double quotation marks.
func quoteYAML(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(text) + `"`
}

// plainSafe tells whether text means itself without quotation marks. It errs on the safe side.
func plainSafe(text string, inFlow bool) bool {
	if isNull(text) || strings.TrimSpace(text) != text || strings.ContainsAny(text, "\n\t") ||
		strings.Contains(text, ": ") || strings.Contains(text, " #") || strings.HasSuffix(text, ":") {
		return false
	}
	if inFlow && strings.ContainsAny(text, ",[]{}:?&*!|>%@#`'\"") && !clockLike(text) {
		return false
	}
	switch c := text[0]; {
	case c == '-' || c == '+' || c == '.':
		return len(text) > 1 && strings.IndexByte("0123456789.", text[1]) >= 0 && text != "..." && !strings.HasPrefix(text, "--")
	case strings.IndexByte("?:,[]{}#&*!|>'\"%@`=<", c) >= 0:
		return false
	}
	return true
}

// clockLike tells a date and time, whose colons are harmless inside braces.
func clockLike(text string) bool {
	return strings.Trim(text, "0123456789-+T:.Z ") == ""
}

// looksOther tells whether another YAML reader would take plain text for a number or a truth.
func looksOther(text string) bool {
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return true
	}
	switch strings.ToLower(text) {
	case "true", "false", "yes", "no", "on", "off", "y", "n":
		return true
	}
	return false
}
