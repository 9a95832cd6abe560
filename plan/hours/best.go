package hours

import (
	"cmp"
	"math"
	"slices"

	"example.org/skywedge/sun"
)

// Window is a run of hours that are near the best: of a day without a gap, of a year in neighbouring
// weeks and hours.
type Window struct {
	Cells []int // indices into Hours.Cells, in order
	Best  int   // the best of them; of equals the one nearest to the middle
}

// mostWindows is how many windows are worth a line (ours).
const mostWindows = 5

// Windows finds the best windows by a measure, the best first, at most five: hours whose value lies
// within a little of the best, how little depends on the measure. The call's measure counts besides what it costs
// that the light is not the light wanted; for the others the hours as wanted come first, and the rest counts only where
// there is none. The sun's altitude is neither good nor bad; its windows are those of low sun, 0° to 6°. An hour that
// cannot be exposed is in none.
func (h *Hours) Windows(m Measure) []Window {
	wanted := m != Score && m != Sun && h.anyAsWanted(m)
	has := func(i int) bool {
		c := &h.Cells[i]
		_, ok := c.Value(m)
		return ok && c.State == Good && (!wanted || c.AsWanted())
	}
	worth := func(i int) float64 {
		v := measures[m].better * h.Cells[i].Values[m]
		if m == Score {
			v -= h.Cells[i].OffStops
		}
		return v
	}
	best := math.Inf(-1)
	for i := range h.Cells {
		if has(i) {
			best = max(best, worth(i))
		}
	}
	in := func(i int) bool {
		switch {
		case !has(i):
			return false
		case m == Sun:
			v := h.Cells[i].Values[m]
			return v >= 0 && v < sun.LowSunDeg && !h.Cells[i].Behind
		case math.IsInf(best, 1):
			return math.IsInf(worth(i), 1)
		}
		return worth(i) >= best-measures[m].near
	}
	rank := func(i int) float64 {
		if m == Sun {
			return 0
		}
		return worth(i)
	}
	var list []Window
	seen := make([]bool, len(h.Cells))
	for i := range h.Cells {
		if seen[i] || !in(i) {
			continue
		}
		w := Window{Cells: h.flood(i, seen, in)}
		w.Best = h.bestIn(w.Cells, rank)
		list = append(list, w)
	}
	slices.SortStableFunc(list, func(a, b Window) int {
		if c := cmp.Compare(math.Round(100*rank(b.Best)), math.Round(100*rank(a.Best))); c != 0 {
			return c
		}
		return len(b.Cells) - len(a.Cells)
	})
	return list[:min(len(list), mostWindows)]
}

// anyAsWanted tells whether some hour with a value has the light wanted.
func (h *Hours) anyAsWanted(m Measure) bool {
	for i := range h.Cells {
		if c := &h.Cells[i]; c.State == Good && c.AsWanted() && !math.IsNaN(c.Values[m]) {
			return true
		}
	}
	return false
}

// flood gathers the cells that belong together with one.
func (h *Hours) flood(from int, seen []bool, in func(int) bool) []int {
	cells := []int{from}
	seen[from] = true
	for k := 0; k < len(cells); k++ {
		for _, n := range h.beside(cells[k]) {
			if !seen[n] && in(n) {
				seen[n] = true
				cells = append(cells, n)
			}
		}
	}
	slices.Sort(cells)
	return cells
}

// beside returns the neighbours of a cell: the steps before and after, and of a year the weeks too. The
// hours before and after midnight belong to different days of a week apart.
func (h *Hours) beside(i int) []int {
	var list []int
	add := func(n int, ok bool) {
		if ok && n >= 0 && n < len(h.Cells) {
			list = append(list, n)
		}
	}
	if h.Over == OverDay {
		add(i-1, true)
		add(i+1, true)
		return list
	}
	add(i-1, i%h.Rows > 0)
	add(i+1, i%h.Rows < h.Rows-1)
	add(i-h.Rows, true)
	add(i+h.Rows, true)
	return list
}

// bestIn picks the best cell of a window.
func (h *Hours) bestIn(cells []int, rank func(int) float64) int {
	var col, row float64
	for _, i := range cells {
		col += float64(i / h.Rows)
		row += float64(i % h.Rows)
	}
	col, row = col/float64(len(cells)), row/float64(len(cells))
	middle := func(i int) float64 {
		if h.Over == OverDay {
			return math.Abs(float64(i) - float64(h.Rows)*col - row)
		}
		return math.Hypot(float64(i/h.Rows)-col, float64(i%h.Rows)-row)
	}
	return slices.MinFunc(cells, func(a, b int) int {
		if c := cmp.Compare(math.Round(100*rank(b)), math.Round(100*rank(a))); c != 0 {
			return c
		}
		return cmp.Compare(middle(a), middle(b))
	})
}

// box returns the columns and rows that a window spans.
func (w *Window) box(h *Hours) (fromCol, toCol, fromRow, toRow int) {
	fromCol, fromRow = h.Cols, h.Rows
	for _, i := range w.Cells {
		c, r := i/h.Rows, i%h.Rows
		fromCol, toCol = min(fromCol, c), max(toCol, c)
		fromRow, toRow = min(fromRow, r), max(toRow, r)
	}
	return fromCol, toCol, fromRow, toRow
}
