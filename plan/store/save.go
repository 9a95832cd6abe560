package store

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
)

// newMode is the mode of a new card when the caller has none in mind, before the umask.
const newMode fs.FileMode = 0o644

// Save writes data to path so that at any moment, whatever happens, path holds all of the old bytes
// or all of the new ones. Symbolic links are followed. An existing file keeps its mode (and its owner
// where the system lets us) and stays behind as NAME~; mode, less the umask, is for a new file, zero
// meaning 0644. Bytes that are there already are not written again.
//
// Save refuses a file that is marked read-only, although a rename could replace it, and anything
// that is not a plain file. It does not look whether the file changed since it was read: see
// [Snapshot.Save]. A hard link to the file goes on pointing at the old version.
func Save(path string, data []byte, mode fs.FileMode) error {
	if err := save(path, data, mode, true); err != nil {
		return about(path, "save", err)
	}
	return nil
}

// Replace writes a file that can be made again, such as a picture, as whole as [Save] does, but leaves nothing of what
// stood there before.
func Replace(path string, data []byte) error {
	if err := save(path, data, 0o666, false); err != nil {
		return about(path, "write", err)
	}
	return nil
}

func save(path string, data []byte, mode fs.FileMode, backup bool) error {
	target, err := follow(path)
	if err != nil {
		return err
	}
	old, err := os.Lstat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		old = nil
	case err != nil:
		return bare(err)
	case old.IsDir():
		return trouble("a folder", "give the name of a file", nil)
	case !old.Mode().IsRegular():
		return trouble("not a plain file", "save under another name", nil)
	}
	if old != nil {
		if same, err := holds(target, data); err == nil && same {
			return nil
		}
		if err := writable(target, old); err != nil {
			return trouble("the file is read-only", "save under another name or make it writable", err)
		}
		if !mayReplace(filepath.Dir(target), old) {
			return trouble("only its owner may replace it here", "save under another name", fs.ErrPermission)
		}
	}
	temp, err := writeTemp(filepath.Dir(target), data, mode, old)
	if err != nil {
		return err
	}
	if old != nil && backup {
		if err := keepOld(target, old); err != nil {
			os.Remove(temp)
			return trouble("nothing was changed: the version before could not be kept as "+filepath.Base(target)+"~", "move that away or save elsewhere", err)
		}
	}
	if err := os.Rename(temp, target); err != nil {
		os.Remove(temp)
		return bare(err)
	}
	if err := syncDir(filepath.Dir(target)); err != nil {
		return trouble("written, but the disk did not confirm it: "+bare(err).Error(), "save again", err)
	}
	return nil
}

// follow returns the file that a path means after all symbolic links, which need not exist.
func follow(path string) (string, error) {
	for range 40 {
		// The folder first: ".." in a link counts from the real folder, not from the name it was reached by.
		dir, err := filepath.EvalSymlinks(filepath.Dir(path))
		if errors.Is(err, fs.ErrNotExist) {
			return "", trouble("there is no such folder", "make it or save elsewhere", err)
		}
		if err != nil {
			return "", bare(err)
		}
		path = filepath.Join(dir, filepath.Base(path))
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // not a link
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", trouble("its symbolic links lead in a circle", "remove one", nil)
}

// holds tells whether a file's bytes are data.
func holds(path string, data []byte) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	got, err := io.ReadAll(io.LimitReader(f, int64(len(data))+1))
	return bytes.Equal(got, data), err
}

// writable asks the mode and then the system, because root may write what is marked read-only.
func writable(path string, info fs.FileInfo) error {
	if info.Mode()&0o222 == 0 {
		return fs.ErrPermission
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

// writeTemp writes data to a new file in dir, on the disk when it returns. It takes mode and owner
// from old, or mode less the umask when old is nil.
func writeTemp(dir string, data []byte, mode fs.FileMode, old fs.FileInfo) (string, error) {
	if mode == 0 {
		mode = newMode
	}
	if old != nil {
		mode = 0o600 // until the owner is right
	}
	name := tempName(dir)
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode.Perm())
	if err != nil {
		return "", trouble("the folder cannot be written to", "save elsewhere", err)
	}
	if err := fill(f, data, old); err != nil {
		f.Close()
		os.Remove(name)
		return "", err
	}
	return name, nil
}

// fill writes, sets the rights of the file, forces it to the disk and closes it.
func fill(f *os.File, data []byte, old fs.FileInfo) error {
	if _, err := f.Write(data); err != nil {
		return trouble(bare(err).Error()+": nothing was changed", "free some space or save elsewhere", err)
	}
	if old != nil {
		keepOwner(f, old)
		if err := f.Chmod(old.Mode().Perm()); err != nil {
			return bare(err)
		}
	}
	err := f.Sync()
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		return trouble(bare(err).Error()+": nothing was changed", "save elsewhere", err)
	}
	return nil
}

// keepOld makes NAME~ the file that NAME is now, in one step: a second name for it, or a copy where
// the file system has no links.
func keepOld(target string, old fs.FileInfo) error {
	temp := tempName(filepath.Dir(target))
	if err := os.Link(target, temp); err != nil {
		data, err := os.ReadFile(target)
		if err != nil {
			return err
		}
		if temp, err = writeTemp(filepath.Dir(target), data, 0, old); err != nil {
			return err
		}
	}
	// Renaming one name of a file over another name of the same file does nothing and leaves both, so
	// take the temporary away whatever happened: after a kill in just this place NAME~ is NAME.
	defer os.Remove(temp)
	return os.Rename(temp, target+"~")
}

const (
	tempPrefix = ".skywedge-"
	tempSuffix = ".tmp"
)

// tempName makes up a name that tells [Sweep] whose it is.
func tempName(dir string) string {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return filepath.Join(dir, tempPrefix+strconv.Itoa(os.Getpid())+"-"+hex.EncodeToString(b[:])+tempSuffix)
}
