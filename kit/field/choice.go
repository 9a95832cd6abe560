package field

import "strings"

// Either returns a choice as it is read: "a", "a or b", "a, b or c"; "there is none" of nothing.
func Either[S ~string](choices []S) string {
	if len(choices) == 0 {
		return "there is none"
	}
	var b strings.Builder
	for i, c := range choices {
		switch {
		case i == 0:
		case i == len(choices)-1:
			b.WriteString(" or ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(string(c))
	}
	return b.String()
}

// Choice returns the names that are allowed where another was written, with the one that was probably
// meant: "a, b or c (did you mean b?)".
func Choice(wrote string, names []string) string {
	list := Either(names)
	if best := Nearest(wrote, names); best != "" && len(names) > 1 {
		list += " (did you mean " + best + "?)"
	}
	return list
}

// Nearest returns the name that a misspelt one was probably meant to be, or "". Two letters or more
// that begin a name stand for it; otherwise a third of its letters may differ, one at least (ours).
// Capitals count like small letters, and a forgotten unit ("height" for height_m) as one difference.
func Nearest(wrote string, names []string) string {
	if wrote == "" || len(wrote) > 60 {
		return ""
	}
	best, least := "", 0
	low := []rune(strings.ToLower(wrote))
	for _, name := range names {
		if name == wrote {
			continue
		}
		lowName := strings.ToLower(name)
		other := []rune(lowName)
		d := distance(low, other)
		if i := strings.LastIndexByte(lowName, '_'); i > 0 && !strings.Contains(string(low), "_") {
			d = min(d, 1+distance(low, []rune(lowName[:i])))
		}
		if len(low) > 1 && strings.HasPrefix(lowName, string(low)) {
			d = 0
		}
		shorter := min(len(low), len(other))
		if d <= max(1, shorter/3) && d < shorter && (best == "" || d < least) {
			best, least = name, d
		}
	}
	return best
}

// distance returns the count of letters to insert, delete, replace or swap with their neighbour
// (optimal string alignment: Damerau 1964).
func distance(a, b []rune) int {
	prev2, prev, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(row[j-1]+1, prev[j]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], prev2[j-2]+1)
			}
		}
		prev2, prev, row = prev, row, prev2
	}
	return prev[len(b)]
}
