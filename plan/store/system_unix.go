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

// mayReplace tells whether a folder lets us put another file in the place of one. In a folder with the sticky bit (unlink(2))
// only root and the owner of either may; asked later, a second name for the old version could not be taken away again.
func mayReplace(dir string, old fs.FileInfo) bool {
	folder, err := os.Stat(dir)
	if err != nil || folder.Mode()&fs.ModeSticky == 0 || os.Geteuid() == 0 {
		return true
	}
	for _, info := range []fs.FileInfo{folder, old} {
		if st, ok := info.Sys().(*syscall.Stat_t); ok && int(st.Uid) == os.Geteuid() {
			return true
		}
	}
	return false
}

// keepOwner returns a new file the owner of the old one where that is not us anyway. Only root may; for
// others the group alone may work.
func keepOwner(f *os.File, old fs.FileInfo) {
	if st, ok := old.Sys().(*syscall.Stat_t); ok && f.Chown(int(st.Uid), int(st.Gid)) != nil {
		_ = f.Chown(-1, int(st.Gid))
	}
}

// systemFolder returns nothing: only Windows names a folder for programs in a variable of its own.
func systemFolder(string) string { return "" }

// alive tells whether a process exists on this computer.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
