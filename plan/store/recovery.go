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
	"time"
	"unicode/utf8"
)

// Recovery is unsaved work on a document that outlived its window, or that a window holds that is still open.
type Recovery struct {
	File    string    // the recovery file
	Path    string    // absolute path of the document, which need not exist
	Saved   time.Time // when the recovery file was written
	Base    string    // SHA-256 in hex of the document's bytes when the edits began; "" for a new one
	Kind    string    // what the document is, as the caller calls it; "" in files of the first version
	Name    string    // for people; "" in files of the first version
	Changes int       // how many; 0 when not known
	Typing  Typing    // what stood in the field that was being typed
	Data    []byte    // the document as it was on the screen; nil in a list, see [Recovery.Read]
	Live    bool      // the window that keeps it is still open
}

// Typing is the text of a field that was being typed, which need not be valid.
type Typing struct {
	Field string `json:"field"` // path inside the document; "" when none was
	Text  string `json:"text"`
}

// recoveryFormat is still the first: what was added since may be left out of a head, and is skipped by a
// program that does not know it.
const recoveryFormat = 1

// head is the first line of a recovery file, as JSON; the document's bytes follow as they are, so that a
// person can take them out with a text editor.
type head struct {
	Format  int       `json:"skywedge_recovery"`
	Path    string    `json:"path"`
	RawPath []byte    `json:"raw_path,omitempty"` // where it is not UTF-8, which JSON does not hold
	Saved   time.Time `json:"saved"`
	Base    string    `json:"base,omitempty"`
	Kind    string    `json:"kind,omitempty"`
	Name    string    `json:"name,omitempty"`
	Changes int       `json:"changes,omitempty"`
	Typing  *Typing   `json:"typing,omitempty"`
	Sum     string    `json:"sum"` // SHA-256 of the bytes that follow
}

// longestName is how much of a document's name a head holds, bytes; ours.
const longestName = 200

// longestHead is more than a head can have, bytes: a path and a line of text, each of some thousand bytes
// that JSON may write sixfold.
const longestHead = 64 << 10

// encode returns the bytes of a recovery file.
func (r Recovery) encode() ([]byte, error) {
	h := head{Format: recoveryFormat, Path: r.Path, Saved: r.Saved.UTC(), Base: r.Base, Kind: r.Kind,
		Name: cutTo(r.Name, longestName), Changes: r.Changes, Sum: sum(r.Data)}
	if !utf8.ValidString(r.Path) {
		h.RawPath = []byte(r.Path)
	}
	if r.Typing.Field != "" {
		h.Typing = &r.Typing
	}
	line, err := json.Marshal(h)
	if err != nil {
		return nil, err
	}
	return append(append(line, '\n'), r.Data...), nil
}

// cutTo returns at most n bytes of a text, and no half character.
func cutTo(s string, n int) string {
	if len(s) <= n {
		return s
	}
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// Read returns the same with the document's bytes.
func (r Recovery) Read() (Recovery, error) {
	s, err := Read(r.File)
	if err != nil {
		return r, err
	}
	full, err := parseRecovery(s.Data)
	if err != nil {
		return r, about(r.File, "read", err)
	}
	full.File, full.Live = r.File, r.Live
	return full, nil
}

// Discard removes the recovery file. Nothing to remove is not an error.
func (r Recovery) Discard() error { return discard(r.File) }

func discard(file string) error {
	if err := os.Remove(file); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot remove kept work: %w", err)
	}
	return nil
}

// DiskChanged tells whether the document on disk is not the one that the edits began from, so that
// restoring them would undo someone else's.
func (r Recovery) DiskChanged() bool {
	now, err := Read(r.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return r.Base != ""
	}
	return err != nil || hex.EncodeToString(now.Sum[:]) != r.Base
}

func parseRecovery(b []byte) (Recovery, error) {
	line, data, found := bytes.Cut(b, []byte("\n"))
	if !found {
		return Recovery{}, errNoRecovery
	}
	h, r, err := parseHead(line)
	if err != nil {
		return Recovery{}, err
	}
	if sum(data) != h.Sum {
		return Recovery{}, trouble("the recovery file is damaged", "the text after its first line may still be of use", nil)
	}
	r.Data = data
	return r, nil
}

var errNoRecovery = trouble("not a recovery file", "move it away", nil)

// parseHead reads the first line of a recovery file.
func parseHead(line []byte) (head, Recovery, error) {
	var h head
	if err := json.Unmarshal(line, &h); err != nil || h.Format < 1 || h.Path == "" {
		return h, Recovery{}, errNoRecovery
	}
	if h.Format > recoveryFormat {
		return h, Recovery{}, trouble(fmt.Sprintf("a newer skywedge wrote this recovery file (format %d)", h.Format), "open it with that one", nil)
	}
	r := Recovery{Path: h.Path, Saved: h.Saved, Base: h.Base, Kind: h.Kind, Name: h.Name, Changes: max(0, h.Changes)}
	if len(h.RawPath) > 0 {
		r.Path = string(h.RawPath)
	}
	if h.Typing != nil {
		r.Typing = *h.Typing
	}
	return h, r, nil
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}
