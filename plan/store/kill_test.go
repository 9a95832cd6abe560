package store

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// killWriting kills a process that writes a file in a loop, at a random moment, again and again, and
// gives how often the file was torn and what else it left.
// It makes at least five rounds, and more until enough says so.
func killWriting(t *testing.T, task string, enough func(done, torn int) bool) (done, torn, tornBackup, strays int) {
	t.Helper()
	rng := rand.New(rand.NewPCG(9, 60))
	path := filepath.Join(t.TempDir(), "card.yaml")
	for ; done < 5 || !enough(done, torn); done++ {
		c := child(t, task, path)
		startReady(t, c)
		time.Sleep(time.Duration(rng.IntN(12_000)) * time.Microsecond)
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = c.Wait()
		if data, err := os.ReadFile(path); err != nil || !whole(data) {
			torn++
		}
		if data, err := os.ReadFile(path + "~"); err == nil && !whole(data) || err != nil && !errors.Is(err, fs.ErrNotExist) {
			tornBackup++
		}
	}
	strays = Sweep(filepath.Dir(path), time.Now().Add(time.Minute))
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != "card.yaml" && e.Name() != "card.yaml~" {
			t.Errorf("left behind: %s", e.Name())
		}
	}
	return done, torn, tornBackup, strays
}

func TestKillDuringSave(t *testing.T) {
	end := time.Now().Add(2 * time.Second)
	done, torn, backup, strays := killWriting(t, "save", func(done, _ int) bool { return done >= 60 || time.Now().After(end) })
	t.Logf("%d kills: %d files and %d backups torn, %d temporaries swept", done, torn, backup, strays)
	if torn > 0 || backup > 0 {
		t.Errorf("%d of %d files torn, %d backups", torn, done, backup)
	}
	// The same test tears a plain write, so it can tell.
	done, torn, _, _ = killWriting(t, "plain", func(done, torn int) bool { return torn > 0 || done >= 60 })
	t.Logf("plain writes: %d of %d torn", torn, done)
	if torn == 0 {
		t.Errorf("no plain write of %d was torn: the test proves nothing", done)
	}
}

func TestSweep(t *testing.T) {
	dir := t.TempDir()
	now := time.Now()
	dead := child(t, "lock")
	dead.Args = append(dead.Args, filepath.Join(dir, "x")) // ends at once: its input is empty
	dead.Env = append(dead.Env, "XDG_STATE_HOME="+t.TempDir())
	if err := dead.Run(); err != nil {
		t.Fatal(err)
	}
	mk := func(name string, age time.Duration) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(p, now, now.Add(-age)); err != nil {
			t.Fatal(err)
		}
		return p
	}
	temp := func(pid int, hex string) string { return tempPrefix + itoa(pid) + "-" + hex + tempSuffix }
	gone := []string{mk(temp(dead.ProcessState.Pid(), "0123456789abcdef"), time.Minute)}
	kept := []string{
		mk(temp(dead.ProcessState.Pid(), "fedcba9876543210"), time.Second), // perhaps of another computer
		mk(temp(os.Getpid(), "0123456789abcdef"), time.Minute),             // of a living window
		mk(temp(dead.ProcessState.Pid(), "0123"), time.Minute),             // not of our form
		mk(".skywedge-notes.tmp", time.Hour), mk("card.yaml~", time.Hour), mk("card.yaml.tmp", time.Hour),
	}
	if n := Sweep(dir, now); n != len(gone) {
		t.Errorf("swept %d, want %d", n, len(gone))
	}
	for _, p := range gone {
		if _, err := os.Lstat(p); err == nil {
			t.Errorf("%s is still there", p)
		}
	}
	for _, p := range kept {
		if _, err := os.Lstat(p); err != nil {
			t.Errorf("%s was taken: %v", p, err)
		}
	}
	if n := Sweep(filepath.Join(dir, "missing"), now); n != 0 {
		t.Errorf("swept %d from a missing folder", n)
	}
}
