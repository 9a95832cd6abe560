//go:build darwin || dragonfly || freebsd || netbsd || openbsd

package tty

import (
	"os"

	"golang.org/x/sys/unix"
)

// DiscardOutput throws away what a terminal has not taken yet.
func DiscardOutput(f *os.File) {
	const fwrite = 2 // FWRITE of sys/fcntl.h: the queue for output
	_ = unix.IoctlSetPointerInt(int(f.Fd()), unix.TIOCFLUSH, fwrite)
}
