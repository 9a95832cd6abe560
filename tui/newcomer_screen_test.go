//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// keyCounter types keys one by one and counts them; a paste is one.
type keyCounter struct {
	send func(string)
	n    int
}

func (k *keyCounter) keys(list ...string) {
	names := map[string]string{"enter": "\r", "tab": "\t", "down": "\x1b[B", "up": "\x1b[A", "left": "\x1b[D", "right": "\x1b[C"}
	for _, key := range list {
		if s, ok := names[key]; ok {
			k.send(s)
			k.n++
			continue
		}
		for _, r := range key {
			k.send(string(r))
			k.n++
		}
	}
}

func (k *keyCounter) paste(text string) {
	k.send("\x1b[200~" + text + "\x1b[201~")
	k.n++
}

// A newcomer's first shot, from the demo to a file: place, zone, time, an orbit from 300° to 60° round a subject 80 m
// away that moves at 6 m/s. It takes so few keys that cold fingers can do it.
func TestANewcomersFirstShot(t *testing.T) {
	const most = 55
	home := t.TempDir()
	s := open(t, 120, 36, "HOME="+home)
	s.Until("ISO")
	k := keyCounter{send: s.Type}
	k.keys("o")
	s.Until("New shot")
	k.keys("enter")
	k.paste("64.0484, -16.1794")
	k.keys("enter")
	s.Until("Which zone is it?")
	k.keys("1")
	s.Until("zone +00:00     Atlantic/Reykja")
	k.keys("/", "ta", "enter")
	s.Until("▸ take-off")
	k.keys("enter", "20:10", "enter")
	s.Until("20:10")
	k.keys("tab", "enter", "or", "tab")
	s.Until("Enter keep")
	k.keys("300-60", "enter")
	s.Until("300→60")
	k.keys("/", "aw", "enter")
	s.Until("▸ subject away")
	k.keys("enter", "80", "tab", "6", "enter")
	s.Until("6 m/s")
	k.keys("s")
	s.Until("Save this card as")
	path := filepath.Join(t.TempDir(), "first.yaml")
	k.paste(path)
	s.Until("first.yaml")
	k.keys("enter")
	s.Until("goes with this card")
	k.keys("c")
	s.Until("· saved")
	if k.n > most {
		t.Errorf("%d keys, at most %d", k.n, most)
	}
	t.Logf("%d keys", k.n)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"lat: 64.0484", "lon: -16.1794", "zone: Atlantic/Reykjavik", "T20:10", "move: orbit", "heading_deg: [300, 60]", "distance_m: 80", "speed_ms: 6"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the card has no %q:\n%s", want, data)
		}
	}
}
