package lens

import "math"

// layout is where the pictures stand in a room.
type layout struct {
	w, h   int      // of the whole frame, pixels: two to a cell's height
	at     [][2]int // of each picture, cells
	halves bool     // of the frame, side by side without a gap
	end    int      // the line below the last label
}

// leastWhole is the height in pixels from which a whole frame says more than a half that is larger (ours).
const leastWhole = 18

// gap is the columns between two frames that stand side by side.
const gap = 2

// arrange places one picture or two in a room, each with a line for its label, and a line below for what is drawn in
// them. Two stand one above the other or side by side, whichever makes them larger.
func arrange(cols, rows int, tall float64, two bool) layout {
	if !two {
		return one(cols, rows, tall)
	}
	w, h := fit(cols, 2*((rows-3)/2), tall)
	sw, sh := fit((cols-gap)/2, 2*(rows-2), tall)
	switch {
	case max(h, sh) < leastWhole:
		l := one(cols, rows, tall)
		l.halves, l.at = true, [][2]int{l.at[0], {l.at[0][0] + l.w/2, l.at[0][1]}}
		return l
	case sw*sh > w*h:
		x := (cols - 2*sw - gap) / 2
		return layout{w: sw, h: sh, at: [][2]int{{x, 0}, {x + sw + gap, 0}}, end: sh/2 + 1}
	}
	x := (cols - w) / 2
	return layout{w: w, h: h, at: [][2]int{{x, 0}, {x, h/2 + 1}}, end: h + 2}
}

func one(cols, rows int, tall float64) layout {
	w, h := fit(cols, 2*max(1, rows-2), tall)
	return layout{w: w, h: h, at: [][2]int{{(cols - w) / 2, 0}}, end: h/2 + 1}
}

// fit returns the largest frame of a shape, with an even number of columns and of lines.
func fit(cols, lines int, tall float64) (w, h int) {
	w, h = cols, int(math.Round(float64(cols)*tall))
	if h > lines {
		h, w = lines, int(math.Round(float64(lines)/tall))
	}
	return max(2, min(w, cols)&^1), max(2, h&^1)
}

// Rows returns how many lines pictures and words take in a column, of at most so many.
func Rows(cols, most int, tall float64, two bool) int {
	return min(most, arrange(cols, most, tall, two).end+1)
}

// Whole tells whether all of the frame is shown then.
func Whole(cols, most int, tall float64, two bool) bool {
	return !arrange(cols, most, tall, two).halves
}
