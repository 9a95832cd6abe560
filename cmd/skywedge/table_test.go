package main

import (
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/cmd/skywedge/internal/manual"
)

// Every example of a help is run: it works on the demo trip, from the folder that holds it.
func TestEveryExampleWorks(t *testing.T) {
	dir := t.TempDir()
	if err := copyExamples(dir + "/examples"); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CONFIG_HOME", dir+"/config")
	t.Setenv("XDG_STATE_HOME", dir+"/state")
	t.Chdir(dir)
	if err := os.Mkdir("tiles", 0o777); err != nil {
		t.Fatal(err)
	}
	write(t, "tiles/N43W009.hgt", string(wallTile("N43W009.hgt", []float64{0})))
	for _, c := range program().Commands {
		if len(c.Example) == 0 && c.Name != "help" {
			t.Errorf("%s has no example", c.Name)
		}
		for _, x := range c.Example {
			if n := len("  skywedge " + x); n > 80 {
				t.Errorf("%q is %d columns wide", x, n)
			}
			var out, said strings.Builder
			e := &env{in: strings.NewReader(""), out: &out, err: &said, now: demoNow}
			if code := run(e, strings.Fields(x)); code != exitDone || out.Len() == 0 || said.Len() > 0 {
				t.Errorf("skywedge %s: exit %d, %s%s", x, code, out.String(), said.String())
			}
		}
	}
}

// A command is told in one way, and asked for its help in every way.
func TestHelpOfEveryCommand(t *testing.T) {
	said := func(args ...string) string {
		var out strings.Builder
		e := discard(nil)
		e.out = &out
		if code := run(e, args); code != exitDone {
			t.Errorf("%q: exit %d", args, code)
		}
		return out.String()
	}
	for _, c := range table()[1:] {
		want := said("help", c.Name)
		if c.Name == "help" {
			continue // it has no flags, and "help --help" is the help of all
		}
		for _, line := range [][]string{{c.Name, "-h"}, {c.Name, "--help"}, {c.Name, "x", "-help"}} {
			if got := said(line...); got != want {
				t.Errorf("%q says\n%s\nnot\n%s", line, got, want)
			}
		}
		for i := range c.Flags {
			f := &c.Flags[i]
			if !strings.Contains(want, "  "+f.Dashed()) || f.Help == "" || (f.Kind == manual.Switch) != (f.Value == "") {
				t.Errorf("%s: %s is told as\n%s", c.Name, f.Dashed(), want)
			}
			if f.Default != "" && f.CheckWord(f.Default) != nil {
				t.Errorf("%s: the default %q of %s is none of its words", c.Name, f.Default, f.Dashed())
			}
		}
		if names := program().Names(); !slices.Contains(names, c.Name) {
			t.Errorf("%s is not told", c.Name)
		}
	}
	if all := said("help"); all != said("-h") || all != said("--help") || all != said("--ascii", "-h") {
		t.Error("the help of the program differs by how it is asked for")
	}
}
