package compass

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/skywedge/tui/cells"
)

// tags are legs' numbers to be written on a drawing. Numbers that would run into each other are written
// as one: 1,2 or 6-9.
type tags []tag

type tag struct {
	col, row int
	legs     []int // their numbers, from 1, rising
}

// add puts a leg's number at a cell, or to a tag that is too near to tell apart.
func (t *tags) add(col, row, leg int) {
	const near = 2
	for i := range *t {
		if k := &(*t)[i]; k.row == row && absInt(k.col-col) <= near {
			if !slices.Contains(k.legs, leg) {
				k.legs = append(k.legs, leg)
				slices.Sort(k.legs)
			}
			return
		}
	}
	*t = append(*t, tag{col, row, []int{leg}})
}

// part is a piece of a tag's text: a leg's number, or a run of them, or what stands between.
type piece struct {
	text     string
	from, to int // legs; 0: none
}

// parts writes a tag; the leg at the playhead is always written out.
func (t *tag) pieces(here int) []piece {
	var out []piece
	for i := 0; i < len(t.legs); {
		j := i
		for j+1 < len(t.legs) && t.legs[j+1] == t.legs[j]+1 && t.legs[j+1] != here && t.legs[i] != here {
			j++
		}
		if i > 0 {
			out = append(out, piece{text: ","})
		}
		if j > i+1 {
			out = append(out, piece{fmt.Sprintf("%d-%d", t.legs[i], t.legs[j]), t.legs[i], t.legs[j]})
		} else {
			j = i
			out = append(out, piece{fmt.Sprint(t.legs[i]), t.legs[i], t.legs[i]})
		}
		i = j + 1
	}
	return out
}

// draw writes all of them into a window, inside its edges. ground returns the style at a cell.
func (t tags) draw(w cells.Window, here int, ground func(col, row int) cells.Style, mark func(cells.Style) cells.Style) {
	cols, _ := w.Size()
	slices.SortStableFunc(t, func(a, b tag) int { return cmp.Or(a.row-b.row, a.col-b.col) })
	end, row := 0, -1 // of the tag before
	for i := range t {
		pieces := t[i].pieces(here)
		width := 0
		for _, p := range pieces {
			width += len(p.text)
		}
		if t[i].row != row {
			end, row = 0, t[i].row
		}
		x := max(0, min(max(t[i].col, end), cols-width))
		end = x + width + 1
		for _, p := range pieces {
			for _, r := range p.text {
				style := ground(x, t[i].row)
				if p.from == here {
					style = mark(style)
				}
				w.Set(x, t[i].row, r, style)
				x++
			}
		}
	}
}
