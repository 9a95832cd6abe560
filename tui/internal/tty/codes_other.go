//go:build !windows

package tty

import "os"

// ActsOnCodes is false: what a terminal can do is told by TERM here.
func ActsOnCodes(*os.File) bool { return false }
