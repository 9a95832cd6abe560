package store

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"time"
)

const recoveryFolder = "recovery"

// recoveryPattern is the name of a recovery file: whose document it is, the window that keeps it, and which of
// the window's versions it is. The first version of the program had one file for a document and no window.
var recoveryPattern = regexp.MustCompile(`^[0-9a-f]{32}(?:-([0-9a-f]{16})-[0-9]{1,9})?\.recovery$`)

// Recoveries lists all the work that is kept, the newest first, without the documents' bytes. What of it
// cannot be read is named by the errors, and stays where it is. On the way it removes what writers that were
// killed left half-written.
func Recoveries(now time.Time) ([]Recovery, []error) {
	dir, err := StateDir()
	if err != nil {
		return nil, []error{err}
	}
	dir = filepath.Join(dir, recoveryFolder)
	entries, err := os.ReadDir(dir)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil
		}
		return nil, []error{fmt.Errorf("cannot look for kept work: %w", err)}
	}
	Sweep(dir, now)
	sweepWindows()
	var list []Recovery
	var wrong []error
	live := map[string]bool{"": false}
	for _, e := range entries {
		name := recoveryPattern.FindStringSubmatch(e.Name())
		if name == nil {
			continue
		}
		r, err := readHead(filepath.Join(dir, e.Name()))
		if errors.Is(err, fs.ErrNotExist) {
			continue // its window removed it meanwhile
		}
		if err != nil {
			wrong = append(wrong, about(filepath.Join(dir, e.Name()), "read", err))
			continue
		}
		id := name[1]
		if _, known := live[id]; !known {
			live[id] = windowOpen(id)
		}
		r.Live = live[id]
		list = append(list, r)
	}
	slices.SortStableFunc(list, func(a, b Recovery) int { return b.Saved.Compare(a.Saved) })
	return list, wrong
}

// readHead reads the first line of a recovery file, and mostly no more than one block of the disk.
func readHead(file string) (Recovery, error) {
	f, err := os.Open(file)
	if err != nil {
		return Recovery{}, err
	}
	defer f.Close()
	line, err := bufio.NewReaderSize(io.LimitReader(f, longestHead), 4096).ReadBytes('\n')
	if err == io.EOF {
		return Recovery{}, errNoRecovery
	}
	if err != nil {
		return Recovery{}, err
	}
	_, r, err := parseHead(line)
	r.File = file
	return r, err
}
