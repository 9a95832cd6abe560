package cells

import "slices"

// farthest is how many columns away a blank may be that makes room for a word (ours): what is moved further is no
// longer beside what it belongs to.
const farthest = 40

// degreesSpelt writes "deg" for every degree sign of a row, for a terminal that shows ASCII only: a lone "d" would be
// read as days. A row has no more cells than before, so the two more come from blanks near by, of which one always
// stays. Where there are none the sign is left out.
func degreesSpelt(row, into []Cell) []Cell {
	into = append(into[:0], row...)
	for i := 0; i < len(into); i++ {
		if into[i].Rune != '°' {
			continue
		}
		deg := into[i]
		spare := spareAfter(into, i)
		if len(spare) < 2 {
			spare = spareBefore(into, i)
		}
		if len(spare) < 2 {
			into[i].Rune = ' '
			continue
		}
		for _, at := range spare { // the rightmost first
			into = slices.Delete(into, at, at+1)
			if at < i {
				i--
			}
		}
		letters := [3]Cell{deg, deg, deg}
		letters[0].Rune, letters[1].Rune, letters[2].Rune = 'd', 'e', 'g'
		into = slices.Replace(into, i, i+1, letters[:]...)
		i += 2
	}
	return into
}

// spareAfter returns two blanks to the right of a cell that can go, the rightmost first; fewer when there are none. Of
// blanks that stand together the last one stays, at the end of the row all can go. Drawings are not moved.
func spareAfter(row []Cell, i int) []int {
	var spare []int
	for at := i + 1; at < len(row) && at-i <= farthest && !drawn(row[at]); at++ {
		if row[at].Rune != ' ' || at+1 < len(row) && row[at+1].Rune != ' ' {
			continue
		}
		if spare = append(spare, at); len(spare) == 2 {
			slices.Reverse(spare)
			return spare
		}
	}
	return nil
}

// spareBefore looks to the left, for text that ends at an edge.
func spareBefore(row []Cell, i int) []int {
	var spare []int
	for at := i - 1; at >= 0 && i-at <= farthest && !drawn(row[at]); at-- {
		if row[at].Rune != ' ' || at > 0 && row[at-1].Rune != ' ' {
			continue
		}
		if spare = append(spare, at); len(spare) == 2 {
			return spare
		}
	}
	return nil
}

// drawn tells a cell that is no text: lines, blocks, half of a wide character.
func drawn(c Cell) bool { return c.Rune == 0 || c.Rune >= '─' && c.Rune < '☀' }
