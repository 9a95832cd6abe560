package cells

import "strings"

// Big type: letters of three by five dots, drawn as half blocks, so that a line of it is three rows
// high. It is for what must be read from an arm's length or from a photograph of the screen.

// BigRows is the height of a line of big type.
const BigRows = 3

// bigDots are the letters, five rows of dots each, top first.
var bigDots = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"}, '1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"}, '3': {"###", "  #", " ##", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"}, '5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"}, '7': {"###", "  #", " # ", " # ", " # "},
	'8': {"###", "# #", "###", "# #", "###"}, '9': {"###", "# #", "###", "  #", "###"},
	'A': {" # ", "# #", "###", "# #", "# #"}, 'B': {"## ", "# #", "## ", "# #", "## "},
	'C': {" ##", "#  ", "#  ", "#  ", " ##"}, 'D': {"## ", "# #", "# #", "# #", "## "},
	'E': {"###", "#  ", "## ", "#  ", "###"}, 'F': {"###", "#  ", "## ", "#  ", "#  "},
	'G': {" ##", "#  ", "# #", "# #", " ##"}, 'H': {"# #", "# #", "###", "# #", "# #"},
	'I': {"###", " # ", " # ", " # ", "###"}, 'J': {"  #", "  #", "  #", "# #", " # "},
	'K': {"# #", "# #", "## ", "# #", "# #"}, 'L': {"#  ", "#  ", "#  ", "#  ", "###"},
	'M': {"# #", "###", "###", "# #", "# #"}, 'N': {"## ", "# #", "# #", "# #", "# #"},
	'O': {" # ", "# #", "# #", "# #", " # "}, 'P': {"## ", "# #", "## ", "#  ", "#  "},
	'Q': {" # ", "# #", "# #", " # ", "  #"}, 'R': {"## ", "# #", "## ", "# #", "# #"},
	'S': {" ##", "#  ", " # ", "  #", "## "}, 'T': {"###", " # ", " # ", " # ", " # "},
	'U': {"# #", "# #", "# #", "# #", "###"}, 'V': {"# #", "# #", "# #", "# #", " # "},
	'W': {"# #", "# #", "###", "###", "# #"}, 'X': {"# #", "# #", " # ", "# #", "# #"},
	'Y': {"# #", "# #", " # ", " # ", " # "}, 'Z': {"###", "  #", " # ", "#  ", "###"},
	'/': {"  #", "  #", " # ", "#  ", "#  "}, ':': {" ", "#", " ", "#", " "},
	'.': {" ", " ", " ", " ", "#"}, '-': {"   ", "   ", "###", "   ", "   "},
	'+': {"   ", " # ", "###", " # ", "   "}, ' ': {" ", " ", " ", " ", " "},
}

// BigWidth gives the columns of a text in big type; ok is false when it has a letter that there is none
// for.
func BigWidth(text string) (cols int, ok bool) {
	for i, r := range []rune(strings.ToUpper(text)) {
		d, known := bigDots[r]
		if !known {
			return 0, false
		}
		if i > 0 {
			cols++
		}
		cols += len(d[0])
	}
	return cols, true
}

// Big draws a text in big type and gives the column after it. Capitals and small letters look alike.
func (w Window) Big(x, y int, text string, s Style) int {
	for i, r := range []rune(strings.ToUpper(text)) {
		d, known := bigDots[r]
		if !known {
			continue
		}
		if i > 0 {
			x++
		}
		for c := range len(d[0]) {
			for row := range BigRows {
				upper, lower := d[2*row][c] == '#', 2*row+1 < len(d) && d[2*row+1][c] == '#'
				switch {
				case upper && lower:
					w.Set(x+c, y+row, '█', s)
				case upper:
					w.Set(x+c, y+row, '▀', s)
				case lower:
					w.Set(x+c, y+row, '▄', s)
				}
			}
		}
		x += len(d[0])
	}
	return x
}
