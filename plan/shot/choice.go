package shot

import "strings"

// either lists words: "a", "a or b", "a, b or c".
func either(words []string) string {
	switch n := len(words); n {
	case 0:
		return "there is none"
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
}

// choice lists the names that are allowed, with the likeliest one for what was written in front.
func choice(wrote string, names []string) string {
	list := either(names)
	if best := nearest(wrote, names); best != "" && len(names) > 1 {
		return list + " (did you mean " + best + "?)"
	}
	return list
}

// nearest gives the name that takes the fewest keystrokes to come to, "" when none is near: more
// than a third of its letters would change.
func nearest(wrote string, names []string) string {
	if wrote == "" {
		return ""
	}
	best, least := "", 1<<30
	for _, n := range names {
		d := strokes(strings.ToLower(wrote), strings.ToLower(n))
		if strings.HasPrefix(strings.ToLower(n), strings.ToLower(wrote)) {
			d = 0 // the beginning of a name stands for it
		}
		if d < least && 3*d <= len([]rune(n)) {
			best, least = n, d
		}
	}
	return best
}

// strokes counts the letters to insert, remove or change between two words (Levenshtein 1966).
func strokes(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 80 {
		x = x[:80]
	}
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := diagonal
			if x[i-1] != y[j-1] {
				change++
			}
			diagonal = row[j]
			row[j] = min(change, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(y)]
}
