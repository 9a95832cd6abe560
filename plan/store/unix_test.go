//go:build unix

package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func init() {
	// tries to save more than may be written, as on a full disk
	children["full"] = func(args []string) error {
		signal.Ignore(syscall.SIGXFSZ)
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 1000, Max: 1000}); err != nil {
			return err
		}
		err := Save(args[0], make([]byte, 5000), 0)
		if !errors.Is(err, syscall.EFBIG) || !strings.Contains(err.Error(), "nothing was changed; free some space") {
			return fmt.Errorf("writing past the limit: %w", err)
		}
		return nil
	}
	// tries to save in the current folder, as a user who may not write there
	children["readonly"] = func(args []string) error {
		if os.Getuid() == 0 {
			if err := syscall.Setuid(65534); err != nil {
				return err
			}
		}
		err := Save(args[0], []byte("two"), 0)
		if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), args[1]) {
			return fmt.Errorf("saving in a read-only folder: %w", err)
		}
		return nil
	}
}

func TestSaveDiskFull(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one")
	if out, err := child(t, "full", path).Output(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
	wantFile(t, path, "one")
	wantNames(t, dir, "card.yaml")
}

func TestSaveReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "card.yaml")
	mustSave(t, path, "one")
	for p, mode := range map[string]fs.FileMode{path: 0o666, dir: 0o555} {
		if err := os.Chmod(p, mode); err != nil {
			t.Fatal(err)
		}
	}
	defer os.Chmod(dir, 0o755)
	for _, name := range []string{"card.yaml", "new.yaml"} {
		c := child(t, "readonly", name, "the folder cannot be written to; save elsewhere")
		c.Dir = dir
		if out, err := c.Output(); err != nil {
			t.Errorf("%s: %v: %s", name, err, out)
		}
	}
	wantFile(t, path, "one")
	wantNames(t, dir, "card.yaml")
}

// Not a plain file: a pipe is neither written to nor replaced.
func TestSaveToPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o644); err != nil {
		t.Skip(err)
	}
	if err := Save(path, []byte("x"), 0); err == nil || !strings.Contains(err.Error(), "not a plain file") {
		t.Errorf("a pipe: %v", err)
	}
}

// Folders and files of the system itself, where nothing can be written and not all can be read: what is wrong is said with its
// path, and what helps where something does.
func TestFilesOfTheSystem(t *testing.T) {
	if _, err := os.Stat("/proc/self/mem"); err != nil {
		t.Skip("no such files here")
	}
	const elsewhere = "the folder cannot be written to; save elsewhere: "
	for _, path := range []string{"/proc/card.yaml", "/proc/self/comm"} { // a new one, and over one that can be written
		if err := Save(path, []byte("x"), 0); err == nil || err.Error() != elsewhere+path {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := Read("/proc/self/mem"); err == nil || !strings.HasPrefix(err.Error(), "cannot read it: ") || !strings.HasSuffix(err.Error(), ": /proc/self/mem") {
		t.Errorf("a file that fails while it is read: %v", err)
	}
}
