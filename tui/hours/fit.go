package hours

import (
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/tui/panel"
)

// room is where everything stands in the room of the view, relative to it.
type room struct {
	pic        panel.Rect // the cells of the heat picture, without its axes
	cw, ch     int        // a cell's columns and rows
	half       bool       // two rows of the picture to a line
	signs      panel.Rect // the legend
	first, n   int        // the rows of the hours that are shown: of a year those of night alone are left out
	words      panel.Rect
	wordsBelow bool
}

// Room for the axes: a label on the left, a line of labels above; and the title over all.
const axisCols, topRows = 4, 2

// The least room for words beside the picture and below it.
const leastBeside, leastBelow = 38, 6

// The largest cells: beyond these the picture only gets coarser.
const mostCellCols, mostCellRows = 6, 5

// fit shares the room out: the largest cells that leave the words their room, beside the picture or
// below it.
func fit(g *hours.Hours, cols, rows int) room {
	var best room
	first, n := rowsShown(g)
	size := 0
	for cw := 1; cw <= mostCellCols; cw++ {
		for ch := 0; ch <= mostCellRows; ch++ { // 0: two to a line
			r := room{cw: cw, ch: ch, half: ch == 0, first: first, n: n}
			tall := n * ch
			if r.half {
				if g.Over == hours.OverDay {
					continue // its few rows have room
				}
				r.ch, tall = 1, (n+1)/2
			}
			r.pic = panel.Box(axisCols, topRows, cw*g.Cols, tall)
			right := cols - r.pic.X - r.pic.W
			down := rows - topRows - tall
			if right < 0 || down < 0 {
				continue
			}
			beside, below := legendRows(r.pic.W), legendRows(cols-axisCols)
			big := 2 * cw * tall // pixels are what counts, then words beside the picture
			switch {
			case right >= leastBeside+2 && rows >= 8 && down >= beside:
				big++
				r.signs = panel.Box(axisCols, topRows+tall, r.pic.W, beside)
				r.words = panel.Box(r.pic.X+r.pic.W+2, 1, right-2, rows-1)
			case down-below >= min(leastBelow, max(3, rows/5)):
				r.wordsBelow = true
				r.signs = panel.Box(axisCols, topRows+tall, cols-axisCols, below)
				r.words = panel.Box(0, topRows+tall+below, cols, down-below)
			default:
				continue
			}
			if big > size {
				best, size = r, big
			}
		}
	}
	return best
}

// rowsShown returns the rows that have something to show: all of a day, and of a year from the first to the
// last hour that is not always night.
func rowsShown(g *hours.Hours) (first, n int) {
	if g.Over == hours.OverDay {
		return 0, g.Rows
	}
	first, last := g.Own%g.Rows, g.Own%g.Rows
	for i := range g.Cells {
		if s := g.Cells[i].State; s != hours.Night && s != hours.Skipped {
			first, last = min(first, i%g.Rows), max(last, i%g.Rows)
		}
	}
	return first, last - first + 1
}

// cell returns where a cell stands in the room of the view: its left column, its line, and whether it is
// the lower of two on the line. ok is false when its row is not shown.
func (r *room) cell(g *hours.Hours, i int) (x, y int, lower, ok bool) {
	row := i%g.Rows - r.first
	if row < 0 || row >= r.n {
		return 0, 0, false, false
	}
	x = r.pic.X + i/g.Rows*r.cw
	if r.half {
		return x, r.pic.Y + row/2, row%2 == 1, true
	}
	return x, r.pic.Y + row*r.ch, false, true
}

// under returns the cell at a point of the room, for the mouse; of two on a line the upper one.
func (r *room) under(g *hours.Hours, x, y int) (i int, ok bool) {
	x, y = x-r.pic.X, y-r.pic.Y
	if x < 0 || y < 0 || x >= r.pic.W || y >= r.pic.H {
		return 0, false
	}
	row := y / r.ch
	if r.half {
		row = 2 * y
	}
	row += r.first
	return x/r.cw*g.Rows + min(row, g.Rows-1), true
}
