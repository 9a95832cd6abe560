//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/examples"
)

// A name under which a card cannot be saved gets an answer that says why, and the question stays with what was
// typed, or with what may be typed instead.
func TestSaveAsAnswersOddNames(t *testing.T) {
	dir := t.TempDir()
	for _, d := range []string{"trip", "home"} {
		if err := os.Mkdir(filepath.Join(dir, d), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	mine := filepath.Join(dir, "kit.yaml") // a bag under another name
	if err := os.WriteFile(mine, examples.Bag(), 0o644); err != nil {
		t.Fatal(err)
	}
	s := open(t, 120, 36, "HOME="+filepath.Join(dir, "home"))
	s.Until("ISO")
	s.Type("jjjjj+w")
	s.Until("Save this card as")
	for _, c := range []struct{ typed, answer, begins string }{
		{"/", "That is a folder: add the", "/1-breakwater"},
		{"~/", "That is a folder: add the", "home/1-breakwater"},
		{"~", "That is a folder: add the", "home/1-breakwater"},
		{".", "That is a folder: add the", "1-breakwater"},
		{dir + "/trip", "That is a folder: add the", "trip/1-breakwater"},
		{dir + "/trip/", "That is a folder: add the", "trip/1-breakwater"},
		{dir + "/trip/bag.yaml", "is the name of a bag", "trip/bag.yaml"},
		{dir + "/trip/bag", "is the name of a bag", "trip/bag"},
		{mine, "kit.yaml is a bag and no card", "kit.yaml"},
		{dir + "/" + strings.Repeat("n", 255), "too long: 260 bytes", "nnn"},
		{dir + "/" + strings.Repeat("n", 250) + ".yaml", "too long: 255 bytes", ".yaml"},
		{dir + "/none/x", "There is no folder of that name", "none/x"},
	} {
		s.Type("\x15" + c.typed)
		s.Until(tail(c.typed, 20))
		s.Type("\r")
		s.Until(c.answer)
		s.Until(tail(c.begins, 20))
	}
	s.Type("\x15~/mine")
	s.Until("~/mine")
	s.Type("\r")
	s.Until("goes with this card")
	s.Type("a")
	s.Until("saved as")
	if _, err := os.Stat(filepath.Join(dir, "home", "mine.yaml")); err != nil {
		t.Error(err)
	}
	// The longest name that is taken is saved twice: the version before has a place too.
	long := filepath.Join(dir, strings.Repeat("m", 249)+".yaml")
	s.Type("w")
	s.Until("Save this card as")
	s.Type("\x15" + long)
	s.Until("mmm.yaml")
	s.Type("\r")
	s.Until("goes with this card")
	s.Type("a")
	s.Gone("goes with this card")
	s.Type("+")
	s.Until("not saved")
	s.Type("s")
	s.Until("· saved")
	if _, err := os.Stat(long + "~"); err != nil {
		t.Error(err)
	}
}

func tail(s string, n int) string { return s[max(0, len(s)-n):] }

// A file that lies open in another window is not written over.
func TestSaveAsLeavesOtherWindowsAlone(t *testing.T) {
	card, state := cardFile(t), t.TempDir()
	a := openIn(t, state, 120, 36, "CARD="+card)
	a.Until("ISO")
	b := openIn(t, state, 120, 36)
	b.Until("ISO")
	b.Type("w")
	b.Until("Save this card as")
	b.Type("\x15" + card + "\r")
	b.Until("open in another window: take another name")
}
