package store

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// home returns the test its own state and configuration folders.
func home(t *testing.T) (state, config string) {
	t.Helper()
	state, config = t.TempDir(), t.TempDir()
	t.Setenv("XDG_STATE_HOME", state)
	t.Setenv("XDG_CONFIG_HOME", config)
	return state, config
}

func TestRecovery(t *testing.T) {
	state, _ := home(t)
	dir := t.TempDir()
	at := time.Date(2026, 9, 18, 19, 40, 0, 0, time.FixedZone("", 7200))
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one\n")
	base, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok, err := ReadRecovery(path); ok || err != nil {
		t.Errorf("nothing kept: %v, %v", ok, err)
	}
	for _, data := range []string{"edit 1", "edit 2\nwith lines\n\n", "edit 3\n"} {
		if err := WriteRecovery(path, base, []byte(data), at); err != nil {
			t.Fatal(err)
		}
		r, ok, err := ReadRecovery(path)
		if err != nil || !ok || string(r.Data) != data || r.Path != path || !r.Saved.Equal(at) || r.DiskChanged() {
			t.Errorf("%+v, %v, %v", r, ok, err)
		}
	}
	wantNames(t, filepath.Join(state, "skywedge", "recovery"), key(path)+".recovery")
	wantFile(t, path, "one\n")
	if runtime.GOOS != "windows" {
		for p, want := range map[string]os.FileMode{"": 0o700, key(path) + ".recovery": 0o600} {
			if info, err := os.Stat(filepath.Join(state, "skywedge", "recovery", p)); err != nil || info.Mode().Perm() != want {
				t.Errorf("%q: %v, %v, want mode %v", p, info.Mode(), err, want)
			}
		}
	}

	// However the card is named it is the same card.
	if err := os.Symlink(path, filepath.Join(dir, "link.yaml")); err == nil {
		if r, ok, _ := ReadRecovery(filepath.Join(dir, ".", "link.yaml")); !ok || string(r.Data) != "edit 3\n" {
			t.Errorf("through a link: %+v, %v", r, ok)
		}
	}
	t.Chdir(dir)
	if _, ok, _ := ReadRecovery("card.yaml"); !ok {
		t.Error("not found by a relative path")
	}

	// A second, unwritten card.
	if err := WriteRecovery("new.yaml", Unwritten("new.yaml"), []byte("draft"), at.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	draft, ok, err := ReadRecovery("new.yaml")
	if err != nil || !ok || string(draft.Data) != "draft" || draft.DiskChanged() || draft.Path != filepath.Join(dir, "new.yaml") {
		t.Fatalf("%+v, %v", draft, err)
	}
	first, _, err := ReadRecovery(path)
	if err != nil {
		t.Fatal(err)
	}
	mustSave(t, "new.yaml", "someone else's")
	mustSave(t, path, "two\n")
	for _, r := range []Recovery{draft, first} {
		if !r.DiskChanged() {
			t.Errorf("%s changed on disk, not noticed", r.Path)
		}
	}

	for range 2 { // the second time there is nothing to remove
		if err := RemoveRecovery(path); err != nil {
			t.Error(err)
		}
	}
	if _, ok, err := ReadRecovery(path); ok || err != nil {
		t.Errorf("removed, and there: %v, %v", ok, err)
	}
	if _, ok, err := ReadRecovery("new.yaml"); !ok || err != nil {
		t.Errorf("the other card's went along: %v, %v", ok, err)
	}
}

// A damaged recovery file is named and spoils nothing else.
func TestRecoveryDamaged(t *testing.T) {
	state, _ := home(t)
	for _, name := range []string{"good.yaml", "cut.yaml"} {
		if err := WriteRecovery(name, Snapshot{}, []byte("some text of "+name), time.Now()); err != nil {
			t.Fatal(err)
		}
	}
	cut := filepath.Join(state, "skywedge", "recovery", key("cut.yaml")+".recovery")
	b, err := os.ReadFile(cut)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range [][]byte{b[:len(b)-1], b[:20], {}, []byte("\n"), []byte("{}\nabc"),
		bytes.Replace(b, []byte(`recovery":1`), []byte(`recovery":2`), 1)} {
		if err := os.WriteFile(cut, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, ok, err := ReadRecovery("cut.yaml"); ok || err == nil || !strings.Contains(err.Error(), cut) {
			t.Errorf("%q was read: %v", bad, err)
		}
		if r, ok, err := ReadRecovery("good.yaml"); !ok || err != nil || string(r.Data) != "some text of good.yaml" {
			t.Errorf("%q: %v, %v", bad, r, err)
		}
	}
}

func FuzzParseRecovery(f *testing.F) {
	f.Add([]byte(`{"skywedge_recovery":1,"path":"/a","saved":"2026-09-18T17:40:00Z","sum":"` + sum([]byte("x")) + "\"}\nx"))
	f.Add([]byte("{}\n"))
	f.Add([]byte("\xff\n\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := parseRecovery(b)
		if err == nil && (r.Path == "" || !bytes.HasSuffix(b, r.Data)) {
			t.Errorf("%q gave %+v", b, r)
		}
	})
}
