// Package tty is what the system offers for a terminal beyond reading and writing: throwing away what it has not taken
// yet, and stopping until a shell wakes the program.
package tty

import "errors"

// ErrNoShell says why a program cannot be suspended. To stop without anybody who could wake it would leave a
// person before a dead screen.
var ErrNoShell = errors.New("this cannot be suspended here: no shell waits to take the terminal back")
