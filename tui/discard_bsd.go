//go:build darwin || dragonfly || freebsd || netbsd || openbsd

package tui

import (
	"os"

	"golang.org/x/sys/unix"
)

// discardOutput throws away what a terminal has not taken yet.
func discardOutput(f *os.File) {
	const fwrite = 2 // FWRITE of sys/fcntl.h: the queue for output
	_ = unix.IoctlSetPointerInt(int(f.Fd()), unix.TIOCFLUSH, fwrite)
}
