package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

func TestLock(t *testing.T) {
	state, _ := home(t)
	path := filepath.Join(t.TempDir(), "card.yaml")
	mine, err := Acquire(path)
	if err != nil {
		t.Fatal(err)
	}
	wantHeld := func(pid int) {
		t.Helper()
		l, err := Acquire(path)
		var held *LockedError
		if !errors.As(err, &held) || held.PID != pid || !strings.Contains(err.Error(), "card.yaml is open in another window (process "+itoa(pid)+")") {
			t.Fatalf("got %v, %v; want held by %d", l, err, pid)
		}
	}
	wantHeld(os.Getpid())
	if other, err := Acquire(path + "2"); err != nil {
		t.Errorf("another card: %v", err)
	} else {
		other.Release()
	}
	mine.Release()
	mine.Release()
	(*Lock)(nil).Release()
	wantNames(t, filepath.Join(state, "skywedge", "locks"))

	// A window in another process, which ends in order.
	c := child(t, "lock", path)
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	startReady(t, c)
	wantHeld(c.Process.Pid)
	in.Close()
	if err := c.Wait(); err != nil {
		t.Error(err)
	}
	wantNames(t, filepath.Join(state, "skywedge", "locks"))

	// One that is killed: its file stays, its hold does not.
	c = child(t, "lock", path)
	if in, err = c.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	startReady(t, c)
	wantHeld(c.Process.Pid)
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	wantNames(t, filepath.Join(state, "skywedge", "locks"), key(path)+".lock")
	mine, err = Acquire(path)
	if err != nil {
		t.Fatalf("after a kill: %v", err)
	}
	wantHeld(os.Getpid())
	mine.Release()
}

// Whose the mark is may not be told: the number is for the message only.
func TestAnUnknownHolder(t *testing.T) {
	state, _ := home(t)
	mine, err := Acquire("card.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer mine.Release()
	for _, text := range []string{"", "\n", "somebody\n", "-7\n"} {
		if err := os.WriteFile(filepath.Join(state, "skywedge", "locks", key("card.yaml")+".lock"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Acquire("card.yaml"); err == nil || err.Error() != "card.yaml is open in another window, so it is read-only here" {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Many at once: one gets it.
func TestLockRace(t *testing.T) {
	home(t)
	path := filepath.Join(t.TempDir(), "card.yaml")
	for range 20 {
		got := make(chan *Lock)
		for range 8 {
			go func() {
				l, err := Acquire(path)
				var held *LockedError
				if err != nil && !errors.As(err, &held) {
					t.Error(err)
				}
				got <- l
			}()
		}
		var locks []*Lock
		for range 8 {
			if l := <-got; l != nil {
				locks = append(locks, l)
			}
		}
		if len(locks) != 1 {
			t.Fatalf("%d windows hold the card", len(locks))
		}
		locks[0].Release()
	}
}

func TestLockWithoutState(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	mustSave(t, file, "in the way")
	t.Setenv("XDG_STATE_HOME", file)
	_, err := Acquire("card.yaml")
	var held *LockedError
	if err == nil || errors.As(err, &held) {
		t.Errorf("no state folder: %v", err)
	}
	if _, err := new(Window).Keep(Recovery{Path: "card.yaml"}, 0); err == nil {
		t.Error("a recovery file without a folder")
	}
}

// Who lets go takes the lock's file away. Whoever had it open by then holds a file without a name, which must not count: there
// is one holder at any moment, and the file that is held has the name.
func TestALockIsHeldByItsName(t *testing.T) {
	name := filepath.Join(t.TempDir(), "x.lock")
	var inside atomic.Int32
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 1000 {
				f, err := lockFile(name)
				if errors.Is(err, errHeld) {
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				held, err1 := f.Stat()
				named, err2 := os.Stat(name)
				if n := inside.Add(1); n > 1 || err1 != nil || err2 != nil || !os.SameFile(held, named) {
					t.Errorf("%d hold it; it lost its name: %v, %v", n, err1, err2)
				}
				inside.Add(-1)
				unlockFile(f)
			}
		})
	}
	all.Wait()
}
