package store

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// What is kept stands where the program says that it stands.
func TestWhereItIsKept(t *testing.T) {
	home(t)
	state, err := StateDir()
	if err != nil {
		t.Fatal(err)
	}
	kept := KeptIn(state)
	w := window(t)
	if file := mustKeep(t, w, Recovery{Path: "card.yaml", Saved: at, Data: []byte("x")}, 0); filepath.Dir(file) != kept.Work {
		t.Errorf("work is kept in %s, said to be in %s", file, kept.Work)
	}
	l, err := Acquire("card.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Release()
	if locks, err := os.ReadDir(kept.Locks); err != nil || len(locks) != 2 { // of the window and of the card
		t.Errorf("locks: %v, %v", locks, err)
	}
	if err := RememberPlace(Place{43, -8, "Europe/Madrid"}); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(kept.Place); err != nil {
		t.Error(err)
	}
}

// A window takes away what it kept, and only that.
func TestDrop(t *testing.T) {
	home(t)
	w := window(t)
	first := mustKeep(t, w, Recovery{Path: "card.yaml", Saved: at, Data: []byte("x")}, 0)
	mustKeep(t, w, Recovery{Path: "bag.yaml", Saved: at, Data: []byte("y")}, 0)
	for range 2 { // what is gone already is no error
		if err := w.Drop(first); err != nil {
			t.Error(err)
		}
	}
	list := mustList(t)
	if len(list) != 1 || filepath.Base(list[0].Path) != "bag.yaml" {
		t.Fatalf("%+v", list)
	}
	if err := os.MkdirAll(filepath.Join(first, "in the way"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := w.Drop(first); err == nil || !strings.HasPrefix(err.Error(), "cannot remove kept work: ") {
		t.Errorf("a folder in its place: %v", err)
	}
}

// A name that is cut ends with a whole character: JSON would make a replacement character of half of one.
func TestALongNameIsCutBetweenCharacters(t *testing.T) {
	home(t)
	name := "x" + strings.Repeat("é", longestName)
	mustKeep(t, window(t), Recovery{Path: "card.yaml", Name: name, Saved: at, Data: []byte("x")}, 0)
	got := mustList(t)[0].Name
	if !strings.HasPrefix(name, got) || !utf8.ValidString(got) || len(got) != longestName-1 {
		t.Errorf("%d bytes: %q", len(got), got)
	}
}

// The work on a card that is not on disk any more is older than what happened to it; that on a new card is not.
func TestDiskChangedWithoutACard(t *testing.T) {
	path := filepath.Join(t.TempDir(), "card.yaml")
	if !(Recovery{Path: path, Base: "of some bytes"}).DiskChanged() {
		t.Error("the card was removed meanwhile")
	}
	if (Recovery{Path: path}).DiskChanged() {
		t.Error("there was no card and there is none")
	}
	mustSave(t, path, "one")
	if !(Recovery{Path: path}).DiskChanged() {
		t.Error("a card appeared where there was none")
	}
}

// Files of other programs in the folder of kept work are no kept work, and nothing to complain of.
func TestStrangersAmongKeptWork(t *testing.T) {
	home(t)
	file := mustKeep(t, window(t), Recovery{Path: "card.yaml", Saved: at, Data: []byte("x")}, 0)
	stranger := filepath.Join(filepath.Dir(file), "notes.txt")
	mustSave(t, stranger, "mine")
	if list := mustList(t); len(list) != 1 {
		t.Errorf("%+v", list)
	}
	wantFile(t, stranger, "mine")
	// A link to nothing is a file that its window removed meanwhile; what cannot be read is named and left where it is.
	for name, to := range map[string]string{"0": "nowhere", "1": strings.Repeat("1", 32) + ".recovery"} {
		if err := os.Symlink(to, filepath.Join(filepath.Dir(file), strings.Repeat(name, 32)+".recovery")); err != nil {
			t.Skip(err)
		}
	}
	folder := filepath.Join(filepath.Dir(file), strings.Repeat("2", 32)+".recovery")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	list, wrong := Recoveries(time.Now())
	if len(list) != 1 || len(wrong) != 2 || !strings.Contains(wrong[0].Error()+wrong[1].Error(), folder) {
		t.Errorf("%+v, %v", list, wrong)
	}
	if _, err := (Recovery{File: stranger}).Read(); err == nil || !strings.HasPrefix(err.Error(), "not a recovery file; move it away: ") {
		t.Errorf("notes: %v", err)
	}
	// One that vanished between the list and its reading was decided on in another window.
	gone := Recovery{File: filepath.Join(filepath.Dir(file), "gone")}
	if _, err := gone.Read(); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

// Where there is no folder for it, everything that wants to keep something says so, and what is a convenience does without.
func TestWithoutAStateFolder(t *testing.T) {
	home(t)
	if runtime.GOOS == "windows" {
		t.Skip("there the system always has one")
	}
	t.Setenv("XDG_STATE_HOME", "")
	t.Setenv("HOME", "")
	const want = "set XDG_STATE_HOME to an absolute path"
	_, keeping := window(t).Keep(Recovery{Path: "card.yaml", Data: []byte("x")}, 0)
	_, marking := Acquire("card.yaml")
	for what, err := range map[string]error{"keeping": keeping, "marking": marking, "the place": RememberPlace(Place{43, -8, "Europe/Madrid"})} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", what, err)
		}
	}
	if p, ok := LastPlace(); ok {
		t.Errorf("a place: %+v", p)
	}
	sweepWindows() // has nothing to sweep
}

// What stands in the place of one file of kept work is said as what is wrong with the folder: its name tells nobody anything.
func TestAFolderForKeptWork(t *testing.T) {
	home(t)
	w := window(t)
	file := mustKeep(t, w, Recovery{Path: "card.yaml", Saved: at, Data: []byte("x")}, 0)
	if err := w.Drop(file); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(file, 0o700); err != nil {
		t.Fatal(err)
	}
	state, _ := StateDir()
	var e *FileError
	if _, err := w.Keep(Recovery{Path: "card.yaml", Data: []byte("y")}, 0); !errors.As(err, &e) || e.Path != state || e.Reason != "a folder" {
		t.Errorf("%v", err)
	}
}

// What stands in the way in the state folder is said with what it keeps from working.
func TestInTheWay(t *testing.T) {
	home(t)
	state, err := StateDir()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(state, lockFolder, key("card.yaml")+lockSuffix), 0o700); err != nil {
		t.Fatal(err)
	}
	var held *LockedError
	if l, err := Acquire("card.yaml"); l != nil || errors.As(err, &held) || err == nil || !strings.HasPrefix(err.Error(), "cannot mark card.yaml as open: ") {
		t.Errorf("a folder for the mark: %v", err)
	}
	mustSave(t, filepath.Join(state, recoveryFolder), "no folder")
	if _, wrong := Recoveries(time.Now()); len(wrong) != 1 || !strings.HasPrefix(wrong[0].Error(), "cannot look for kept work: ") {
		t.Errorf("a file for the folder: %v", wrong)
	}
	if _, err := window(t).Keep(Recovery{Path: "card.yaml", Data: []byte("x")}, 0); err == nil || !strings.Contains(err.Error(), state) {
		t.Errorf("keeping: %v", err)
	}
	if err := RememberPlace(Place{math.NaN(), -8, "Europe/Madrid"}); err == nil || !strings.HasPrefix(err.Error(), "cannot remember the place: ") {
		t.Errorf("no place: %v", err)
	}
}

// A page that is written over leaves nothing of the one before, and is refused where a card would be.
func TestReplace(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "shot.html")
	for _, text := range []string{"one", "two"} {
		if err := Replace(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	wantFile(t, path, "two")
	wantNames(t, dir, "shot.html")
	loop := filepath.Join(dir, "loop")
	if err := os.Symlink("loop", loop); err == nil {
		if err := Replace(filepath.Join(loop, "shot.html"), nil); err == nil || !strings.Contains(err.Error(), "too many links") || !strings.HasSuffix(err.Error(), "shot.html") {
			t.Errorf("in a circle of links: %v", err)
		}
	}
	var e *FileError
	if err := Replace(dir, nil); !errors.As(err, &e) || e.Path != dir || e.Reason != "a folder" {
		t.Errorf("over a folder: %v", err)
	}
}

// Two ways to one file are one, whether it is there or not; a folder that is not there does not make them one.
func TestSame(t *testing.T) {
	dir := t.TempDir()
	mustSave(t, filepath.Join(dir, "card.yaml"), "one")
	if err := os.Mkdir(filepath.Join(dir, "in"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"card.yaml", "in/../card.yaml", true}, {"new.yaml", "in/../new.yaml", true}, {"card.yaml", "in/card.yaml", false},
		{"gone/card.yaml", "gone/./card.yaml", true}, {"gone/card.yaml", "card.yaml", false},
	} {
		if got := Same(dir+"/"+tt.a, dir+"/"+tt.b); got != tt.want {
			t.Errorf("%s and %s: %v", tt.a, tt.b, got)
		}
	}
	if err := os.Symlink("card.yaml", filepath.Join(dir, "link.yaml")); err == nil && !Same(filepath.Join(dir, "link.yaml"), filepath.Join(dir, "card.yaml")) {
		t.Error("a link is another file")
	}
}

// A file that is unreadable while it should be saved is no conflict: the pilot hears what is wrong with it.
func TestASnapshotThatCannotBeCompared(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one")
	s, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(path, 0o755); err != nil {
		t.Fatal(err)
	}
	var c *ChangedError
	if _, err := s.Save([]byte("two")); err == nil || errors.As(err, &c) || !strings.HasPrefix(err.Error(), "a folder; ") {
		t.Errorf("a folder in its place: %v", err)
	}
	if _, err := Unwritten(filepath.Join(dir, "gone", "card.yaml")).Save([]byte("x")); err == nil || !strings.Contains(err.Error(), "make it or save elsewhere") {
		t.Errorf("a folder that is gone: %v", err)
	}
}
