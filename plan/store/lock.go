package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

const (
	lockFolder = "locks"
	lockSuffix = ".lock"
)

// Lock marks a card as open in this window. The mark is held by the operating system for as long as
// the process lives: a window that was killed leaves a file behind but no mark, so a stale lock
// cannot be met with, and a process number that was given out again cannot be mistaken for one.
type Lock struct{ file *os.File }

// LockedError says that another window has the card open.
type LockedError struct {
	Path string
	PID  int // process number of that window; 0 when not known
}

func (e *LockedError) Error() string {
	who := "another window"
	if e.PID > 0 {
		who += " (process " + strconv.Itoa(e.PID) + ")"
	}
	return filepath.Base(e.Path) + " is open in " + who + ", so it is read-only here"
}

// Acquire marks a card as open in this window, whether it exists or not. When another window, or
// this process, has it open the error is a *[LockedError]. Any other error means that marks cannot be
// kept here (no state folder, a file system without locks): go on without, a conflict is still
// noticed when saving.
func Acquire(cardPath string) (*Lock, error) {
	file, err := stateFile(lockFolder, key(cardPath)+lockSuffix)
	if err != nil {
		return nil, fmt.Errorf("cannot mark %s as open: %w", cardPath, err)
	}
	f, err := lockFile(file)
	if errors.Is(err, errHeld) {
		return nil, &LockedError{Path: cardPath, PID: holder(file)}
	}
	if err != nil {
		return nil, fmt.Errorf("cannot mark %s as open: %w", cardPath, err)
	}
	// For people and for the message of the other window only: a failure changes nothing.
	if f != nil && f.Truncate(0) == nil {
		_, _ = f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\n"+canonical(cardPath)+"\n"), 0)
	}
	return &Lock{file: f}, nil
}

// Release takes the mark away. Calling it again, or on nil, does nothing.
func (l *Lock) Release() {
	if l == nil || l.file == nil {
		return
	}
	unlockFile(l.file)
	l.file = nil
}

var errHeld = errors.New("held by another window")

// holder reads the process number from a lock file.
func holder(file string) int {
	b, _ := os.ReadFile(file) // it may be gone by now
	first, _, _ := strings.Cut(string(b), "\n")
	pid, err := strconv.Atoi(first)
	if err != nil || pid < 0 {
		return 0
	}
	return pid
}
