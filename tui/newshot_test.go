package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui/line"
	tea "github.com/charmbracelet/bubbletea"
)

func TestANewShotIsHereAndNow(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	n := len(m.cards)
	press(m, "o")
	s := m.card()
	if len(m.cards) != n+1 || m.at != n || !s.unwritten || s.unsaved {
		t.Fatalf("%d cards, at %d, unsaved %v", len(m.cards), m.at, s.unsaved)
	}
	if len(m.calc.faults) > 0 || m.calc.report == nil {
		t.Fatalf("a new shot has an answer at once: %v", m.calc.faults)
	}
	if got := s.text("place.lat"); got != m.cards[0].text("place.lat") {
		t.Errorf("the place is the one on the screen before: %q", got)
	}
	if !strings.Contains(screenText(m), "new, no file yet") {
		t.Error("the title does not say that there is no file")
	}
	// Saved, it has a file, and the next one begins there.
	toRow(t, m, "place.lat")
	press(m, "enter", "5", "0", "enter")
	press(m, "s")
	if !m.ask.input || m.ask.line.String() != "new-shot.yaml" {
		t.Fatalf("saving asks for a name, and offers %q", m.ask.line.String())
	}
	path := filepath.Join(t.TempDir(), "pier.yaml")
	m.ask.line = line.New(path)
	press(m, "enter")
	press(m, "a") // without the demo's bag
	if data, err := os.ReadFile(path); err != nil || !strings.Contains(string(data), "lat: 50,") {
		t.Fatalf("%v\n%s", err, data)
	}
	if p, ok := store.LastPlace(); !ok || p.LatDeg != 50 {
		t.Errorf("remembered %v %v", p, ok)
	}
	if s.unwritten || s.unsaved {
		t.Error("saved, it is a card like any other")
	}
}

// A new shot that is begun at night takes off at the next low sun, and says so. At 23:30 on 18 September in Galicia the
// sun stands far below civil twilight. It rises at about 8:18 (by the almanac, from memory) and climbs by 1° in six
// minutes at this latitude: 2° a quarter of an hour later.
func TestANewShotAtNightWaitsForTheLight(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.opt.Now = func() time.Time { return time.Date(2026, 9, 18, 21, 30, 0, 0, time.UTC) }
	press(m, "o")
	off, err := time.Parse("2006-01-02T15:04:05", m.card().text("take_off"))
	low, high := time.Date(2026, 9, 19, 8, 25, 0, 0, time.UTC), time.Date(2026, 9, 19, 8, 40, 0, 0, time.UTC)
	if err != nil || off.Before(low) || off.After(high) {
		t.Errorf("take-off %v, %v", off, err)
	}
	if want := "it is night: take-off at the next low sun, 19 Sep " + off.Format("15:04"); !strings.Contains(m.note, want) || !strings.Contains(screenText(m), want) {
		t.Errorf("%q says nothing of %q", m.note, want)
	}
	if len(m.calc.faults) > 0 || m.calc.report == nil {
		t.Errorf("it has an answer at once: %v", m.calc.faults)
	}
}

// A new shot that was never saved survives a crash like any other work.
func TestANewShotIsKept(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "o")
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+")
	m.keepAll()
	again := openAgain(t, m)
	if !again.kept.on {
		t.Fatal("it is offered at the next start")
	}
	press(again, "enter")
	if got := again.card().text("legs[0].heading_deg"); got != "5" || !again.card().unsaved || !again.card().unwritten {
		t.Errorf("restored with heading %q", got)
	}
}

func TestACardThatDoesNotExistIsNew(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	if err := store.RememberPlace(store.Place{LatDeg: 50.5, LonDeg: 3, Zone: "Europe/Brussels"}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "pier.yaml")
	o := Options{Cards: []Source{{Path: path, New: true}}, Bag: kit.Generic(), Env: func(string) string { return "" }}
	o.fill()
	m := newModel(o)
	m.keepAfter, m.sureAfter = 0, 0
	t.Cleanup(m.release)
	drive(m, tea.WindowSizeMsg{Width: 120, Height: 36})
	if m.calc.report == nil || m.card().text("place.lat") != "50.5" || m.card().text("place.zone") != "Europe/Brussels" {
		t.Fatalf("no answer, or not at the last place: %q", m.card().current.Doc.Bytes())
	}
	press(m, "s")
	if data, err := os.ReadFile(path); err != nil || !strings.Contains(string(data), "skywedge: 1") {
		t.Errorf("saving makes the file: %v\n%s", err, data)
	}
}

func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{
		"New shot": "new-shot.yaml", "Breakwater, evening": "breakwater-evening.yaml", "Ría, 2 ": "ría-2.yaml", "../x": "x.yaml",
	} {
		if got := fileName(name); got != want {
			t.Errorf("%q becomes %q, want %q", name, got, want)
		}
	}
}

// Kept work is decided on first: what is asked about a picture waits until its list is closed, as both have keys of their own.
func TestAPictureWaitsForKeptWork(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	now := time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC)
	tells := &photo.Picture{Clock: now.AddDate(0, 0, -9), HasOffset: true, LatDeg: new(43.4), LonDeg: new(-8.4)}
	for _, rows := range [][]keptRow{nil, keptRows([]store.Recovery{{File: "a", Path: "/a/pier.yaml", Saved: now, Changes: 1, Kind: "card"}})} {
		o := Options{Cards: []Source{{Path: "a.jpg", Picture: &taken.Picture{File: "a.jpg", Tells: tells}}}, Bag: kit.Generic(),
			Env: func(string) string { return "" }, Now: func() time.Time { return now }}
		o.fill()
		m := newModel(o)
		m.keepAfter, m.sureAfter = 0, 0
		t.Cleanup(m.release)
		drive(m, tea.WindowSizeMsg{Width: 120, Height: 36})
		m.takeKept(keptListMsg{rows: rows}, false)
		if len(rows) > 0 {
			if m.ask.on || !m.kept.on {
				t.Fatalf("asked %v over the list of kept work, %v", m.ask.on, m.kept.on)
			}
			press(m, "esc")
		}
		if !m.ask.on || !strings.Contains(screenText(m), "Taken 9 days ago, with the sun ") {
			t.Fatalf("nothing is asked:\n%s", screenText(m))
		}
		press(m, "esc")
		m.takeKept(keptListMsg{}, false)
		if m.ask.on {
			t.Error("asked twice")
		}
	}
}
