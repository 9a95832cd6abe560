package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
)

// program is the name of our folder inside the user's folders.
const program = "skywedge"

// BagFile is the name of the bag, beside the cards or in the configuration folder.
const BagFile = "bag.yaml"

// ConfigDir returns the user's configuration folder of this program: $XDG_CONFIG_HOME/skywedge, by
// default ~/.config/skywedge (on Windows %AppData%\skywedge), after the XDG Base Directory
// Specification. It need not exist.
func ConfigDir() (string, error) { return userDir("XDG_CONFIG_HOME", "AppData", ".config") }

// StateDir returns the folder for what should outlive a restart but belongs to no card:
// $XDG_STATE_HOME/skywedge, by default ~/.local/state/skywedge (on Windows %LocalAppData%\skywedge).
// It need not exist.
func StateDir() (string, error) { return userDir("XDG_STATE_HOME", "LocalAppData", ".local/state") }

func userDir(xdg, windows, fallback string) (string, error) {
	// The specification has relative paths ignored.
	for _, dir := range []string{os.Getenv(xdg), systemFolder(windows)} {
		if filepath.IsAbs(dir) {
			return filepath.Join(dir, program), nil
		}
	}
	home, err := os.UserHomeDir()
	if err != nil || !filepath.IsAbs(home) {
		return "", errors.New("no home folder is known; set " + xdg + " to an absolute path")
	}
	return filepath.Join(home, filepath.FromSlash(fallback), program), nil
}

// BagPaths returns the places where the bag of a card is looked for, best first: beside the card, then
// the configuration folder. An empty card path means the current folder.
func BagPaths(cardPath string) []string {
	paths := []string{filepath.Join(filepath.Dir(cardPath), BagFile)}
	if dir, err := ConfigDir(); err == nil {
		paths = append(paths, filepath.Join(dir, BagFile))
	}
	return paths
}

// FindBag returns the bag of a card: the first that exists of the one beside it and the one in the
// configuration folder. A bag that cannot be read, be it a link to a file that is gone or a folder, is found:
// the pilot should hear of it rather than get another one.
func FindBag(cardPath string) (path string, ok bool) {
	for _, p := range BagPaths(cardPath) {
		if _, err := os.Lstat(p); err == nil {
			return p, true
		}
	}
	return "", false
}

// canonical returns one name for a file, however it was reached.
func canonical(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	if real, err := follow(path); err == nil {
		return real
	}
	return path
}

// Same tells whether two paths mean the same file, which need not exist.
func Same(a, b string) bool { return canonical(a) == canonical(b) }

// Kept are the places in the state folder.
type Kept struct {
	Work  string // the folder of unsaved work
	Locks string // the folder that tells which cards and windows are open
	Place string // the file of the place of the card that was saved last
}

// KeptIn names the places in the state folder. None of them need exist.
func KeptIn(state string) Kept {
	return Kept{filepath.Join(state, recoveryFolder), filepath.Join(state, lockFolder), filepath.Join(state, placeFile)}
}

// key returns a file name that stands for a card's path.
func key(path string) string {
	sum := sha256.Sum256([]byte(canonical(path)))
	return hex.EncodeToString(sum[:16])
}

// stateFile returns the path of a file in a folder of the state folder, and makes the folder.
func stateFile(folder, name string) (string, error) {
	dir, err := StateDir()
	if err != nil {
		return "", err
	}
	dir = filepath.Join(dir, folder)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	return filepath.Join(dir, name), nil
}
