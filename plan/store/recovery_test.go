package store

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// home returns the test its own state and configuration folders.
func home(t testing.TB) (state, config string) {
	t.Helper()
	state, config = t.TempDir(), t.TempDir()
	t.Setenv("XDG_STATE_HOME", state)
	t.Setenv("XDG_CONFIG_HOME", config)
	return state, config
}

// window returns a window that is closed with the test.
func window(t testing.TB) *Window {
	w := new(Window)
	t.Cleanup(w.Close)
	return w
}

func mustKeep(t testing.TB, w *Window, r Recovery, version int) string {
	t.Helper()
	file, err := w.Keep(r, version)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// mustList returns all kept work, with its data.
func mustList(t testing.TB) []Recovery {
	t.Helper()
	list, wrong := Recoveries(time.Now())
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	for i := range list {
		r, err := list[i].Read()
		if err != nil {
			t.Fatal(err)
		}
		list[i] = r
	}
	return list
}

var at = time.Date(2026, 9, 18, 19, 40, 0, 0, time.FixedZone("", 7200))

func TestRecovery(t *testing.T) {
	state, _ := home(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one\n")
	base, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if list := mustList(t); len(list) != 0 {
		t.Errorf("nothing kept: %v", list)
	}
	w := window(t)
	var file string
	for _, data := range []string{"edit 1", "edit 2\nwith lines\n\n", "edit 3\n"} {
		r := Recovery{Path: path, Saved: at, Base: hex.EncodeToString(base.Sum[:]), Kind: "card", Name: "Breakwater", Changes: 3,
			Typing: Typing{"legs[0].heading_deg", "4000\x1b"}, Data: []byte(data)}
		file = mustKeep(t, w, r, 0)
		list := mustList(t)
		if len(list) != 1 {
			t.Fatalf("%d entries", len(list))
		}
		got := list[0]
		if string(got.Data) != data || got.Path != path || !got.Saved.Equal(at) || got.Kind != "card" || got.Name != "Breakwater" ||
			got.Changes != 3 || got.Typing != r.Typing || got.DiskChanged() || got.File != file || !got.Live {
			t.Errorf("%+v", got)
		}
	}
	wantFile(t, path, "one\n")
	if runtime.GOOS != "windows" {
		for p, want := range map[string]os.FileMode{filepath.Join(state, "skywedge", "recovery"): 0o700, file: 0o600} {
			if info, err := os.Stat(p); err != nil || info.Mode().Perm() != want {
				t.Errorf("%q: %v, %v, want mode %v", p, info.Mode(), err, want)
			}
		}
	}
	mustSave(t, path, "two\n")
	if list := mustList(t); !list[0].DiskChanged() {
		t.Error("changed on disk, not noticed")
	}
	w.Close()
	if list := mustList(t); len(list) != 1 || list[0].Live {
		t.Errorf("the window is gone: %+v", list)
	}
	for range 2 { // the second time there is nothing to remove
		if err := (Recovery{File: file}).Discard(); err != nil {
			t.Error(err)
		}
	}
	if list := mustList(t); len(list) != 0 {
		t.Errorf("discarded, and there: %v", list)
	}
}

// Two windows on one document keep it side by side, and each version that was set aside stays.
func TestWindowsKeepSideBySide(t *testing.T) {
	home(t)
	t.Chdir(t.TempDir())
	mustSave(t, "card.yaml", "one\n")
	a, b := window(t), window(t)
	for i, k := range []struct {
		w       *Window
		version int
		data    string
	}{{a, 0, "a"}, {b, 0, "b"}, {a, 1, "a again"}, {b, 0, "b later"}} {
		mustKeep(t, k.w, Recovery{Path: "card.yaml", Saved: at.Add(time.Duration(i) * time.Minute), Data: []byte(k.data)}, k.version)
	}
	var got []string
	for _, r := range mustList(t) {
		got = append(got, string(r.Data))
	}
	if s := strings.Join(got, ","); s != "b later,a again,a" {
		t.Errorf("kept, newest first: %s", s)
	}
	b.Close()
	live := 0
	for _, r := range mustList(t) {
		if r.Live {
			live++
		}
	}
	if live != 2 {
		t.Errorf("%d of the open window, want 2", live)
	}
}

// A window that was killed leaves no mark: what it kept may be decided on, and its mark's file goes.
func TestAKilledWindowIsGone(t *testing.T) {
	state, _ := home(t)
	c := child(t, "keep", filepath.Join(t.TempDir(), "card.yaml"))
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	startReady(t, c)
	if list := mustList(t); len(list) != 1 || !list[0].Live {
		t.Errorf("while it is open: %+v", list)
	}
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	if list := mustList(t); len(list) != 1 || list[0].Live {
		t.Errorf("after the kill: %+v", list)
	}
	wantNames(t, filepath.Join(state, "skywedge", "locks"))
}

// A file that the first version of the program wrote, byte for byte.
func TestRecoveriesOfTheFirstVersion(t *testing.T) {
	state, _ := home(t)
	dir := filepath.Join(state, "skywedge", "recovery")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	const old = `{"skywedge_recovery":1,"path":"/cards/pier.yaml","saved":"2026-09-18T17:40:00Z","base":"0000000000000000000000000000000000000000000000000000000000000000","sum":"59590526a689609d648f61216e3215f31eb0cba556b8a87acf149447db3fb4d2"}` + "\nskywedge: 1\n"
	if err := os.WriteFile(filepath.Join(dir, "0123456789abcdef0123456789abcdef.recovery"), []byte(old), 0o600); err != nil {
		t.Fatal(err)
	}
	list := mustList(t)
	if len(list) != 1 || list[0].Path != "/cards/pier.yaml" || string(list[0].Data) != "skywedge: 1\n" || list[0].Live || !list[0].Saved.Equal(at) {
		t.Errorf("%+v", list)
	}
}

// A damaged recovery file is named and spoils nothing else.
func TestRecoveryDamaged(t *testing.T) {
	home(t)
	w := window(t)
	for _, name := range []string{"good.yaml", "cut.yaml"} {
		mustKeep(t, w, Recovery{Path: name, Saved: at, Data: []byte("some text of " + name)}, 0)
	}
	var cut string
	for _, r := range mustList(t) {
		if filepath.Base(r.Path) == "cut.yaml" {
			cut = r.File
		}
	}
	b, err := os.ReadFile(cut)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range [][]byte{b[:len(b)-1], b[:20], {}, []byte("\n"), []byte("{}\nabc"), bytes.Repeat([]byte("x"), 1<<20),
		bytes.Replace(b, []byte(`recovery":1`), []byte(`recovery":2`), 1)} {
		if err := os.WriteFile(cut, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		list, wrong := Recoveries(time.Now())
		for _, r := range list {
			full, err := r.Read()
			if err != nil {
				wrong = append(wrong, err)
			} else if string(full.Data) != "some text of good.yaml" {
				t.Errorf("%.40q: %+v", bad, full)
			}
		}
		if len(wrong) != 1 || !strings.Contains(wrong[0].Error(), cut) {
			t.Errorf("%.40q was read: %v", bad, wrong)
		}
	}
}

// Paths and names of any bytes survive.
func TestRecoveryOfOddPaths(t *testing.T) {
	home(t)
	w := window(t)
	for _, path := range []string{"/a\xffb.yaml", "/tmp/\x1b[31m.yaml", "/" + strings.Repeat("é", 120) + ".yaml"} {
		mustKeep(t, w, Recovery{Path: path, Saved: at, Name: "a" + strings.Repeat("ö", 5000), Typing: Typing{"name", strings.Repeat("\x01", 2000)}}, 0)
		for _, r := range mustList(t) {
			if r.Path != path || len(r.Name) > longestName || !strings.HasSuffix(r.Name, "ö") || len(r.Typing.Text) != 2000 {
				t.Errorf("%q: %q, name %q of %d bytes, text of %d", path, r.Path, r.Name, len(r.Name), len(r.Typing.Text))
			}
			if err := r.Discard(); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// What a start costs with a thousand entries.
func BenchmarkRecoveries1000(b *testing.B) {
	home(b)
	w := window(b)
	data := bytes.Repeat([]byte("a line of a card\n"), 300)
	for i := range 1000 {
		mustKeep(b, w, Recovery{Path: fmt.Sprintf("/cards/%d.yaml", i), Saved: at, Data: data}, 0)
	}
	w.Close()
	for b.Loop() {
		if list, wrong := Recoveries(at); len(list) != 1000 || len(wrong) > 0 {
			b.Fatal(len(list), wrong)
		}
	}
}

func FuzzParseRecovery(f *testing.F) {
	f.Add([]byte(`{"skywedge_recovery":1,"path":"/a","saved":"2026-09-18T17:40:00Z","sum":"` + sum([]byte("x")) + "\"}\nx"))
	f.Add([]byte("{}\n"))
	f.Add([]byte("\xff\n\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := parseRecovery(b)
		if err != nil {
			return
		}
		if r.Path == "" || !bytes.HasSuffix(b, r.Data) {
			t.Errorf("%q gave %+v", b, r)
		}
		again, err := r.encode()
		if err != nil {
			return // a year that JSON cannot write
		}
		if r2, err := parseRecovery(again); err != nil || r2.Path != r.Path || !bytes.Equal(r2.Data, r.Data) || r2.Typing.Text != r.Typing.Text && r.Typing.Field != "" {
			t.Errorf("%+v became %+v, %v", r, r2, err)
		}
	})
}

// A time that cannot be written (RFC 3339 has four digits for the year) keeps nothing, and says so.
func TestAClockGoneWild(t *testing.T) {
	state, _ := home(t)
	if file, err := window(t).Keep(Recovery{Path: "card.yaml", Saved: time.Date(12026, 1, 1, 0, 0, 0, 0, time.UTC), Data: []byte("x")}, 0); err == nil {
		t.Errorf("kept as %s", file)
	}
	if _, err := os.Stat(filepath.Join(state, "skywedge", "recovery")); err == nil {
		wantNames(t, filepath.Join(state, "skywedge", "recovery"))
	}
}
