package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// writeOutput writes a picture or a sheet so that its file is never half written: beside it first,
// then in its place. What stood there before goes; it can be made again. A link is followed, and
// what is no plain file (a pipe, a device) is written to as it is.
func writeOutput(path string, data []byte) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	st, err := os.Stat(path)
	switch {
	case err == nil && st.IsDir():
		return fmt.Errorf("%s is a folder: give -o the name of a file", path)
	case err == nil && !st.Mode().IsRegular():
		return os.WriteFile(path, data, 0o666)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	mode := fs.FileMode(0o666) // less the umask
	if err == nil {
		mode = st.Mode().Perm()
	}
	temp := fmt.Sprintf("%s.%d.tmp", path, os.Getpid())
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(temp, path)
	}
	if err != nil {
		os.Remove(temp)
	}
	return err
}
