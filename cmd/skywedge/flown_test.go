package main

import (
	"fmt"
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

// taughtCard is a card with the log of eight bare flights and of eight through a filter, on a day each, whose pictures were
// judged right at an exposure .615 and 1.115 darker than planned: 1/50, ISO 100 and f/2.8 are EV 8.615 (ISO 2720). One flight is
// far off.
func taughtCard() string {
	text := fmt.Sprintf(goodCard, "Taught") + "# kept\nflown:\n"
	for i := range 16 {
		filter, planned, off := "none", 8.0, "0"
		if i >= 8 {
			filter, planned = "ND8", 7.5
		}
		if i == 3 {
			off = "-4"
		}
		text += fmt.Sprintf("  - {when: 2026-08-%02dT12:00, leg: 1, filter: %s, shutter_s: 1/50, iso: 100, aperture: 2.8, planned_ev100: %g, off_stops: %s, worked: yes, confidence: close, sky: less}\n",
			i+1, filter, planned, off)
	}
	return text
}

// What the logs teach is used only when told to: it goes into the bag, one that is built in is laid beside the card first; the
// plan has it from then on, and it is not offered again. What was there before is kept.
func TestFlownLearns(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", filepath.Join(dir, "state"))
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "config"))
	card, bag := filepath.Join(dir, "taught.yaml"), filepath.Join(dir, store.BagFile)
	write(t, card, taughtCard())
	write(t, filepath.Join(dir, "other.yaml"), strings.Replace(taughtCard(), "2026-08", "2026-07", -1))
	write(t, filepath.Join(dir, "broken.yaml"), "skywedge: 1\n")
	told := func(want ...string) {
		t.Helper()
		text, code := askedRun(t, "", append([]string{"flown", card, "--learn"}, strings.Fields(want[0])...)...)
		if code != exitDone {
			t.Fatalf("code %d:\n%s", code, text)
		}
		for _, w := range want[1:] {
			if !strings.Contains(text, w) {
				t.Errorf("%q is not said:\n%s", w, text)
			}
		}
	}
	planned := func() float64 {
		t.Helper()
		e := discard(nil)
		r, _, err := solveFile(e, card, "", "")
		if err != nil {
			t.Fatal(err)
		}
		ev, _ := r.PlannedEV100(0)
		return ev - r.OwnOffset(0)
	}
	told("", "2 cards: 32 lines in the logs, 32 tell of the light (32 flights)", "camera                   +0.61", "16 flights: offered",
		"ND8                      +0.50", "taught.yaml 2026-08-04 +4.61, far off the others", "toss-up             32", "The plan does not use it. With --use it goes into the bag.")
	if _, err := os.Stat(bag); err == nil {
		t.Fatal("there is a bag, and nobody asked for it")
	}
	before := planned()
	told("--use", "as offset_stops: wide fixed 2.8, ND8")
	data, err := os.ReadFile(bag)
	if err != nil || strings.Count(string(data), "offset_on: 2026-09-18") != 2 || !strings.Contains(string(data), "offset_stops: 0.61") {
		t.Fatalf("%v\n%s", err, data)
	}
	told("", "+0.61", "in use")
	write(t, filepath.Join(dir, "few", "few.yaml"), strings.SplitAfter(taughtCard(), "2026-08-05T")[0]+"12:00, leg: 1}\n")
	if text, code := askedRun(t, "", "flown", filepath.Join(dir, "few", "few.yaml"), "--learn", "--bag", bag); code != exitDone ||
		!strings.Contains(text, "1 card: 5 lines in the logs, 4 tell of the light (4 flights)") || !strings.Contains(text, "4 flights: in use") {
		t.Errorf("code %d:\n%s", code, text)
	}
	told("--use", "nothing is offered, so nothing was written")
	if after := planned(); after-before > 1e-6 || before-after > 1e-6 {
		t.Errorf("the model has changed: %g after %g", after, before)
	}
	text, code := askedRun(t, "", "card", card)
	if code != exitDone || !strings.Contains(text, "by your own offset") {
		t.Errorf("code %d:\n%s", code, text)
	}
	// A bag that lies open is left alone.
	lock, err := store.Acquire(bag)
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Release()
	write(t, bag, strings.Replace(string(data), "offset_stops: 0.61", "offset_stops: 0.1", 1))
	if text, code = askedRun(t, "", "flown", card, "--learn", "--use"); code != exitFailed || !strings.Contains(text, "so nothing was written; set offset_stops there in view 3") {
		t.Errorf("code %d:\n%s", code, text)
	}
}
