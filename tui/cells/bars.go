package cells

import "math"

var eighths = [...]rune{' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇'}

// Bars draws values as columns that grow from the bottom, over so many rows, in eighths of a cell.
// Values run from 0 to 1; NaN leaves its column empty with a dot at the bottom, so that "nothing
// measured" is not taken for nought.
func (w Window) Bars(x, y, rows int, values []float64, s Style, ground Colour) {
	for i, v := range values {
		if math.IsNaN(v) {
			w.Set(x+i, y+rows-1, '·', Style{Fg: Faint})
			continue
		}
		n := int(math.Round(max(0, min(1, v)) * float64(rows*8)))
		if n == 0 {
			n = 1 // a hair line keeps the strip's foot visible
		}
		for r := 0; r < rows; r++ {
			k := n - 8*(rows-1-r)
			switch {
			case k >= 8: // a blank on a ground: full blocks leave seams in some terminals
				w.Set(x+i, y+r, '█', Style{Fg: s.Fg, Bg: s.Fg})
			case k <= 0:
				w.Set(x+i, y+r, ' ', Style{Bg: ground})
			default:
				w.Set(x+i, y+r, eighths[k], s.On(ground))
			}
		}
	}
}
