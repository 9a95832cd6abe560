//go:build unix

package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// syncDir forces a folder's entries to the disk, so that a rename survives a power cut. File systems
// that cannot do it, and folders that may be written but not read, are not an error.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer d.Close()
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) || errors.Is(err, fs.ErrPermission) {
		return nil
	}
	return err
}

// keepOwner returns a new file the owner of the old one where that is not us anyway. Only root may; for
// others the group alone may work.
func keepOwner(f *os.File, old fs.FileInfo) {
	st, ok := old.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	if f.Chown(int(st.Uid), int(st.Gid)) != nil {
		_ = f.Chown(-1, int(st.Gid))
	}
}

// alive tells whether a process exists on this computer.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
