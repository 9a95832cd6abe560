package tty

import (
	"os"

	"golang.org/x/sys/windows"
)

// ActsOnCodes tells whether the output is a console that acts on codes for colour and for moving the cursor, and asks it
// to when it can and does not yet. Microsoft's reference of SetConsoleMode: a console too old for it refuses the mode.
func ActsOnCodes(out *os.File) bool {
	console := windows.Handle(out.Fd())
	var mode uint32
	if err := windows.GetConsoleMode(console, &mode); err != nil {
		return false // a file, a pipe, or the terminal of another shell
	}
	const wanted = windows.ENABLE_PROCESSED_OUTPUT | windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING
	return mode&wanted == wanted || windows.SetConsoleMode(console, mode|wanted) == nil
}
