package store

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"testing"
)

// The tests of sudden ends need a second process: the test binary, started again with a task in its
// environment.
const childTask = "SKYWEDGE_TEST_TASK"

// children are the tasks by name; each gets the arguments after the binary's name.
var children = map[string]func(args []string) error{
	// saves version after version until it is killed
	"save": func(args []string) error {
		return endless(args[0], func(path string, data []byte) error { return Save(path, data, 0) })
	},
	// the same the naive way, to show that the test can tell
	"plain": func(args []string) error {
		return endless(args[0], func(path string, data []byte) error { return os.WriteFile(path, data, 0o644) })
	},
	// keeps unsaved work on a card and stays open until its standard input ends
	"keep": func(args []string) error {
		var w Window
		if _, err := w.Keep(Recovery{Path: args[0], Data: []byte("work")}, 0); err != nil {
			return err
		}
		fmt.Println("ready")
		_, err := io.Copy(io.Discard, os.Stdin)
		return err
	},
	// holds a card until its standard input ends
	"lock": func(args []string) error {
		l, err := Acquire(args[0])
		if err != nil {
			return err
		}
		fmt.Println("ready")
		_, err = io.Copy(io.Discard, os.Stdin)
		l.Release()
		return err
	},
}

func TestMain(m *testing.M) {
	if task := os.Getenv(childTask); task != "" {
		if err := children[task](os.Args[1:]); err != nil {
			fmt.Println("error:", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// child makes the command for a task.
func child(t *testing.T, task string, args ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe, args...)
	c.Env = append(os.Environ(), childTask+"="+task, "GORACE=atexit_sleep_ms=0")
	c.Stderr = os.Stderr
	return c
}

// startReady starts a task and waits until it says "ready".
func startReady(t *testing.T, c *exec.Cmd) {
	t.Helper()
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || line != "ready\n" {
		_ = c.Process.Kill()
		_ = c.Wait()
		t.Fatalf("the second process said %q, %v", line, err)
	}
}

// versionSize is larger than a card, so that a kill has something to hit.
const versionSize = 512 << 10

// version returns a whole file that can be told from a torn or mixed one: one letter all through.
func version(n int) []byte { return bytes.Repeat([]byte{byte('a' + n%26)}, versionSize) }

func whole(data []byte) bool {
	return len(data) == versionSize && bytes.Count(data, data[:1]) == versionSize
}

func endless(path string, write func(string, []byte) error) error {
	for n := 0; ; n++ {
		if err := write(path, version(n)); err != nil {
			return err
		}
		if n == 0 {
			fmt.Println("ready")
		}
	}
}
