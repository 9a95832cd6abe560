package manual

import "strings"

// Page fits a page of Markdown to a terminal of so many columns, 0 where there is none: titles, paragraphs, and lists
// of keys in backticks.
func Page(markdown string, columns int) string {
	w := newPage(columns)
	para := ""
	flush := func() {
		lead, rest := "", ""
		text := strings.ReplaceAll(para, "`", "")
		if item, ok := strings.CutPrefix(text, "- "); ok {
			lead, rest, text = "  ", "      ", item
		}
		if text != "" {
			w.para(lead, rest, text)
		}
		para = ""
	}
	for _, line := range strings.Split(strings.TrimSpace(markdown), "\n") {
		switch {
		case line == "":
			flush()
			w.WriteByte('\n')
		case strings.HasPrefix(line, "#"):
			flush()
			w.WriteString(strings.TrimLeft(line, "# ") + "\n")
		case strings.HasPrefix(line, "- "):
			flush()
			para = line
		default:
			para = strings.TrimSpace(para + " " + line)
		}
	}
	flush()
	return w.String()
}
