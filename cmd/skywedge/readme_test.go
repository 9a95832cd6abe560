package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the program prints into the pages")

// Commands of the pages with what they print, between marks that do not show: in a box, or as a table of the page. A file
// that is printed as it is begins with "cat".
var (
	pageBox   = regexp.MustCompile("(?s)(<!-- run: ([^\n]*) -->\n```[a-z]*\n).*?(```\n<!-- end -->)")
	pageTable = regexp.MustCompile("(?s)(<!-- table: ([^\n]*) -->\n).*?(<!-- end -->)")
)

// pages are the files that show commands, from the repository's top, and how many at least.
var pages = map[string]int{"README.md": 0, "cmd/skywedge/COMMANDS.md": 8, "examples/FIELDS.md": 4}

// TestReadmeShowsRealOutput runs every command that the README and its pages show.
func TestReadmeShowsRealOutput(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	t.Chdir("../..")
	for page, least := range pages {
		was, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		show := func(in []byte, of *regexp.Regexp, head string) []byte {
			return of.ReplaceAllFunc(in, func(block []byte) []byte {
				seen++
				m := of.FindSubmatch(block)
				line := string(m[2])
				text := strings.TrimRight(strings.ReplaceAll(head, "COMMAND", line)+printed(t, line), "\n") + "\n"
				return bytes.Join([][]byte{m[1], []byte(text), m[3]}, nil)
			})
		}
		now := show(show(was, pageBox, "$ COMMAND\n"), pageTable, "")
		if seen < least {
			t.Errorf("%s: only %d commands are shown", page, seen)
		}
		if bytes.Equal(was, now) {
			continue
		}
		if !*update {
			t.Errorf("%s shows other output than the program gives: go test ./tui ./cmd/skywedge -run Readme -update", page)
		} else if err := os.WriteFile(page, now, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestReadmeLinks follows every link of the README and its pages to a file.
func TestReadmeLinks(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#:]+)(?:#[^)]*)?\)`)
	all := []string{"DEVELOPERS.md", "cmd/skywedge/TRUST.md", "examples/KEYS.md", "cmd/skywedge/JSON.md"}
	for page := range pages {
		all = append(all, page)
	}
	seen := 0
	for _, page := range all {
		text, err := os.ReadFile(filepath.Join("../..", page))
		if err != nil {
			t.Error(err)
		}
		for _, m := range link.FindAllSubmatch(text, -1) {
			seen++
			if _, err := os.Stat(filepath.Join("../..", filepath.Dir(page), string(m[1]))); err != nil {
				t.Errorf("%s leads to %s: %v", page, m[1], err)
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d links", seen)
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
		t.Fatalf("a page runs %q, which this test does not know", words[0])
	}
	return out.String()
}

// Whoever opens the repository finds these and nothing else; what is built there is ignored by git.
func TestNothingElseLiesAtTheTop(t *testing.T) {
	known := strings.Fields("cmd tui plan sun kit examples go.mod go.sum README.md DEVELOPERS.md LICENSE skywedge skywedge.exe dist")
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if name := e.Name(); !strings.HasPrefix(name, ".") && !slices.Contains(known, name) {
			t.Errorf("%s lies at the top of the repository: it belongs into a folder", name)
		}
	}
}
