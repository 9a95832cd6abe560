package store

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Window is one run of the program. What it keeps goes by its own name, so that it never replaces or removes
// what another window keeps, open or gone. The zero value is ready to use; one goroutine at a time may use it.
type Window struct {
	id   string
	lock *os.File
}

const windowLock = "window-" // and the name of the window

// Keep writes a document to a recovery file and returns its name. The file stands for the document's path and
// for a version: it is written anew as long as both are the same. Only the user can read it.
func (w *Window) Keep(r Recovery, version int) (file string, err error) {
	abs, err := filepath.Abs(r.Path)
	if err == nil {
		err = w.hold()
	}
	if err != nil {
		return "", notKept(err)
	}
	name := key(r.Path) + "-" + w.id + "-" + strconv.Itoa(version) + ".recovery"
	r.Path = abs
	data, err := r.encode()
	if err == nil {
		file, err = stateFile(recoveryFolder, name)
	}
	if err == nil {
		err = save(file, data, 0o600, false)
	}
	if err != nil {
		return "", notKept(err)
	}
	return file, nil
}

// notKept says where the recovery files should be: what is wrong is mostly wrong with that folder.
func notKept(err error) error {
	dir, dirErr := StateDir()
	if dirErr != nil {
		return dirErr
	}
	var known *FileError
	if errors.As(err, &known) {
		return about(dir, "write", err)
	}
	return &FileError{Reason: bare(err).Error(), Remedy: "mend this folder", Path: dir, Err: err}
}

// Drop removes a recovery file that this window wrote.
func (w *Window) Drop(file string) error { return discard(file) }

// Close tells other windows that this one is gone: what it kept may be decided on.
func (w *Window) Close() {
	if w.lock != nil {
		unlockFile(w.lock)
	}
	w.id, w.lock = "", nil
}

// hold gives the window a name, and a mark that the system takes away when the process ends. Where there are
// no such marks, other windows offer what this one keeps.
func (w *Window) hold() error {
	for w.id == "" {
		var b [8]byte
		rand.Read(b[:]) // never fails
		id := hex.EncodeToString(b[:])
		file, err := stateFile(lockFolder, windowLock+id+lockSuffix)
		if err != nil {
			return err
		}
		f, err := lockFile(file)
		if errors.Is(err, errHeld) {
			continue // somebody looks just now whether it is held
		}
		w.id, w.lock = id, f // without a mark it works too
	}
	return nil
}

// windowOpen tells whether a window is still open.
func windowOpen(id string) bool {
	dir, err := StateDir()
	return err == nil && held(filepath.Join(dir, lockFolder, windowLock+id+lockSuffix))
}

// held tells whether a lock file is held; one that is not is removed.
func held(file string) bool {
	if _, err := os.Lstat(file); err != nil {
		return false
	}
	f, err := lockFile(file)
	if f != nil {
		unlockFile(f)
	}
	return errors.Is(err, errHeld)
}

// sweepWindows removes the marks of windows that were killed.
func sweepWindows() {
	dir, err := StateDir()
	if err != nil {
		return
	}
	dir = filepath.Join(dir, lockFolder)
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), windowLock) {
			held(filepath.Join(dir, e.Name()))
		}
	}
}
