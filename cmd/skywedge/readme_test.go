package main

import (
	"bytes"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the program prints into the README")

// readmeBlock is a command of the README with what it prints, between marks that do not show. A file
// that is printed as it is begins with "cat".
var readmeBlock = regexp.MustCompile("(?s)(<!-- run: ([^\n]*) -->\n```[a-z]*\n).*?(\n?```\n<!-- end -->)")

// TestReadmeShowsRealOutput runs every command that the README shows.
func TestReadmeShowsRealOutput(t *testing.T) {
	const path = "../../README.md"
	was, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	t.Chdir("../..")
	seen := 0
	now := readmeBlock.ReplaceAllFunc(was, func(block []byte) []byte {
		seen++
		m := readmeBlock.FindSubmatch(block)
		line := string(m[2])
		text := strings.TrimRight("$ "+line+"\n"+printed(t, line), "\n")
		return append(append(append([]byte(nil), m[1]...), text...), "\n```\n<!-- end -->"...)
	})
	if seen < 5 {
		t.Errorf("only %d commands are shown", seen)
	}
	if bytes.Equal(was, now) {
		return
	}
	if !*update {
		t.Fatal("the README shows other output than the program gives: go test ./cmd/skywedge -run Readme -update")
	}
	if err := os.WriteFile("README.md", now, 0o644); err != nil {
		t.Fatal(err)
	}
}

// printed returns what a command prints to both ends, as a person sees it.
func printed(t *testing.T, line string) string {
	t.Helper()
	words := strings.Fields(line)
	var out bytes.Buffer
	switch words[0] {
	case "cat":
		data, err := os.ReadFile(words[1])
		if err != nil {
			t.Fatal(err)
		}
		out.Write(data)
	case "skywedge":
		e := &env{in: strings.NewReader(""), out: &out, err: &out, now: demoNow}
		run(e, words[1:])
	default:
		t.Fatalf("the README runs %q, which this test does not know", words[0])
	}
	return out.String()
}
