//go:build unix

package tty

import (
	"os"
	"os/signal"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// CanSuspend says why not, where it can be told beforehand: who leads a group of processes whose parent is in
// another session has no shell that waits for it.
func CanSuspend() error {
	if unix.Getpgrp() != unix.Getpid() {
		return nil // another one leads; the try tells
	}
	own, _ := unix.Getsid(0) // one's own is always told
	if parent, err := unix.Getsid(unix.Getppid()); err != nil || parent != own {
		return ErrNoShell
	}
	return nil
}

// How long to wait for the stop to take effect, and after that for the signal that ended it: a group of
// processes of which no shell knows is not stopped at all (POSIX, orphaned process group).
const (
	stopTime = 300 * time.Millisecond
	wakeTime = 100 * time.Millisecond
)

// StopAndWait stops the group of processes, as a terminal does at Ctrl-Z, until it goes on in the foreground of the
// terminal in. Once leaving is closed it does not return: who is woken to be ended touches the terminal no more.
// SIGTSTP must never have been asked for (signal.Notify): the runtime of Go would swallow it from then on.
func StopAndWait(in *os.File, leaving <-chan struct{}) error {
	woken := make(chan os.Signal, 1)
	signal.Notify(woken, syscall.SIGCONT)
	defer signal.Stop(woken)
	for {
		if err := syscall.Kill(0, syscall.SIGTSTP); err != nil {
			return err
		}
		if !wasStopped(woken) {
			return ErrNoShell
		}
		select {
		case <-leaving:
			select {}
		case <-time.After(wakeTime):
		}
		if inForeground(in) {
			return nil
		}
	}
}

// wasStopped waits for the program to be woken; false when it was never stopped. The clock goes on during a
// stop: the second wait begins after it.
func wasStopped(woken <-chan os.Signal) bool {
	for _, d := range []time.Duration{stopTime, wakeTime} {
		select {
		case <-woken:
			return true
		case <-time.After(d):
		}
	}
	return false
}

// inForeground tells whether the terminal is this group's.
func inForeground(in *os.File) bool {
	group, err := unix.IoctlGetInt(int(in.Fd()), unix.TIOCGPGRP)
	return err != nil || group == unix.Getpgrp()
}

// Woken has a channel hear that the process goes on after it was stopped, by whomever.
func Woken(c chan<- os.Signal) { signal.Notify(c, syscall.SIGCONT) }
