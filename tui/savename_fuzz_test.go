package tui

import (
	"path/filepath"
	"strings"
	"testing"
)

// What is typed as the name of a file is one, with an ending and in a folder that is there, or it is said why not.
func FuzzSaveName(f *testing.F) {
	for _, s := range []string{"shot", "~", "~/", "/", ".", "..", "a/b", "a.yaml", "shot.", " ", "\x00", strings.Repeat("é", 130), "~root", "a\nb"} {
		f.Add(s)
	}
	f.Setenv("HOME", f.TempDir())
	f.Chdir(f.TempDir())
	f.Fuzz(func(t *testing.T, typed string) {
		if typed = strings.TrimSpace(typed); typed == "" {
			return // nothing is saved
		}
		path, wrong, again := saveName(typed, "shot.yaml")
		switch {
		case (path == "") != (wrong != ""):
			t.Fatalf("%q is %q, %q", typed, path, wrong)
		case wrong != "" && again == "":
			t.Fatalf("%q: %s, and there is nothing to go on with", typed, wrong)
		case wrong == "" && (filepath.Ext(path) == "" || len(filepath.Base(path)) > longestFileName || isFolder(path)):
			t.Fatalf("%q is %q", typed, path)
		}
	})
}
