package cells

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// RuneWidth gives the columns of one character: 0 for control characters and marks that combine,
// 2 for wide ones, else 1. It is the only measure of width; block and line characters are one
// column whatever the locale says.
func RuneWidth(r rune) int {
	switch {
	case r >= 0x20 && r < 0x7f:
		return 1
	case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xad:
		return 0
	case r < 0x300 || r >= 0x2010 && r < 0x2028 || r >= 0x2190 && r < 0x231a || r >= 0x2500 && r < 0x25fd:
		return 1
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) || r == utf8.RuneError:
		return 0
	}
	return max(0, min(2, ansi.StringWidth(string(r))))
}

// Width gives the columns of a text.
func Width(s string) int {
	n := 0
	for _, r := range s {
		n += RuneWidth(r)
	}
	return n
}

// Cut shortens a text to so many columns; a cut one ends in "…".
func Cut(s string, cols int) string {
	if Width(s) <= cols {
		return s
	}
	if cols <= 0 {
		return ""
	}
	n := 0
	for i, r := range s {
		w := RuneWidth(r)
		if n+w > cols-1 {
			return strings.TrimRight(s[:i], " ") + "…"
		}
		n += w
	}
	return s
}

// Wrap breaks a text into lines of at most so many columns, at blanks where it can.
func Wrap(s string, cols int) []string {
	if cols < 1 {
		return nil
	}
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for Width(word) > cols {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			n, cut := 0, len(word)
			for i, r := range word {
				if n+RuneWidth(r) > cols {
					cut = i
					break
				}
				n += RuneWidth(r)
			}
			if cut == 0 { // a wide character in a single column
				_, cut = utf8.DecodeRuneInString(word)
			}
			lines, word = append(lines, word[:cut]), word[cut:]
		}
		switch {
		case line == "":
			line = word
		case Width(line)+1+Width(word) <= cols:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// CutMiddle shortens a text to so many columns and keeps both its ends: of a path the file is what counts.
func CutMiddle(s string, cols int) string {
	if Width(s) <= cols || cols < 5 {
		return Cut(s, cols)
	}
	head := strings.TrimSuffix(Cut(s, cols/3), "…")
	tail := []rune(s)
	for Width(head)+1+Width(string(tail)) > cols {
		tail = tail[1:]
	}
	return head + "…" + string(tail)
}

// leastTail is how much of the end of a line is worth being shown when it is shortened, columns; ours.
const leastTail = 16

// Fit shortens a line: the path at its end in the middle as far as that goes, else the line, and then a hint says how
// all of it is shown. path is "" for a line that names no file.
func Fit(text, path string, cols int, hint string) string {
	if Width(text) <= cols {
		return text
	}
	lead := strings.TrimSuffix(text, path)
	room := cols - Width(lead)
	switch {
	case path != "" && room >= leastTail:
		return lead + CutMiddle(path, room)
	case path != "" && Width(strings.TrimSuffix(lead, ": "))+Width(hint) <= cols:
		return strings.TrimSuffix(lead, ": ") + hint
	}
	return Cut(text, cols-Width(hint)) + hint
}
