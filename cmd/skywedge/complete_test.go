package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/cmd/skywedge/internal/manual"
)

// completions are command lines, the last word being typed, and what a shell offers for it.
var completions = []struct {
	line string
	want []string // all of these, and
	not  string   // not this
}{
	{"skywedge ho", []string{"hours"}, "card"},
	{"skywedge c", []string{"card", "check", "completion"}, "hours"},
	{"skywedge --th", []string{"--theme"}, "--bag"},
	{"skywedge --theme ", []string{"dark", "light"}, "card"},
	{"skywedge card --", []string{"--brief", "--json", "--bag", "--take-off"}, "--by"},
	{"skywedge hours --by s", []string{"sky", "strength", "sun"}, "glare"},
	{"skywedge hours --by sky --o", []string{"--over"}, "--by"},
	{"skywedge measure ND8 --thr", []string{"--through"}, "--theme"},
	{"skywedge fields ", []string{"card", "bag"}, "hours"},
	{"skywedge completion z", []string{"zsh"}, "bash"},
	{"skywedge help j", []string{"json"}, "card"},
	{"skywedge card tr", []string{"trip/"}, "--brief"},
	{"skywedge card trip/2", []string{"trip/2-lighthouse.yaml"}, "trip/bag.yaml"},
	{"skywedge card --bag no", []string{"notes.txt"}, "trip/"},
	{"skywedge trip/2", []string{"trip/2-lighthouse.yaml"}, "card"},
}

// shellIn is a folder to complete names in, and a shell's script; the test is skipped without the shell.
func shellIn(t *testing.T, shell string) (dir, script string) {
	t.Helper()
	if _, err := exec.LookPath(shell); err != nil {
		t.Skip("there is no " + shell + " here")
	}
	dir = t.TempDir()
	if err := copyExamples(filepath.Join(dir, "trip")); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "notes.txt"), "")
	script = filepath.Join(dir, "script")
	write(t, script, program().Completion(shell))
	return dir, script
}

// offered checks what a shell offers: a word a line, perhaps with its meaning behind a tab.
func offered(t *testing.T, dir string, i int, shell ...string) {
	t.Helper()
	c := completions[i]
	cmd := exec.Command(shell[0], shell[1:]...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HOME="+dir, "XDG_CONFIG_HOME="+dir, "XDG_DATA_HOME="+dir)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%q: %v\n%s", c.line, err, out)
	}
	var got []string
	for _, l := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		word, _, _ := strings.Cut(l, "\t")
		got = append(got, word)
	}
	for _, want := range c.want {
		if !slices.Contains(got, want) && !slices.Contains(got, strings.TrimSuffix(want, "/")) {
			t.Errorf("%q offers %q, not %q", c.line, got, want)
		}
	}
	if slices.Contains(got, c.not) || slices.Contains(got, strings.TrimSuffix(c.not, "/")) {
		t.Errorf("%q offers %q", c.line, got)
	}
}

func TestCompletionInBash(t *testing.T) {
	dir, script := shellIn(t, "bash")
	for i, c := range completions {
		words := strings.Split(c.line, " ")
		offered(t, dir, i, append([]string{"bash", "--norc", "-c", `. "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _skywedge; printf '%s\n' "${COMPREPLY[@]}"`, script}, words...)...)
	}
}

func TestCompletionInFish(t *testing.T) {
	dir, script := shellIn(t, "fish")
	for i, c := range completions {
		offered(t, dir, i, "fish", "--no-config", "-c", `source $argv[1]; complete -C $argv[2]`, script, c.line)
	}
}

// What zsh offers needs a terminal and its own functions; here it reads the script.
func TestCompletionInZsh(t *testing.T) {
	dir, script := shellIn(t, "zsh")
	cmd := exec.Command("zsh", "-f", "-c", `compdef() { print -r -- "$@" }; source $0; whence -w _skywedge`, script)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil || string(out) != "_skywedge skywedge\n_skywedge: function\n" {
		t.Errorf("%v\n%s", err, out)
	}
}

// The manual page is read without a complaint by what there is to read it, and holds every command and flag.
func TestManPage(t *testing.T) {
	page := filepath.Join(t.TempDir(), "skywedge.1")
	write(t, page, program().ManPage("1.2.3", "2026-09-18"))
	checked := false
	for _, tool := range [][]string{{"mandoc", "-T", "lint", "-W", "warning"}, {"groff", "-man", "-ww", "-z"}} {
		if _, err := exec.LookPath(tool[0]); err != nil {
			continue
		}
		checked = true
		if out, err := exec.Command(tool[0], append(tool[1:], page)...).CombinedOutput(); err != nil || len(out) > 0 {
			t.Errorf("%s: %v\n%s", tool[0], err, out)
		}
	}
	if _, err := exec.LookPath("man"); err == nil {
		checked = true
		cmd := exec.Command("man", "-P", "cat", "-l", page)
		cmd.Env = append(os.Environ(), "MANWIDTH=80", "LC_ALL=C.UTF-8", "GROFF_NO_SGR=1", "TERM=dumb")
		out, err := cmd.Output()
		if err != nil {
			t.Skipf("man does not show a file here: %v", err)
		}
		text := string(out)
		for _, c := range program().Commands {
			for i := range c.Flags {
				if f := c.Flags[i].Dashed(); !strings.Contains(text, f) {
					t.Errorf("%s: the page lacks %s", c.Name, f)
				}
			}
			if !strings.Contains(text, "   "+c.Name) {
				t.Errorf("the page lacks %s", c.Name)
			}
		}
		if !strings.Contains(text, "skywedge 1.2.3") || !strings.Contains(text, "2026-09-18") {
			t.Error("the page does not say of which version it is")
		}
	}
	if !checked {
		t.Skip("nothing here reads manual pages")
	}
}

func TestCompletionIsRefused(t *testing.T) {
	for _, args := range [][]string{{"completion"}, {"completion", "dos"}, {"completion", "bash", "zsh"}} {
		if code := run(discard(nil), args); code != exitUsage {
			t.Errorf("%q: exit %d", args, code)
		}
	}
	if len(manual.Shells()) != 3 {
		t.Error("a shell has no test")
	}
}
