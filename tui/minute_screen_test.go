//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/tui/internal/screentest"
)

// clockIn is a clock that shows what stands in a file, and a wait that ends when it shows late enough.
func clockIn(file string) (now func() time.Time, wait func(time.Time, time.Duration)) {
	now = func() time.Time {
		text, _ := os.ReadFile(file)
		t, err := time.Parse(time.RFC3339, string(text))
		if err != nil {
			panic(err)
		}
		return t
	}
	return now, func(from time.Time, d time.Duration) {
		for until := from.Add(d); now().Before(until); time.Sleep(2 * time.Millisecond) {
		}
	}
}

// hand is the hand of such a clock.
type hand struct {
	t    testing.TB
	file string
}

// set sets it to a time of the evening of the breakwater, on the card's own clock.
func (h hand) set(clock string) {
	h.t.Helper()
	if err := os.WriteFile(h.file+"~", []byte("2026-09-18T"+clock+"+02:00"), 0o600); err != nil {
		h.t.Fatal(err)
	}
	if err := os.Rename(h.file+"~", h.file); err != nil { // never half of it
		h.t.Fatal(err)
	}
}

func openAtClock(t *testing.T, w, h int, clock string, env ...string) (*screentest.Screen, hand) {
	t.Helper()
	at := hand{t, filepath.Join(t.TempDir(), "clock")}
	at.set(clock)
	return open(t, w, h, append(env, "CLOCK="+at.file)...), at
}

// The breakwater takes off at 19:40, and at 20:21 at the latest: README shows both.
func TestTheTakeOffIsCountedDownWithoutAKey(t *testing.T) {
	t.Parallel()
	s, clock := openAtClock(t, 120, 36, "16:39:30")
	s.Until("light until 20:33")
	if strings.Contains(s.Text(), "take off in") {
		t.Fatal("three hours and a minute before there is nothing to count")
	}
	clock.set("16:40:00")
	s.Until("take off in 3 h")
	clock.set("19:26:10")
	s.Until("take off in 14 min, at the latest in 55")
	clock.set("19:27:00")
	s.Until("take off in 13 min, at the latest in 54")
	clock.set("20:21:00")
	s.Until("41 min past take-off, at the latest now")
	clock.set("20:22:00")
	s.Until("too late since 20:21: no clean light for the last take; i plans it from now")
	s.Until("1 min too late for clean light")
	s.Type("j")
	s.Gone("too late since") // once
	clock.set("20:23:00")
	s.Until("2 min too late for clean light")
	if strings.Contains(s.Text(), "too late since") {
		t.Error("it is said once")
	}
	if text := s.Text(); !strings.Contains(text, "light until 20:33") || strings.Contains(text, "not saved") {
		t.Error("the clock alone changes no answer and no card")
	}
}

// Where the band has no room beside what must stay there, the countdown stands in the title.
func TestTheCountdownFitsEverywhere(t *testing.T) {
	t.Parallel()
	for size, want := range map[[2]int]string{
		{60, 20}:  "off in 14 min, latest in 55",
		{80, 24}:  "off in 14 min, latest in 55",
		{120, 36}: "take off in 14 min, at the latest in 55",
		{200, 60}: "take off in 14 min, at the latest in 55",
	} {
		s, _ := openAtClock(t, size[0], size[1], "19:26:10")
		s.Until(want)
		for _, part := range []string{"ND16", "1/60", "ISO 100", "toss-up", "20:33"} {
			s.Until(part)
		}
		s.Type("jjjj+") // what can be lost is said beside it
		s.Until("not saved")
		s.Until("off in 14 min") // "take off" too
	}
}

// A take-off that is kept is a state of the window, until Enter writes it in one step of undo.
func TestATakeOffKeptFromNow(t *testing.T) {
	t.Parallel()
	s, clock := openAtClock(t, 120, 36, "19:50:30")
	s.Until("10 min past take-off")
	s.Type("i")
	s.Until("take-off follows the clock")
	s.Until("off 19:55, now + 5") // the long form goes once the band says how sure the call is
	s.Until("18 Sep 2026, 19:55 kept")
	s.Type("ii")
	s.Until("18 Sep 2026, 20:05 kept")
	clock.set("19:51:00")
	s.Until("18 Sep 2026, 20:06 kept")
	if text := s.Text(); !strings.Contains(text, "2026-09-18 19:40") || strings.Contains(text, "not saved") {
		t.Error("it edits nothing")
	}
	s.Type("\x1b")
	s.Until("take-off as it is written: 18 Sep 2026, 19:40")
	s.Until("11 min past take-off")
	s.Type("ijjj+") // another take-off by hand
	s.Until("take-off follows the clock no more")
	s.Until("2026-09-18 19:45")
	s.Type("u")
	s.Until("2026-09-18 19:40")
	s.Type("i\r")
	s.Until("take-off 18 Sep 2026, 19:56 is written")
	s.Until("2026-09-18 19:56")
	s.Until("not saved")
	clock.set("19:52:00")
	s.Until("take off in 4 min")
	s.Type("u")
	s.Until("2026-09-18 19:40")
	s.Gone("not saved")
	clock.set("20:10:00")
	s.Until("30 min past take-off")
	s.Type("iii")
	s.Until("off 20:25, now + 15, latest in ")
	s.Until("filter ND8 ") // the answer follows the evening
	s.Type("5 ")           // the first leg is flown
	s.Until("✓1")
	clock.set("20:12:00")
	s.Until("take-off kept at 20:25, not written")
	s.Type("i")
	s.Until("a leg is flown: the take-off stays as it is")
}

// The very first start says what is on the screen and what to press, and no later one does.
func TestTheFirstStartSaysWhatToPress(t *testing.T) {
	t.Parallel()
	state := t.TempDir()
	start := func(w, h int) *screentest.Screen {
		return screentest.Start(t, screentest.Options{W: w, H: h, Env: []string{asProgram + "=1", "XDG_STATE_HOME=" + state}}, os.Args[0])
	}
	s := start(60, 20)
	s.Until("A demo trip, answer on top. T a tour, ? keys, o your shot")
	s.Until("ISO")
	s.Resize(120, 36)
	s.Until("at the top stands its answer. T shows you round")
	s.Type("j")
	s.Gone("T shows you round")
	s.Type("q")
	s.Ended()
	s = start(120, 36)
	s.Until("ISO")
	s.Until("latitude, north positive") // what stands there else
}

func TestTheTourLeavesTheScreenAsItWas(t *testing.T) {
	t.Parallel()
	s := open(t, 120, 36, "NO_COLOR=1")
	s.Until("ISO")
	s.Gone("sure …")
	s.Type("jj\t\x1b[C")
	s.Until("›330")
	s.Still(300 * time.Millisecond)
	before := s.Text()
	for _, last := range []string{"x", "       "} { // any key, or Space to the end
		s.Type("T")
		s.Until("1 of 7 · ")
		s.Type("   ")
		s.Until("4 of 7 · The ring")
		s.Until("mark 1:30 or 7:30")
		s.Until("▸ The call")
		s.Type(last)
		s.Gone("Space goes on")
		s.Until("▸ Legs")
		s.Until(before)
	}
}
