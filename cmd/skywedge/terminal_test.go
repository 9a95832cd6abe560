//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/creack/pty"
)

// onTerminal runs the real program with standard error on a terminal of so many columns, and standard output
// there too unless it is given. It returns what the terminal was sent, and the exit code.
func onTerminal(t *testing.T, columns uint16, out *os.File, args ...string) (string, int) {
	t.Helper()
	c := exec.Command("skywedge", args...)
	c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+t.TempDir(), "XDG_STATE_HOME="+t.TempDir())
	master, slave, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer master.Close()
	if err := pty.Setsize(master, &pty.Winsize{Rows: 30, Cols: columns}); err != nil {
		t.Fatal(err)
	}
	c.Stdout, c.Stderr = slave, slave
	if out != nil {
		c.Stdout = out
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	slave.Close()
	got := make(chan []byte)
	go func() {
		b, _ := io.ReadAll(master) // ends with an error once nobody holds the other end
		got <- b
	}()
	text := strings.ReplaceAll(string(<-got), "\r\n", "\n")
	c.Wait()
	return text, c.ProcessState.ExitCode()
}

// An answer that cannot be written is a failure of every command, as text and as JSON.
func TestAFullDisk(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer full.Close()
	dir := tripIn(t)
	card, bad := filepath.Join(dir, "1-breakwater.yaml"), filepath.Join(dir, "bad.yaml")
	write(t, bad, "skywedge: 1\nname: nothing else\n")
	for _, line := range [][]string{
		{"help"}, {"help", "card"}, {"help", "json"}, {"completion", "zsh"}, {"man"}, {"folders"}, {"folders", "--json"}, {"version", "--json"},
		{"rose", card, "--second", "1"}, {"above", card}, {"above", "--json", card}, {"--help"}, {"version"}, {"card", "--help"},
		{"fields", "card"}, {"fields", "bag"}, {"check", card}, {"check", "--json", card}, {"check", "--json", bad},
		{"card", card}, {"card", "--brief", card}, {"card", "--json", card}, {"card", "--json", bad}, {"card", "--json", card, bad},
		{"filters", card}, {"filters", "--json", card}, {"flown", card}, {"flown", "--json", card}, {"hours", card}, {"hours", "--json", card},
		{"sun", "--at", "43,-8", "--when", "2026-09-18T19:40Z"}, {"sun", "--at", "43,-8", "--when", "2026-09-18T19:40Z", "--json"},
		{"sky", "--sun", "90,10"}, {"sky", "--sun", "90,10", "--json"}, {"sky", "--sun", "90,10", "--toward", "0,80"}, {"sky", "--json", "--sun", "90,100"},
		{"frame", card, "--second", "1", "--size", "4x4", "--json"}, {"frame", card, "--second", "1", "--size", "4x4", "-o", "-"},
		{"frame", card, "--second", "1", "--size", "4x4", "-o", filepath.Join(dir, "x.png")},
		{"frame", card, "--second", "1", "--size", "4x4", "-o", "/dev/full"},
		{}, {card}, {dir},
	} {
		var said bytes.Buffer
		c := exec.Command("skywedge", line...)
		c.Stdout, c.Stderr = full, &said
		c.Run()
		if code := c.ProcessState.ExitCode(); code != exitFailed || !strings.Contains(said.String(), "no space left to write it") {
			t.Errorf("%q: exit %d, %q", line, code, said.String())
		}
	}
}

// At 60 columns why and what to do come first, and the path fits into a line of its own.
func TestErrorsOnANarrowTerminal(t *testing.T) {
	deep := filepath.Join(t.TempDir(), strings.Repeat("a-long-folder/", 12))
	gone, card := filepath.Join(deep, "harbour at dusk.yaml"), filepath.Join(deep, "bad.yaml")
	write(t, card, "skywedge: 1\nname: nothing else\n")
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"card", gone}, exitFailed, "skywedge: no such file; check its name and folder:\n"},
		{[]string{"filters", deep}, exitFailed, "skywedge: a folder; name a card in it:\n"},
		{[]string{"card", gone, gone}, exitInvalid, "skywedge: left out: no such file; check its name and folder:\n"},
	} {
		got, code := onTerminal(t, 60, nil, c.args...)
		if code != c.code || !strings.HasPrefix(got, c.want) {
			t.Fatalf("%q: exit %d:\n%s", c.args, code, got)
		}
		for i, l := range strings.Split(strings.TrimSpace(got), "\n") {
			if w := ansi.StringWidth(l); w > 60 && i%2 == 1 {
				t.Errorf("%d columns: %s", w, l)
			}
		}
	}
	got, _ := onTerminal(t, 60, nil, "card", gone)
	if !strings.Contains(got, "…") || !strings.HasSuffix(got, "/harbour at dusk.yaml\n") {
		t.Errorf("the path is said as %q", got)
	}
	got, code := onTerminal(t, 60, nil, "check", card)
	line, _, _ := strings.Cut(got, "\n")
	if found := strings.Index(line, "found "); code != exitInvalid || found < 0 || found > 50 || !strings.Contains(line, "…") || !strings.Contains(line, "bad.yaml:1:1: ") {
		t.Errorf("exit %d, %s", code, got)
	}
	// a wrong command line breaks between words
	for _, args := range [][]string{{"crad"}, {"hours", card, "--by", "mood"}, {"help", "hours"}, {"help"}} {
		got, _ := onTerminal(t, 60, nil, args...)
		for _, l := range strings.Split(got, "\n") {
			if w := ansi.StringWidth(l); w > 60 {
				t.Errorf("%q: %d columns: %s", args, w, l)
			}
		}
	}
	// in a pipe the whole path is there, for the program at its other end
	var said bytes.Buffer
	c := exec.Command("skywedge", "check", card)
	c.Stderr = &said
	c.Run()
	if !strings.HasPrefix(said.String(), card+":1:1: ") {
		t.Errorf("%s", said.String())
	}
}

