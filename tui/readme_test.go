//go:build unix

package tui

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

// Marks in the README, which do not show: a screen of the demo by its size, its environment and the keys pressed, and the
// list of keys.
var (
	readmeScreen = regexp.MustCompile("(?s)(<!-- screen: (\\d+)x(\\d+) ?([^\n]*) -->\n```text\n).*?(\n?```\n<!-- end -->)")
	readmeKeys   = regexp.MustCompile("(?s)(<!-- keys -->\n).*?(<!-- end -->)")
)

// TestReadmeShowsTheWorkbench holds the README's screen to that on a terminal, and its list of keys to
// the table.
func TestReadmeShowsTheWorkbench(t *testing.T) {
	const path = "../README.md"
	was, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	screens := 0
	now := readmeScreen.ReplaceAllFunc(was, func(block []byte) []byte {
		screens++
		m := readmeScreen.FindSubmatch(block)
		var w, h int
		fmt.Sscan(string(m[2])+" "+string(m[3]), &w, &h)
		env, keys := strings.Fields(string(m[4])), ""
		if n := len(env) - 1; n >= 0 && strings.HasPrefix(env[n], "keys=") {
			env, keys = env[:n], env[n][len("keys="):]
		}
		s := open(t, w, h, env...)
		s.Until("The call")
		s.Until("ISO ")
		s.Gone("sure …") // the last to come
		if keys != "" {
			s.Type(keys)
			s.Gone("The call")
		}
		s.Still(300 * time.Millisecond)
		var b strings.Builder
		for _, l := range s.Lines() {
			b.WriteString(strings.TrimRight(l, " ") + "\n")
		}
		return append(append(append([]byte(nil), m[1]...), b.String()...), "```\n<!-- end -->"...)
	})
	now = readmeKeys.ReplaceAll(now, []byte("${1}"+keyList()+"${2}"))
	if screens == 0 || !readmeKeys.Match(now) {
		t.Error("the README shows no screen or no list of keys")
	}
	if bytes.Equal(was, now) {
		return
	}
	if !*update {
		t.Fatal("the README shows another screen or other keys: go test ./tui -run Readme -update")
	}
	if err := os.WriteFile(path, now, 0o644); err != nil {
		t.Fatal(err)
	}
}
