package store

import (
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "card.yaml")
	mustSave(t, path, "abc")
	s, err := Read(path)
	if err != nil || string(s.Data) != "abc" || !s.Exists || s.Path != path {
		t.Fatalf("%+v, %v", s, err)
	}
	// SHA-256 of "abc", FIPS 180-4 example.
	if got := hex.EncodeToString(s.Sum[:]); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("sum %s", got)
	}
	if _, err := Read(path + "x"); !errors.Is(err, fs.ErrNotExist) || strings.Count(err.Error(), path) != 1 {
		t.Errorf("missing: %v", err)
	}
	if _, err := Read(filepath.Dir(path)); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
}

func TestReadEndless(t *testing.T) {
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip(err)
	}
	if _, err := Read("/dev/zero"); err == nil || !strings.Contains(err.Error(), "larger than 16 MiB") {
		t.Errorf("a device that never ends: %v", err)
	}
}

func TestSnapshotSave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "card.yaml")
	fresh := Unwritten(path)
	one, err := fresh.Save([]byte("one"))
	if err != nil || string(one.Data) != "one" || one.changed() != nil {
		t.Fatalf("%+v, %v", one, err)
	}
	two, err := one.Save([]byte("two"))
	if err != nil || two.changed() != nil {
		t.Fatal(err)
	}

	conflict := func(s Snapshot, want Change, words string) *ChangedError {
		t.Helper()
		_, err := s.Save([]byte("mine"))
		var c *ChangedError
		if !errors.As(err, &c) || c.What != want || !strings.Contains(err.Error(), words) {
			t.Fatalf("got %v, want %s", err, want)
		}
		return c
	}
	if c := conflict(one, Edited, "was changed by another program at "); string(c.Now.Data) != "two" {
		t.Errorf("now %q", c.Now.Data)
	}
	conflict(fresh, Appeared, "exists already")
	wantFile(t, path, "two")

	// The same size and time of change, other bytes: the time is only a hint.
	if err := os.WriteFile(path, []byte("TWO"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, two.ModTime, two.ModTime); err != nil {
		t.Fatal(err)
	}
	conflict(two, Edited, "card.yaml")
	// Another time, the same bytes: nothing happened.
	if err := os.WriteFile(path, []byte("two"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, time.Now(), two.ModTime.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if err := two.changed(); err != nil {
		t.Errorf("touched: %v", err)
	}
	// The other program wrote just what is to be saved.
	if now, err := one.Save([]byte("two")); err != nil || now.Sum != two.Sum {
		t.Errorf("the same bytes: %v", err)
	}

	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if c := conflict(two, Removed, "removed or renamed"); c.Now.Exists {
		t.Errorf("%+v", c.Now)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a conflict wrote the file")
	}
	// Saving from what the conflict found is the pilot's decision to go on.
	if _, err := conflict(two, Removed, "").Now.Save([]byte("mine")); err != nil {
		t.Error(err)
	}
	wantFile(t, path, "mine")
}
