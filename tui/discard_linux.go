package tui

import (
	"os"

	"golang.org/x/sys/unix"
)

// discardOutput throws away what a terminal has not taken yet.
func discardOutput(f *os.File) { _ = unix.IoctlSetInt(int(f.Fd()), unix.TCFLSH, unix.TCOFLUSH) }
