package store

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"
)

var zero time.Time

func TestFolders(t *testing.T) {
	state, config := home(t)
	for _, tt := range []struct {
		dir  func() (string, error)
		want string
	}{{StateDir, filepath.Join(state, "skywedge")}, {ConfigDir, filepath.Join(config, "skywedge")}} {
		if got, err := tt.dir(); got != tt.want || err != nil {
			t.Errorf("%s, %v, want %s", got, err, tt.want)
		}
	}
	if runtime.GOOS == "windows" {
		return
	}
	// Relative and empty values do not count (XDG Base Directory Specification).
	t.Setenv("HOME", "/h")
	for _, v := range []string{"", "relative/path"} {
		t.Setenv("XDG_STATE_HOME", v)
		t.Setenv("XDG_CONFIG_HOME", v)
		if got, err := StateDir(); got != "/h/.local/state/skywedge" || err != nil {
			t.Errorf("%q: %s, %v", v, got, err)
		}
		if got, err := ConfigDir(); got != "/h/.config/skywedge" || err != nil {
			t.Errorf("%q: %s, %v", v, got, err)
		}
	}
	t.Setenv("HOME", "")
	if got, err := StateDir(); err == nil {
		t.Errorf("no home: %s", got)
	}
	if _, wrong := Recoveries(zero); len(wrong) == 0 {
		t.Error("no home, no kept work")
	}
}

func TestFindBag(t *testing.T) {
	_, config := home(t)
	dir := t.TempDir()
	card := filepath.Join(dir, "card.yaml")
	if p, ok := FindBag(card); ok {
		t.Errorf("found %s", p)
	}
	shared := filepath.Join(config, "skywedge", "bag.yaml")
	if err := os.MkdirAll(filepath.Dir(shared), 0o755); err != nil {
		t.Fatal(err)
	}
	mustSave(t, shared, "a")
	if p, ok := FindBag(card); !ok || p != shared {
		t.Errorf("found %s, %v", p, ok)
	}
	beside := filepath.Join(dir, "bag.yaml")
	mustSave(t, beside, "b")
	if p, ok := FindBag(card); !ok || p != beside {
		t.Errorf("found %s, %v", p, ok)
	}
	t.Chdir(dir)
	if p, ok := FindBag(""); !ok || p != "bag.yaml" {
		t.Errorf("for standard input: %s, %v", p, ok)
	}
}
