//go:build unix

package tty

import (
	"os"

	"golang.org/x/sys/unix"
)

// CellSize returns the size of a terminal's cell in pixels, 0 where the terminal does not tell it.
func CellSize(f *os.File) (w, h int) {
	s, err := unix.IoctlGetWinsize(int(f.Fd()), unix.TIOCGWINSZ)
	if err != nil || s.Col == 0 || s.Row == 0 {
		return 0, 0
	}
	return int(s.Xpixel) / int(s.Col), int(s.Ypixel) / int(s.Row)
}
