package store

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// maxBytes is the most that [Read] takes in: it only guards against a device that never ends. What
// reads a card has its own, much smaller limit and can say more about it.
const maxBytes = 16 << 20

// Snapshot is a file as it was at one moment.
type Snapshot struct {
	Path    string // as given
	Exists  bool
	Data    []byte
	Sum     [sha256.Size]byte // SHA-256 of Data
	Mode    fs.FileMode
	ModTime time.Time // for people; a comparison never relies on it
}

// Read takes a snapshot of a file. A missing file is an error that wraps [fs.ErrNotExist].
func Read(path string) (Snapshot, error) {
	f, err := os.Open(path)
	if err != nil {
		return Snapshot{}, about(path, "read", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return Snapshot{}, about(path, "read", err)
	}
	if info.IsDir() {
		return Snapshot{}, about(path, "read", trouble("a folder", "give the name of a file", nil))
	}
	data, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return Snapshot{}, about(path, "read", err)
	}
	if len(data) > maxBytes {
		return Snapshot{}, about(path, "read", trouble(fmt.Sprintf("larger than %d MiB", maxBytes>>20), "", nil))
	}
	return Snapshot{Path: path, Exists: true, Data: data, Sum: sha256.Sum256(data), Mode: info.Mode(), ModTime: info.ModTime()}, nil
}

// Unwritten is the snapshot of a file that is still to be made: saving it is a conflict when a file
// of that name has appeared meanwhile.
func Unwritten(path string) Snapshot { return Snapshot{Path: path} }

// Change is what happened to a file since its snapshot.
type Change string

// The changes.
const (
	Edited   Change = "edited"   // its bytes differ
	Removed  Change = "removed"  // it is gone
	Appeared Change = "appeared" // it was not there before
)

// ChangedError says that a file is not as it was read. What can be done about it is for who asks.
type ChangedError struct {
	Path string
	What Change
	Now  Snapshot // as it is now; Exists is false when it was removed
}

func (e *ChangedError) Error() string {
	name := filepath.Base(e.Path)
	switch e.What {
	case Removed:
		return name + " was removed or renamed since it was read"
	case Appeared:
		return name + " exists already and was not read"
	}
	return fmt.Sprintf("%s was changed by another program at %s", name, e.Now.ModTime.Format("15:04:05"))
}

// changed compares the file with its snapshot, byte for byte by SHA-256: nil when it is the same, a
// *[ChangedError] when it is not, another error when it cannot be read.
func (s Snapshot) changed() error {
	now, err := Read(s.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if !s.Exists {
			return nil
		}
		return &ChangedError{Path: s.Path, What: Removed, Now: Snapshot{Path: s.Path}}
	case err != nil:
		return err
	case !s.Exists:
		return &ChangedError{Path: s.Path, What: Appeared, Now: now}
	case now.Sum != s.Sum:
		return &ChangedError{Path: s.Path, What: Edited, Now: now}
	}
	return nil
}

// Save writes new bytes over the file of a snapshot if it is still as it was read, and returns the
// snapshot of what is there now. A file that holds the new bytes already is no conflict. To overwrite
// regardless take [Save] and [Read]. Between the comparison and the rename another program still has
// a millisecond; what it writes then is kept as NAME~.
func (s Snapshot) Save(data []byte) (Snapshot, error) {
	err := s.changed()
	var c *ChangedError
	if errors.As(err, &c) && c.Now.Exists && c.Now.Sum == sha256.Sum256(data) {
		return c.Now, nil
	}
	if err != nil {
		return s, err
	}
	if err := Save(s.Path, data, s.Mode.Perm()); err != nil {
		return s, err
	}
	return Read(s.Path)
}
