package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// liveProgram is the program as it is, for tests on a terminal.
const liveProgram = "skywedge-live"

// The scripts in testdata/script run the real program. Its clock stands still, at an instant of the
// demo trip, so that "now" can be tested.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"skywedge": func() {
			e := process()
			e.now, e.terminal = demoNow, false // the workbench has tests of its own
			os.Exit(run(e, os.Args[1:]))
		},
		// the same with the clock of this computer, and with the workbench
		liveProgram: func() { os.Exit(run(process(), os.Args[1:])) },
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir+"/config")
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/state")
			return copyExamples(e.WorkDir + "/trip")
		},
		Condition: func(cond string) (bool, error) {
			if cond == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", cond)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"jq": cmdJQ, "exits": cmdExits, "big": cmdBig, "over": cmdOver, "photo": cmdPhoto, "wall": cmdWall, "glare": cmdGlare,
			"tile": cmdTile,
		},
	})
}

// demoNow is the instant at which the tests' clock stands.
func demoNow() time.Time { return time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC) }

// copyExamples lays the demo trip beside the script.
func copyExamples(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	return os.CopyFS(dir, os.DirFS("../../examples"))
}

// discard is an env that keeps nothing, for tests that only want the exit code.
func discard(in io.Reader) *env {
	return &env{in: in, out: io.Discard, err: io.Discard, now: time.Now}
}

const goodCard = `skywedge: 1
name: %q
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}
take_off: 2026-09-18T19:40
camera: wide fixed 2.8
legs:
  - {move: hold, heading_deg: 30, seconds: 20}
`

// tripIn lays the demo trip in a new folder.
func tripIn(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := copyExamples(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
