package tui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/files"
)

// longestFileName is how long a file's name may be, bytes: common file systems hold 255 (NAME_MAX of ext4, from
// memory), and the version before stays as NAME~.
const longestFileName = 254

// isFolder tells whether a text names a folder, by itself or because there is one.
func isFolder(path string) bool {
	if os.IsPathSeparator(path[len(path)-1]) {
		return true
	}
	switch filepath.Base(path) {
	case ".", "..":
		return true
	}
	st, err := os.Stat(path)
	return err == nil && st.IsDir()
}

// saveName makes a file's name of what was typed; one without an ending is YAML. Where it cannot be one, wrong
// says why, and again is what may be typed instead.
func saveName(typed, suggested string) (path, wrong, again string) {
	path = files.Homed(typed)
	if isFolder(path) {
		return "", "That is a folder: add the file's name.", filepath.Join(path, filepath.Base(suggested))
	}
	if filepath.Ext(path) == "" {
		path += ".yaml"
	}
	if name := filepath.Base(path); len(name) > longestFileName {
		return "", fmt.Sprintf("That name is too long: %d bytes, and a file's name has at most %d.", len(name), longestFileName), typed
	}
	if st, err := os.Stat(filepath.Dir(path)); err != nil || !st.IsDir() {
		return "", "There is no folder of that name: make it, or save elsewhere.", typed
	}
	return path, "", ""
}

// refuse says why a document cannot be saved under a name that is a good one in itself; "" when it can.
func (o *openDoc[T]) refuse(m *model, path string) string {
	for _, d := range m.documents() {
		if d.isAt(path) && !o.isAt(path) {
			return filepath.Base(path) + " is open here as another card or bag: take another name."
		}
	}
	isBag := o.kind.phrases().kind == bagPhrases.kind
	name := filepath.Base(path)
	if name == store.BagFile && !isBag {
		return name + " is the name of a bag: the cards beside it would take this card for theirs. Take another name."
	}
	if st, err := os.Stat(path); err == nil && st.Mode().IsRegular() {
		if s, err := store.Read(path); err == nil && kit.IsBag(s.Data) != isBag && len(s.Data) > 0 {
			return name + map[bool]string{true: " is a card and no bag", false: " is a bag and no card"}[isBag] + ": take another name."
		}
	}
	if !o.isAt(path) || o.readOnly != "" {
		if lock, err := store.Acquire(path); err == nil {
			lock.Release()
		} else if held := (*store.LockedError)(nil); errors.As(err, &held) {
			return name + " is open in another window: take another name."
		}
	}
	return ""
}
