//go:build !unix

package tty

import "os"

// CanSuspend says why not: there is no such thing here.
func CanSuspend() error { return ErrNoShell }

// StopAndWait does nothing.
func StopAndWait(*os.File, <-chan struct{}) error { return ErrNoShell }

// Woken does nothing: here is no stop.
func Woken(chan<- os.Signal) {}