// A hopeless card, a bad folder and a long list of names take no more than a screen or two; --json has all.
func TestManyFaultsAreCut(t *testing.T) {
	dir := tripIn(t)
	var b strings.Builder
	b.WriteString("skywedge: 1\nname: x\n")
	for i := range 352 {
		fmt.Fprintf(&b, "unknown_%d: 1\n", i)
	}
	bad := filepath.Join(dir, "bad.yaml")
	write(t, bad, b.String())
	var cards []string
	for i := range 60 {
		p := filepath.Join(dir, fmt.Sprintf("more/%02d.yaml", i))
		write(t, p, "skywedge: 1\nname: x\n")
		cards = append(cards, p)
	}
	for _, args := range [][]string{{"check", bad}, {"card", bad}, {"filters", bad}, {"hours", bad}, {"frame", bad, "--second", "1", "-o", "x.png"},
		append([]string{"check"}, cards...), append([]string{"card"}, cards...)} {
		all, err := exec.Command("skywedge", "check", "--json", args[1]).Output()
		var doc checkJSON
		if err == nil || json.Unmarshal(all, &doc) != nil {
			t.Fatalf("%v: %s", err, all)
		}
		for _, columns := range []uint16{60, 200} {
			got, code := onTerminal(t, columns, nil, args...)
			lines := strings.Split(strings.TrimSpace(got), "\n")
			last := lines[len(lines)-1]
			var more int
			if _, err := fmt.Sscanf(last, "and %d more (--json has all)", &more); err != nil || code != exitInvalid {
				t.Fatalf("%q at %d: exit %d, the last line is %q", args[:2], columns, code, last)
			}
			if len(got) > 4096 || len(lines) > 42 || len(lines) < 10 {
				t.Errorf("%q at %d: %d bytes, %d lines", args[:2], columns, len(got), len(lines))
			}
			if len(args) == 2 && more+len(lines)-1 != len(doc.Faults) {
				t.Errorf("%q at %d: %d lines and %d more, of %d", args[:2], columns, len(lines)-1, more, len(doc.Faults))
			}
		}
	}
}

// However much is wrong with one card, the others that are left out are named.
func TestEveryFileLeftOutIsNamed(t *testing.T) {
	dir := t.TempDir()
	long := "skywedge: 1\nname: x\n" + strings.Repeat("- broken\n", 3) + strings.Repeat("x", 200)
	write(t, filepath.Join(dir, "0-good.yaml"), fmt.Sprintf(goodCard, "x"))
	var b strings.Builder
	b.WriteString("skywedge: 1\n")
	for i := range 400 {
		fmt.Fprintf(&b, "unknown_%d: 1\n", i)
	}
	for i, text := range []string{b.String(), long, b.String()} {
		write(t, filepath.Join(dir, fmt.Sprintf("%d-bad.yaml", i+1)), text)
	}
	if err := os.Symlink("gone", filepath.Join(dir, "4-link.yaml")); err != nil {
		t.Skip(err)
	}
	files, _ := filepath.Glob(filepath.Join(dir, "*.yaml"))
	for _, command := range []string{"card", "check"} {
		got, code := onTerminal(t, 60, nil, append([]string{command}, files...)...)
		for _, name := range []string{"1-bad.yaml", "2-bad.yaml", "3-bad.yaml", "4-link.yaml"} {
			if !strings.Contains(got, name) {
				t.Errorf("%s does not name %s", command, name)
			}
		}
		if code != exitInvalid || !strings.Contains(got, " more (--json has all)") {
			t.Errorf("%s: exit %d\n%s", command, code, got)
		}
	}
}

