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
		var was syscall.Rlimit
		if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
			return err
		}
		small := was
		small.Cur = 1000
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &small); err != nil {
			return err
		}
		defer syscall.Setrlimit(syscall.RLIMIT_FSIZE, &was) // what counts statements writes more
		err := Save(args[0], make([]byte, 5000), 0)
		if !errors.Is(err, syscall.EFBIG) || !strings.Contains(err.Error(), "nothing was changed; free some space") {
			return fmt.Errorf("writing past the limit: %w", err)
		}
		return nil
	}
	// tries to save in the current folder, as a user who is not root, and says what came of it
	children["stranger"] = func(args []string) error {
		if os.Geteuid() == 0 {
			if err := errors.Join(syscall.Setgroups([]int{aGroup}), syscall.Setegid(stranger), syscall.Seteuid(stranger)); err != nil {
				return err
			}
			defer syscall.Seteuid(0) // what counts statements writes to root's folder
		}
		if err := Save(args[0], []byte("two"), 0); err != nil {
			fmt.Print(err, ", no right to it: ", errors.Is(err, fs.ErrPermission))
			return nil
		}
		fmt.Print("saved")
		return nil
	}
}

// stranger is a user and a group that own nothing here, aGroup another group that the user is in.
const stranger, aGroup = 65534, 4321

// asStranger saves "two" in a folder as that user.
func asStranger(t *testing.T, dir, name string) string {
	t.Helper()
	c := child(t, "stranger", name)
	c.Dir = dir
	out, err := c.Output()
	if err != nil {
		t.Errorf("%v: %s", err, out)
	}
	return string(out)
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
		if got, want := asStranger(t, dir, name), "the folder cannot be written to; save elsewhere: "+name+", no right to it: true"; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	wantFile(t, path, "one")
	wantNames(t, dir, "card.yaml")
}

// A folder that several people share: whose the card is and what the folder allows decide whether it can be saved. What
// cannot is left as it was, and nothing half-written stays.
func TestSaveInASharedFolder(t *testing.T) {
	user, group := stranger, aGroup
	if os.Geteuid() != 0 { // who cannot give files away saves as himself
		user, group = os.Getuid(), os.Getgid()
	}
	const setUID, ofRoot, ofTheirs, kept = syscall.S_ISUID, 0, stranger, "card.yaml card.yaml~"
	protected, _ := os.ReadFile("/proc/sys/fs/protected_hardlinks")
	for name, c := range map[string]struct {
		folder, file fs.FileMode
		owner        int
		want, names  string
		links        bool // needs a system where nobody links to what is not theirs, unless they may read and write it: proc(5)
	}{
		"the group is kept where the owner cannot be": {folder: 0o777, file: 0o666, owner: ofRoot, want: "saved", names: kept},
		"one's own card that only the others may write": {folder: 0o777, file: 0o466, owner: ofTheirs,
			want: "the file is read-only; save under another name or make it writable: card.yaml, no right to it: true", names: "card.yaml"},
		"a card that only others may write": {folder: 0o777, file: 0o644, owner: ofRoot,
			want: "the file is read-only; save under another name or make it writable: card.yaml, no right to it: true", names: "card.yaml"},
		"where only the owner takes a name away": {folder: 0o1777, file: 0o666, owner: ofRoot,
			want: "only its owner may replace it here; save under another name: card.yaml, no right to it: true", names: "card.yaml"},
		"one's own card there":                             {folder: 0o1777, file: 0o600, owner: ofTheirs, want: "saved", names: kept},
		"a folder that cannot be listed":                   {folder: 0o733, file: 0o666, owner: ofRoot, want: "saved", names: kept},
		"one's own card in a folder that cannot be listed": {folder: 0o333, file: 0o666, owner: ofTheirs, want: "saved", names: kept},
		"a card that can only be written":                  {folder: 0o777, file: 0o200, owner: ofTheirs, want: "saved", names: kept},
		"the version before cannot be read": {folder: 0o777, file: 0o622, owner: ofRoot, links: true, names: "card.yaml",
			want: "nothing was changed: the version before could not be kept as card.yaml~; move that away or save elsewhere: card.yaml, no right to it: true"},
		"the version before is copied where no link can be made": {folder: 0o777, file: 0o666 | setUID, owner: ofRoot, links: true, want: "saved", names: kept},
	} {
		t.Run(name, func(t *testing.T) {
			if c.links && string(protected) != "1\n" {
				t.Skip("here anybody may link to anything")
			}
			owner := c.owner
			if owner == ofTheirs {
				owner = user
			} else if os.Geteuid() != 0 {
				t.Skip("only root can give files away")
			}
			dir := t.TempDir()
			path := filepath.Join(dir, "card.yaml")
			mustSave(t, path, "one")
			if err := errors.Join(os.Chown(path, owner, group), syscall.Chmod(path, uint32(c.file)), syscall.Chmod(dir, uint32(c.folder))); err != nil {
				t.Fatal(err)
			}
			if got := asStranger(t, dir, "card.yaml"); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
			if err := syscall.Chmod(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			wantNames(t, dir, strings.Fields(c.names)...)
			if c.want != "saved" {
				wantFile(t, path, "one")
				return
			}
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range []string{path, path + "~"} { // what could not be read
				if err := os.Chmod(p, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			wantFile(t, path, "two")
			wantFile(t, path+"~", "one")
			if st := info.Sys().(*syscall.Stat_t); int(st.Uid) != user || int(st.Gid) != group || info.Mode().Perm() != c.file&fs.ModePerm {
				t.Errorf("it belongs to %d, group %d, mode %v", st.Uid, st.Gid, info.Mode())
			}
		})
	}
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
