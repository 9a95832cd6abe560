//go:build unix

package tui

import (
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
	tea "github.com/charmbracelet/bubbletea"
)

// The clipboard code as the terminals' control sequences have it (OSC 52, clipboard "c"; xterm's documentation).
var clipboardCode = regexp.MustCompile("\x1b\\]52;c;([A-Za-z0-9+/=]*)(\x07|\x1b\\\\)")

// From every view the call goes to the clipboard as the command line prints it, and the screen says what was copied.
func TestTheCallIsCopied(t *testing.T) {
	t.Parallel()
	bag, _ := kit.ReadBag("bag.yaml", examples.Bag())
	name := examples.Cards()[0]
	card, _ := shot.ReadCard(name, examples.Card(name))
	sh, faults := card.Shot(bag, time.Now())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	want := advice.Brief(plan.Solve(sh, bag, plan.Options{}))
	s := open(t, 120, 36)
	s.Until("ISO")
	for i, digit := range []string{"1", "2", "3", "4", "5"} {
		s.Type(digit)
		s.Until("▸ " + digit)
		s.Type("C")
		s.Until("copied, where the terminal allows it: the call in 6 lines, " + strings.Split(want, "\n")[1])
		var got [][]string
		for end := time.Now().Add(5 * time.Second); len(got) <= i && time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
			got = clipboardCode.FindAllStringSubmatch(s.Raw(), -1)
		}
		if len(got) != i+1 {
			t.Fatalf("view %s: %d codes for the clipboard", digit, len(got))
		}
		if text, err := base64.StdEncoding.DecodeString(got[i][1]); err != nil || string(text) != want {
			t.Errorf("view %s: copied %q, %v; want %q", digit, text, err, want)
		}
	}
}

// A theme asked for by name paints its ground from the first screen on, and a key changes it in every view.
func TestThemesOnTheScreen(t *testing.T) {
	t.Parallel()
	const white = "48;2;255;255;255"
	s := open(t, 100, 30, "THEME=light")
	s.Until("ISO")
	if !strings.Contains(s.Raw(), white) {
		t.Error("the light theme leaves the ground to the terminal")
	}
	s.Type("5t")
	s.Until("dark; t goes on")
	s.Type("t")
	s.Until("the terminal's own colours")
	before := strings.Count(s.Raw(), white)
	s.Type("2t")
	s.Until("light, for the sun")
	if strings.Count(s.Raw(), white) <= before {
		t.Error("the key does not paint")
	}
}

// A call that is not there, or has no terminal to go to, is not copied, and that is said.
func TestWhatCannotBeCopied(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "C")
	if !strings.Contains(m.note, "no terminal") {
		t.Errorf("%q", m.note)
	}
	m.setField("camera", "no such camera")
	settle(m, tea.WindowSizeMsg{Width: 120, Height: 36})
	press(m, "C")
	if !strings.Contains(m.note, "no answer yet") || m.copyOwed {
		t.Errorf("%q", m.note)
	}
	if got := brief("a\x1b[31mb\nc\u202ed\n"); strings.ContainsAny(got, "\x1b\u202e") || strings.Count(got, "\n") != 2 {
		t.Errorf("%q", got)
	}
}
