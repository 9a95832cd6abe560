package store

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"time"
)

var tempPattern = regexp.MustCompile(`^\.skywedge-([0-9]{1,10})-[0-9a-f]{16}\.tmp$`)

// strayAge protects the temporary of a window on another computer that shares the folder, whose
// process is not known here: no save takes that long.
const strayAge = 10 * time.Second

// Sweep removes the temporary files in a folder that saves which were killed left behind, and returns
// how many. It touches only names of the form that this package makes up, older than ten seconds,
// whose process is gone. Errors are no reason to bother anyone: what cannot be removed stays.
func Sweep(dir string, now time.Time) (removed int) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return 0
	}
	for _, e := range entries {
		m := tempPattern.FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() {
			continue
		}
		info, err := e.Info()
		if err != nil || now.Sub(info.ModTime()) < strayAge {
			continue
		}
		if pid, err := strconv.Atoi(m[1]); err != nil || alive(pid) {
			continue
		}
		if os.Remove(filepath.Join(dir, e.Name())) == nil {
			removed++
		}
	}
	return removed
}
