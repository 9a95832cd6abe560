//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package store

import (
	"errors"
	"os"
	"syscall"
)

// lockFile opens a file and holds it, or returns errHeld.
func lockFile(name string) (*os.File, error) {
	for range 100 {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return nil, err
		}
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != nil {
			f.Close()
			switch {
			case errors.Is(err, syscall.EWOULDBLOCK):
				return nil, errHeld
			case errors.Is(err, syscall.EINTR):
				continue
			}
			return nil, err
		}
		// The window before may have removed the file between our opening and holding it; then we hold
		// a file without a name, which stops nobody.
		if here, err := f.Stat(); err == nil {
			if there, err := os.Stat(name); err == nil && os.SameFile(here, there) {
				return f, nil
			}
		}
		f.Close()
	}
	return nil, errors.New("the lock file keeps changing; try again")
}

// unlockFile removes the file while it is still held, then lets it go.
func unlockFile(f *os.File) {
	os.Remove(f.Name())
	f.Close()
}
