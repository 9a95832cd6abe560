// Package early decides the terminal's background before any library asks the terminal for it.
//
// The terminal library queries the background colour while it is initialised, and a terminal that
// never answers costs five seconds at every start. Go initialises packages that are ready in the
// alphabetical order of their import paths, and this one's comes before the library's, so the
// question is already answered when the library's turn comes. The workbench picks its palette from
// --theme and COLORFGBG alone and never needs the answer.
package early

import (
	"os"

	"example.org/skywedge/tui/cells"
	"github.com/charmbracelet/lipgloss"
)

func init() {
	lipgloss.SetHasDarkBackground(!cells.LightGround(os.Getenv("COLORFGBG")))
}
