package field

import "strings"

// nearest gives the word that a misspelt one was probably meant to be, or "": a third of its
// letters may differ (ours), a swap of neighbours counting as one difference.
func nearest(text string, words []string) string {
	if len(text) > 60 || text == "" {
		return ""
	}
	best, least := "", 0
	low := strings.ToLower(text)
	for _, w := range words {
		if w == text {
			continue
		}
		d := distance(low, strings.ToLower(w))
		if i := strings.LastIndexByte(w, '_'); i > 0 && !strings.Contains(low, "_") {
			d = min(d, 1+distance(low, w[:i])) // the unit was forgotten
		}
		if d <= max(1, min(len(w), len(text))/3) && d < min(len(w), len(text)) && (best == "" || d < least) {
			best, least = w, d
		}
	}
	return best
}

// distance counts the letters to insert, delete, replace or swap with their neighbour (optimal
// string alignment: Damerau 1964).
func distance(a, b string) int {
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

// suggest says what an unknown key was probably meant to be: a key of this map, or one that
// belongs elsewhere in the document; "" when nothing comes near.
func suggest(key string, here, root *Spec) string {
	keys := make([]string, len(here.Fields))
	for i := range here.Fields {
		keys[i] = here.Fields[i].Key
	}
	if w := nearest(key, keys); w != "" {
		return w
	}
	elsewhere := ""
	Walk(root, func(path string, s *Spec) {
		if s.Key == key && elsewhere == "" {
			elsewhere = path
		}
	})
	return elsewhere
}
