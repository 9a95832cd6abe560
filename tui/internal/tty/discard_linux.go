package tty

import (
	"os"

	"golang.org/x/sys/unix"
)

// DiscardOutput throws away what a terminal has not taken yet.
func DiscardOutput(f *os.File) { _ = unix.IoctlSetInt(int(f.Fd()), unix.TCFLSH, unix.TCOFLUSH) }
