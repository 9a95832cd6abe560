//go:build !unix

package tui

import (
	"os"
	"syscall"
)

var (
	toEnd     = []os.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGQUIT}
	toSuspend []os.Signal
)

func isSuspend(os.Signal) bool { return false }

func (s *signals) canSuspend() error { return errNoShell }

func (s *signals) stopAndWait() error { return errNoShell }
