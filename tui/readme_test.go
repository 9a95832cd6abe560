//go:build unix

package tui

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
	"time"

	"example.org/skywedge/tui/internal/screentest"
)

const (
	readme   = "../README.md"
	keysPage = "../examples/KEYS.md"
	anew     = "go test ./tui ./cmd/skywedge -run Readme -update"
)

// readmePictures are the screens of the demo that the README shows: the file under examples, its title, and how to come there
// from the picture before.
var readmePictures = []struct {
	file, title string
	keys, until string
}{
	{"shot.svg", "skywedge, view 1: the shot", "", "1 of 7"},
	{"compass.svg", "skywedge, view 2: the compass", "n2", "2 of 7"},
}

// TestReadmeShowsTheWorkbench draws the README's pictures from the screen of the workbench, and compares or keeps them.
func TestReadmeShowsTheWorkbench(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := openAtClock(t, 120, 36, "12:00:00", "THEME=dark") // on another day the band would count down to take-off
	for _, p := range readmePictures {
		if !regexp.MustCompile(`!\[[^\]]{40,}\]\(examples/` + p.file + `\)`).Match(text) {
			t.Errorf("the README does not show %s with words for those who do not see it", p.file)
		}
		s.Type(p.keys)
		s.Until(p.until)
		s.Until("ISO ")
		s.Gone("sure …") // the last to come
		holdPicture(t, s, filepath.Join("../examples", p.file), p.title)
	}
}

// holdPicture compares the screen with a picture and waits for the two to agree: a frame may be read in pieces.
func holdPicture(t *testing.T, s *screentest.Screen, file, title string) {
	t.Helper()
	if *update {
		s.Still(time.Second)
		if err := os.WriteFile(file, s.SVG(title), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if len(want) > 150_000 {
		t.Errorf("%s has %d bytes", file, len(want))
	}
	var got []byte
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if got = s.SVG(title); bytes.Equal(heldPart(got), heldPart(want)) {
			return
		}
	}
	t.Errorf("%s shows another screen than the workbench: %s\n%s", file, anew, s.Text())
}

// heldPart leaves a picture's colours out on processors that round another way in the last bit, where one of some
// thousand cells may get a neighbouring colour; the words must be the same everywhere.
func heldPart(svg []byte) []byte {
	if runtime.GOARCH == "amd64" {
		return svg
	}
	return regexp.MustCompile("<path [^\n]*\n").ReplaceAll(svg, nil)
}

// TestReadmeListsTheKeys holds the page of keys to the table of keys.
func TestReadmeListsTheKeys(t *testing.T) {
	was, err := os.ReadFile(keysPage)
	if err != nil {
		t.Fatal(err)
	}
	begin, end := []byte("<!-- keys -->\n"), []byte("<!-- end -->")
	head, rest, ok := bytes.Cut(was, begin)
	_, tail, ended := bytes.Cut(rest, end)
	if !ok || !ended {
		t.Fatalf("%s has no place for the list of keys", keysPage)
	}
	now := bytes.Join([][]byte{head, begin, []byte(keyList()), end, tail}, nil)
	if bytes.Equal(was, now) {
		return
	}
	if !*update {
		t.Fatalf("%s lists other keys than there are: %s", keysPage, anew)
	}
	if err := os.WriteFile(keysPage, now, 0o644); err != nil {
		t.Fatal(err)
	}
}
