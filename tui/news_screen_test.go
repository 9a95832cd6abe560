//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/tui/internal/screentest"
)

// cardIn writes a card into a folder below a deep one, so that its path is longer than a line.
func cardIn(t *testing.T, text string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), strings.Repeat("a-folder-of-a-long-name/", 3))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "card.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// bareText is the text in a frame without its line breaks, to look for what was wrapped.
func bareText(s *screentest.Screen) string {
	var words []string
	for _, l := range regexp.MustCompile(`│(.*)│`).FindAllStringSubmatch(s.Text(), -1) {
		words = append(words, strings.Fields(l[1])...)
	}
	return strings.Join(words, " ")
}

// At 60 columns why and what to do come before the path, the path is shortened in its middle, and a key shows all of
// it. Nothing is offered that there is not.
func TestErrorsOfTheWorkbenchOnANarrowTerminal(t *testing.T) {
	card := cardIn(t, string(examples.Card(examples.Cards()[0])))
	dir := filepath.Dir(card)
	s := open(t, 60, 20, "CARD="+card)
	s.Until("ISO")
	s.Type("jjjjj+s")
	s.Until("saved as /")
	if line := s.Lines()[0]; !strings.Contains(line, "…") || !strings.HasSuffix(strings.TrimSpace(line), "long-name/card.yaml") {
		t.Errorf("the path is not shortened in its middle: %q", line)
	}
	if err := os.Rename(dir, dir+".away"); err != nil {
		t.Fatal(err)
	}
	s.Type("+s")
	s.Until("was removed or renamed")
	s.Until("write it again")
	if text := s.Text(); strings.Contains(text, "the old one stays") || strings.Contains(text, "load the file") {
		t.Errorf("offered without a file:\n%s", text)
	}
	s.Type("o")
	s.Until("not saved: there is no such folder; ")
	s.Until("! says all")
	s.Type("!")
	s.Until("In full")
	s.Until("Esc closes")
	if text := strings.ReplaceAll(bareText(s), " ", ""); !strings.Contains(text, strings.ReplaceAll(card, " ", "")) {
		t.Errorf("the path is not all there:\n%s", s.Text())
	}
	s.Type("\x1b")
	s.Gone("In full")
	if err := os.Rename(dir+".away", dir); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(card, []byte("no card at all\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s.Type("s")
	s.Until("was changed by another program")
	s.Until("the old one stays as card.yaml~")
	if text := s.Text(); strings.Contains(text, "load the file") {
		t.Errorf("what is no card is offered to be loaded:\n%s", text)
	}
}

// A card with faults is saved, and it is said; all of them are a key away.
func TestACardWithFaultsIsSavedAndSaysSo(t *testing.T) {
	text := string(examples.Card(examples.Cards()[0]))
	text = regexp.MustCompile(`(?m)^camera:.*$`).ReplaceAllString(text, "camera: not in this bag\ncolour: a field that cards have not")
	card := cardIn(t, text)
	s := open(t, 60, 20, "CARD="+card)
	s.Until("no answer, 2 faults: ")
	s.Until("! says all")
	s.Type("!")
	s.Until("In full")
	for _, want := range []string{`camera: found "not in this bag"; allowed: a camera of the bag: wide fixed 2.8`, `colour: found the unknown field "colour"; allowed:`} {
		if !strings.Contains(bareText(s), want) {
			t.Errorf("without %q:\n%s", want, s.Text())
		}
	}
	s.Type("\x1b")
	s.Gone("In full")
	s.Type("jjjjj+s")
	s.Until("saved, with 2 faults: ")
	if data, err := os.ReadFile(card); err != nil || !strings.Contains(string(data), "heading_deg: 335") {
		t.Errorf("%v: %s", err, data)
	}
}

// Of a card that is open elsewhere the title says so before anything else, at every width.
func TestReadOnlyIsSeen(t *testing.T) {
	card, state := cardIn(t, string(examples.Card(examples.Cards()[0]))), t.TempDir()
	a := openIn(t, state, 60, 20, "CARD="+card)
	a.Until("ISO")
	for _, cols := range []int{60, 80, 100} {
		b := openIn(t, state, cols, 24, "CARD="+card)
		b.Until("ISO")
		b.Type("j")
		b.Until("· read only")
		b.Type("q")
		b.Ended()
	}
}
