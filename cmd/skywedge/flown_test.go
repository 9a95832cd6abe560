package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/plan/store"
)

// askedRun runs a command as on a terminal where so much is typed, and returns what was said there.
func askedRun(t *testing.T, typed string, args ...string) (text string, code int) {
	t.Helper()
	var out strings.Builder
	e := &env{in: strings.NewReader(typed), out: &out, err: &out, now: demoNow, terminal: true}
	code = run(e, args)
	return out.String(), code
}

// A card that lies open in a window is left alone, and says so in one line; closed again, it takes the line.
func TestFlownLeavesAnOpenCardAlone(t *testing.T) {
	dir := tripIn(t)
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	card := filepath.Join(dir, "1-breakwater.yaml")
	before, err := os.ReadFile(card)
	if err != nil {
		t.Fatal(err)
	}
	lock, err := store.Acquire(card)
	if err != nil {
		t.Fatal(err)
	}
	text, code := askedRun(t, "", "flown", card, "--leg", "1", "--worked", "no")
	if code != exitFailed || strings.Count(text, "\n") != 1 ||
		!strings.Contains(text, "so nothing was written; log it there in view 5, or close it first: "+card) {
		t.Errorf("code %d:\n%s", code, text)
	}
	if after, err := os.ReadFile(card); err != nil || string(after) != string(before) {
		t.Errorf("the card was written: %v", err)
	}
	lock.Release()
	if text, code = askedRun(t, "", "flown", card, "--leg", "1", "--worked", "no"); code != exitDone || !strings.Contains(text, "did not work") {
		t.Errorf("code %d:\n%s", code, text)
	}
}

// Where two legs fit a terminal is asked, again after an answer that is none; Enter leaves the picture out.
func TestFlownAsksWhereTwoLegsFit(t *testing.T) {
	dir := tripIn(t)
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	card, picture := filepath.Join(dir, "1-breakwater.yaml"), filepath.Join(dir, "between.jpg")
	write(t, picture, string(phototest.Shot{Clock: "2026:09:18 19:45:00", Offset: "+02:00", Shutter: [2]uint32{1, 50}}.JPEG()))
	text, code := askedRun(t, "\n", "flown", card, picture)
	if code != exitInvalid || !strings.Contains(text, "between.jpg, taken at 19:45:00, may be of leg 1 (push, 330°) or leg 2 (orbit, 330°)") ||
		!strings.Contains(text, "nothing was written") {
		t.Errorf("Enter: code %d:\n%s", code, text)
	}
	text, code = askedRun(t, "7\n2\n", "flown", card, picture)
	if code != exitDone || strings.Count(text, "which leg?") != 2 || !strings.Contains(text, "leg 2, orbit, take 1") {
		t.Errorf("7, then 2: code %d:\n%s", code, text)
	}
}
