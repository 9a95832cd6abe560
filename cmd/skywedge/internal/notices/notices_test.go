package notices

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the notices anew")

// The systems that have modules of their own: what is linked for the others is linked for one of these.
var systems = []string{"linux", "darwin", "windows", "freebsd"}

// licence tells the files that a module's terms stand in.
var licence = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|third_party_licenses)([._-].*)?$`)

const goLibrary = "Go's standard library"

const rule = "\n================================================================================\n"

// What is linked, on whatever system, has its terms in the notices, word for word, and nothing else has.
func TestEveryLinkedModuleHasItsTerms(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("The program is made of its own code, whose terms are in the file LICENSE beside it, and of what follows.\n")
	b.WriteString("The table of time zones (zone.tab) is in the public domain.\n")
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	if goDir := strings.TrimSpace(string(root)); exists(filepath.Join(goDir, "LICENSE")) {
		section(t, &b, goLibrary, filepath.Join(goDir, "LICENSE"), filepath.Join(goDir, "PATENTS"))
	} else { // a system's own package of Go may have put it elsewhere
		sections := strings.Split(Text, rule)
		b.WriteString(rule + goLibrary + rule + sections[2])
	}
	dirs := linked(t)
	var paths []string
	for p := range dirs {
		paths = append(paths, p)
	}
	sort.Strings(paths)
	for _, p := range paths {
		entries, err := os.ReadDir(dirs[p])
		if err != nil {
			t.Fatal(err)
		}
		var files []string
		for _, e := range entries {
			if licence.MatchString(e.Name()) && e.Type().IsRegular() {
				files = append(files, filepath.Join(dirs[p], e.Name()))
			}
		}
		section(t, &b, p, files...)
		if len(files) == 0 {
			b.WriteString("\nIts page says of its terms:\n\n" + termsOfPage(t, dirs[p]) + "\n")
		}
	}
	if *update {
		if err := os.WriteFile("notices.txt", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if b.String() != Text {
		t.Error("the notices are not those of what is linked: go test ./cmd/skywedge/internal/notices -update")
	}
}

func exists(file string) bool {
	_, err := os.Stat(file)
	return err == nil
}

func section(t *testing.T, b *strings.Builder, name string, files ...string) {
	t.Helper()
	b.WriteString(rule + name + rule)
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		b.WriteString("\n" + strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")) + "\n")
	}
}

// termsOfPage returns what a module's page says of its terms and its author, where they have no file.
func termsOfPage(t *testing.T, dir string) string {
	t.Helper()
	page, _ := os.ReadFile(filepath.Join(dir, "README.md"))
	_, terms, ok := strings.Cut(string(page), "## License")
	if !ok {
		t.Errorf("%s has no terms: may it be linked?", dir)
	}
	return strings.TrimSpace(terms)
}

// linked returns the modules that the program is linked from, each with its folder.
func linked(t *testing.T) map[string]string {
	t.Helper()
	dirs := map[string]string{}
	for _, system := range systems {
		cmd := exec.Command("go", "list", "-deps", "-json=Module", "example.org/skywedge/cmd/skywedge")
		cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list for %s: %v", system, err)
		}
		for d := json.NewDecoder(strings.NewReader(string(out))); ; {
			var p struct {
				Module *struct {
					Path, Dir string
					Main      bool
				}
			}
			if err := d.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			if m := p.Module; m != nil && !m.Main {
				dirs[m.Path] = m.Dir
			}
		}
	}
	if len(dirs) < 10 {
		t.Fatalf("only %d modules", len(dirs))
	}
	return dirs
}
