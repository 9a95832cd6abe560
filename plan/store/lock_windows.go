package store

import (
	"errors"
	"os"
	"syscall"
)

const errSharingViolation = syscall.Errno(32)

// lockFile opens a file that others may only read for as long as it is open, or returns errHeld.
func lockFile(name string) (*os.File, error) {
	p, err := syscall.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	h, err := syscall.CreateFile(p, syscall.GENERIC_READ|syscall.GENERIC_WRITE, syscall.FILE_SHARE_READ,
		nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if errors.Is(err, errSharingViolation) {
		return nil, errHeld
	}
	if err != nil {
		return nil, err
	}
	return os.NewFile(uintptr(h), name), nil
}

// unlockFile lets the file go and removes it, unless another window took it in between.
func unlockFile(f *os.File) {
	f.Close()
	os.Remove(f.Name())
}