// A bag that is there and cannot be read is not passed over: the call would be made for another.
func TestABagThatCannotBeReadIsSaid(t *testing.T) {
	dir := t.TempDir()
	card, bag := filepath.Join(dir, "card.yaml"), filepath.Join(dir, "bag.yaml")
	write(t, card, fmt.Sprintf(goodCard, "x"))
	for what, c := range map[string]struct {
		make func() error
		want string
	}{
		"a link to nothing": {func() error { return os.Symlink("gone", bag) }, "a link to a file that is gone; mend the link or remove it: "},
		"a link to itself":  {func() error { return os.Symlink("bag.yaml", bag) }, "a link that leads in a circle; mend the link or remove it: "},
		"a folder":          {func() error { return os.Mkdir(bag, 0o755) }, "a folder in place of the bag; move it away, or name a bag with --bag: "},
	} {
		if err := c.make(); err != nil {
			t.Skip(err)
		}
		for _, args := range [][]string{{"card", card}, {"card", "--json", card}, {"check", card}, {"filters", card}, {"hours", card}, {"frame", card, "--second", "1", "--json"}, {card}, {dir}} {
			out, err := exec.Command("skywedge", args...).CombinedOutput()
			var end *exec.ExitError
			if !errors.As(err, &end) || end.ExitCode() != exitFailed || !strings.Contains(string(out), c.want+bag) {
				t.Errorf("%s, %q: %v\n%s", what, args, err, out)
			}
		}
		if err := os.Remove(bag); err != nil {
			t.Fatal(err)
		}
	}
}

// Names may hold what a terminal acts on or does not show. It never gets there raw, whatever the command, and in
// JSON it means what it meant.
func TestNamesReachNoTerminalRaw(t *testing.T) {
	dir := tripIn(t)
	const nasty = "a\x1b[2J\x1b]0;title\ab\u202ec\u200bd\u2066e\u009b31mf\xff"
	const hidden = "evil\u200bname\u200d\u00adof\u2060a\u200fcard" // what the reader of cards lets pass
	file := filepath.Join(dir, nasty+".yaml")
	write(t, file, fmt.Sprintf(goodCard, "x")+"fliter: none\n")
	card := filepath.Join(dir, "9-hidden.yaml")
	write(t, card, strings.Replace(fmt.Sprintf(goodCard, "x"), `"x"`, hidden, 1))
	missing := filepath.Join(dir, nasty)
	for _, args := range [][]string{
		{"check", file}, {"check", missing}, {"check", "--json", file}, {"check", "--json", missing}, {"check", card, file},
		{"card", file}, {"card", missing}, {"card", missing, file, card}, {"card", "--json", missing, card}, {"card", card}, {"card", "--brief", card}, {"card", "--json", card},
		{"filters", missing}, {"filters", card}, {"hours", card}, {"hours", "--json", card}, {"hours", missing},
		{"frame", missing, "--second", "1", "-o", "-"}, {"frame", card, "--second", "1", "--filter", nasty, "-o", "-"},
		{"frame", card, "--second", "1", "--size", "4x4", "-o", filepath.Join(dir, nasty+".png")},
		{"frame", card, "--second", "1", "--size", "4x4", "-o", filepath.Join(missing, "x.png")},
		{"card", card, "--take-off", nasty}, {"card", card, "--bag", missing}, {"card", card, "--bag", file},
		{"sun", "--at", nasty, "--when", "now"}, {"sun", "--at", "1,1", "--when", nasty}, {"sun", "--at", "1,1", "--when", "now", "--zone", nasty},
		{"sky", "--sun", nasty}, {"sky", "--sun", "1,1", "--ground", nasty}, {"sky", nasty}, {"sky", "--" + nasty},
		{"fields", nasty}, {nasty}, {"help", nasty}, {"--theme", nasty}, {missing}, {file}, {card}, {dir}, {"card", "--json", nasty}, {"hours", card, "--by", nasty, "--json"},
	} {
		got, _ := onTerminal(t, 100, nil, args...)
		if i := strings.IndexFunc(got, func(r rune) bool { return r != '\n' && r != '\t' && !unicode.IsGraphic(r) }); i >= 0 || got == "" {
			t.Errorf("%q: the terminal gets %q", args, got[max(0, i-20):min(len(got), i+20)])
		}
	}
	got, err := exec.Command("skywedge", "card", "--json", card).Output()
	var doc struct{ Name string }
	if err != nil || json.Unmarshal(got, &doc) != nil || doc.Name != hidden {
		t.Errorf("%v: in JSON the name is %q", err, doc.Name)
	}
}
