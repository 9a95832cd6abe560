// Package pixels puts true pictures over those in half blocks, in terminals that can show them.
//
// The one hard idea: the screen is always whole without it. The cells hold the picture in half blocks, and once the
// screen has rested a true one is laid over them; any key takes it off again, so nothing waits for it. What else
// stands in those cells, a word or a box that was opened, stays readable: there the true picture is transparent. So
// the panes need not know of it: they say where a picture stands ([cells.Window.Patch]) and what draws it ([Source]).
//
// A [Layer] decides when, in the loop of the workbench; it draws in the background. A [Sender] has what goes to the
// terminal and hands it to the terminal's writer in small pieces, after everything else. The protocol is that of
// kitty, which other terminals have too (its graphics protocol, as its documentation describes it): a picture is
// sent as PNG under a number, placed at cells, and freed by its number.
package pixels

import (
	"strings"

	"example.org/skywedge/tui/cells"
)

// Mode says whether true pictures are shown.
type Mode uint8

// The modes.
const (
	Never Mode = iota // whatever --pixels says
	Off
	Ask  // if the terminal says that it has them
	Sure // without asking
)

// Words are the words of --pixels.
var Words = []string{"auto", "off", "kitty"}

// Choose returns the mode for a word of --pixels, "" for auto, and what is known of the terminal. A terminal that shows
// few colours or none is not asked, nor one that might print the question, nor a multiplexer, which would have to pass
// everything on; with their own word they get pictures all the same.
func Choose(word string, pen *cells.Pen, env func(string) string) Mode {
	term := env("TERM")
	switch {
	case pen.ASCII:
		return Never
	case word == "off":
		return Off
	case word == "kitty":
		return Sure
	case env("TMUX") != "" || env("STY") != "" || pen.Profile < cells.TwoFiftySix:
		return Off
	}
	for _, t := range []string{"dumb", "linux", "vt", "screen", "tmux"} {
		if strings.HasPrefix(term, t) {
			return Off
		}
	}
	return Ask
}

// Wrap returns how codes are made to pass a multiplexer, nil where there is none. It has to be told to let them pass, and
// they land right where the pane begins at the upper left corner.
func Wrap(env func(string) string) func(code []byte) []byte {
	if env("TMUX") == "" {
		return nil
	}
	return func(code []byte) []byte {
		return []byte("\x1bPtmux;" + strings.ReplaceAll(string(code), "\x1b", "\x1b\x1b") + "\x1b\\")
	}
}
