package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

func itoa(n int) string { return strconv.Itoa(n) }

func mustSave(t *testing.T, path, data string) {
	t.Helper()
	if err := Save(path, []byte(data), 0); err != nil {
		t.Fatal(err)
	}
}

func wantFile(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", filepath.Base(path), got, err, want)
	}
}

// wantNames checks that a folder holds just these names: no temporaries.
func wantNames(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func TestSave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one\n")
	wantFile(t, path, "one\n")
	wantNames(t, dir, "card.yaml")
	mustSave(t, path, "two\n")
	wantFile(t, path, "two\n")
	wantFile(t, path+"~", "one\n")
	mustSave(t, path, "three\n")
	wantFile(t, path+"~", "two\n")
	// Saving what is there already leaves the version before alone.
	mustSave(t, path, "three\n")
	wantFile(t, path+"~", "two\n")
	wantNames(t, dir, "card.yaml", "card.yaml~")
	mustSave(t, path, "")
	wantFile(t, path, "")
}

// After a kill between keeping the old version and the rename, NAME~ and NAME are one file.
func TestSaveAfterHalfASave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one")
	if err := os.Link(path, path+"~"); err != nil {
		t.Skip(err)
	}
	mustSave(t, path, "two")
	wantFile(t, path, "two")
	wantFile(t, path+"~", "one")
	wantNames(t, dir, "card.yaml", "card.yaml~")
}

func TestSaveMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no modes")
	}
	path := filepath.Join(t.TempDir(), "card.yaml")
	mustSave(t, path, "one")
	mode := func(p string) fs.FileMode {
		info, err := os.Stat(p)
		if err != nil {
			t.Fatal(err)
		}
		return info.Mode().Perm()
	}
	for _, m := range []fs.FileMode{0o600, 0o664, 0o640, 0o755} {
		if err := os.Chmod(path, m); err != nil {
			t.Fatal(err)
		}
		mustSave(t, path, m.String())
		if mode(path) != m || mode(path+"~") != m {
			t.Errorf("mode %v became %v, the version before %v", m, mode(path), mode(path+"~"))
		}
	}
	private := filepath.Join(filepath.Dir(path), "new.yaml")
	if err := Save(private, nil, 0o600); err != nil || mode(private) != 0o600 {
		t.Errorf("new file: %v, %v", mode(private), err)
	}
}

func TestSaveThroughLinks(t *testing.T) {
	dir := t.TempDir()
	link := func(to, name string) string {
		p := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.Symlink(filepath.FromSlash(to), p); err != nil {
			t.Skip(err)
		}
		return p
	}
	for _, d := range []string{"real/deep", "cards"} {
		if err := os.MkdirAll(filepath.Join(dir, filepath.FromSlash(d)), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	real := filepath.Join(dir, "real", "card.yaml")
	mustSave(t, real, "one")
	direct := link("../real/card.yaml", "cards/card.yaml")
	mustSave(t, direct, "two")
	wantFile(t, real, "two")
	wantFile(t, real+"~", "one")
	wantNames(t, filepath.Join(dir, "cards"), "card.yaml")
	if info, err := os.Lstat(direct); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v, %v", info, err)
	}
	// A link to a link, through a folder that is itself a link: ".." counts from the real folder.
	link("real/deep", "short")
	link("../card.yaml", "real/deep/up.yaml")
	mustSave(t, link("short/up.yaml", "chain.yaml"), "three")
	wantFile(t, real, "three")
	// A link to nothing yet makes the file it names.
	mustSave(t, link("real/new.yaml", "new.yaml"), "fresh")
	wantFile(t, filepath.Join(dir, "real", "new.yaml"), "fresh")
	link("b.yaml", "a.yaml")
	if err := Save(link("a.yaml", "b.yaml"), nil, 0); err == nil || !strings.Contains(err.Error(), "circle") {
		t.Errorf("a circle of links: %v", err)
	}
}

func TestSaveRefuses(t *testing.T) {
	dir := t.TempDir()
	err := Save(filepath.Join(dir, "gone", "card.yaml"), []byte("x"), 0)
	if !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "make it or save elsewhere") {
		t.Errorf("missing folder: %v", err)
	}
	wantNames(t, dir)
	if err := Save(dir, []byte("x"), 0); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	if err := Save(path, []byte("two"), 0); !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "read-only") {
		t.Errorf("read-only file: %v", err)
	}
	wantFile(t, path, "one")
	wantNames(t, dir, "card.yaml")
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	// The version before cannot be kept: nothing is lost for it.
	if err := os.MkdirAll(filepath.Join(path+"~", "x"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := Save(path, []byte("two"), 0); err == nil || !strings.Contains(err.Error(), "card.yaml~") {
		t.Errorf("no place for the version before: %v", err)
	}
	wantFile(t, path, "one")
	wantNames(t, dir, "card.yaml", "card.yaml~")
}

func BenchmarkSave(b *testing.B) {
	path := filepath.Join(b.TempDir(), "card.yaml")
	card := []byte(strings.Repeat("# a card of four kilobytes\n", 150))
	for i := 0; b.Loop(); i++ {
		card[0] = byte('a' + i%2)
		if err := Save(path, card, 0); err != nil {
			b.Fatal(err)
		}
	}
}

// Why and what to do stand before the path, whatever is wrong, and the path is as it was given.
func TestErrorsEndWithThePath(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "card.yaml")
	mustSave(t, file, "one")
	for _, c := range []struct {
		err  error
		path string
		why  string
	}{
		{Save(filepath.Join(dir, "gone", "card.yaml"), nil, 0), filepath.Join(dir, "gone", "card.yaml"), "there is no such folder; make it or save elsewhere"},
		{Save(dir, nil, 0), dir, "a folder; give the name of a file"},
		{Save(filepath.Join(file, "card.yaml"), nil, 0), filepath.Join(file, "card.yaml"), ""},
		{readError(filepath.Join(dir, "gone.yaml")), filepath.Join(dir, "gone.yaml"), "cannot read it: "},
		{readError(dir), dir, "a folder; give the name of a file"},
	} {
		var e *FileError
		if !errors.As(c.err, &e) {
			t.Errorf("%v is no FileError", c.err)
			continue
		}
		if e.Path != c.path || !strings.HasPrefix(e.Why(), c.why) || e.Error() != e.Why()+": "+c.path || strings.Contains(e.Why(), dir) {
			t.Errorf("%q of %q, want %q first", e.Error(), e.Path, c.why)
		}
	}
}

func readError(path string) error {
	_, err := Read(path)
	return err
}
