package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Recovery is unsaved work on a card that outlived its window.
type Recovery struct {
	Path  string    // absolute path of the card, which need not exist
	Saved time.Time // when the recovery file was written
	Base  string    // SHA-256 in hex of the card's bytes when the edits began; "" for a new card
	Data  []byte    // the card as it was on the screen
}

const (
	recoveryFolder = "recovery"
	recoverySuffix = ".recovery"
	recoveryFormat = 1
)

// head is the first line of a recovery file, as JSON; the card's bytes follow as they are, so that a
// person can take them out with a text editor.
type head struct {
	Format int       `json:"skywedge_recovery"`
	Path   string    `json:"path"`
	Saved  time.Time `json:"saved"`
	Base   string    `json:"base,omitempty"`
	Sum    string    `json:"sum"` // SHA-256 of the bytes that follow
}

// WriteRecovery keeps the unsaved bytes of a card under the state folder, in place of what was kept
// for the same card before. base is the snapshot that the edits began from. Only the user can read
// the file.
func WriteRecovery(cardPath string, base Snapshot, data []byte, at time.Time) error {
	abs, err := filepath.Abs(cardPath)
	if err != nil {
		return fmt.Errorf("cannot keep a recovery file: %w", err)
	}
	h := head{Format: recoveryFormat, Path: abs, Saved: at.UTC(), Sum: sum(data)}
	if base.Exists {
		h.Base = hex.EncodeToString(base.Sum[:])
	}
	line, err := json.Marshal(h)
	if err != nil {
		return fmt.Errorf("cannot keep a recovery file: %w", err)
	}
	file, err := stateFile(recoveryFolder, key(cardPath)+recoverySuffix)
	if err == nil {
		err = save(file, slices.Concat(line, []byte("\n"), data), 0o600, false)
	}
	if err != nil {
		return fmt.Errorf("cannot keep a recovery file: %w", err)
	}
	return nil
}

// ReadRecovery returns the unsaved work on a card; ok is false when there is none.
func ReadRecovery(cardPath string) (r Recovery, ok bool, err error) {
	dir, err := StateDir()
	if err != nil {
		return Recovery{}, false, err
	}
	r, err = readRecovery(filepath.Join(dir, recoveryFolder, key(cardPath)+recoverySuffix))
	if errors.Is(err, fs.ErrNotExist) {
		return Recovery{}, false, nil
	}
	if abs, absErr := filepath.Abs(cardPath); absErr == nil && err == nil {
		r.Path = abs // a path that is not UTF-8 does not survive JSON
	}
	return r, err == nil, err
}

// RemoveRecovery forgets the unsaved work on a card: after a save, a clean quit, or when the pilot
// discards it. Nothing to forget is not an error.
func RemoveRecovery(cardPath string) error {
	dir, err := StateDir()
	if err != nil {
		return err
	}
	err = os.Remove(filepath.Join(dir, recoveryFolder, key(cardPath)+recoverySuffix))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// DiskChanged tells whether the card on disk is not the one that the edits began from, so that
// restoring them would undo someone else's.
func (r Recovery) DiskChanged() bool {
	now, err := Read(r.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return r.Base != ""
	}
	return err != nil || hex.EncodeToString(now.Sum[:]) != r.Base
}

func readRecovery(file string) (Recovery, error) {
	s, err := Read(file)
	if err != nil {
		return Recovery{}, err
	}
	r, err := parseRecovery(s.Data)
	if err != nil {
		return Recovery{}, fmt.Errorf("%s: %w", file, err)
	}
	return r, nil
}

func parseRecovery(b []byte) (Recovery, error) {
	line, data, found := bytes.Cut(b, []byte("\n"))
	var h head
	if err := json.Unmarshal(line, &h); !found || err != nil || h.Format < 1 || h.Path == "" {
		return Recovery{}, errors.New("not a recovery file; move it away")
	}
	if h.Format > recoveryFormat {
		return Recovery{}, fmt.Errorf("a newer skywedge wrote this recovery file (format %d); open it with that one", h.Format)
	}
	if sum(data) != h.Sum {
		return Recovery{}, errors.New("the recovery file is damaged; the card's text after its first line may still be of use")
	}
	return Recovery{Path: h.Path, Saved: h.Saved, Base: h.Base, Data: data}, nil
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}
