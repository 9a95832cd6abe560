package tui

import (
	"math/rand"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	tea "github.com/charmbracelet/bubbletea"
)

// Whatever is pressed at whatever size in a view: exactly h lines of w cells, and no panic.
func TestViewsKeepTheSizeOfTheWindow(t *testing.T) {
	for digit, c := range map[string]struct {
		rounds, steps int
		keys          string
	}{
		"2": {8, 40, "left right up down home end pgup pgdown tab shift+tab m n p u , . b f"},
		"5": {4, 25, "left right up down end space delete a t C n p u , ."},
		"6": {2, 12, "up down home end pgup pgdown a enter + - x n p u ctrl+r , . b esc 6"},
		"4": {6, 30, "left right up down home g pgup pgdown tab shift+tab m M y enter n p u ctrl+r , . b esc 4"},
	} {
		keys := strings.Fields(c.keys)
		for round := range c.rounds {
			rnd := rand.New(rand.NewSource(int64(round)))
			env := []map[string]string{nil, {"TERM": "xterm-256color"}, {"TERM": "xterm"}, {"TERM": "xterm", "NO_COLOR": "1"}}[round%4]
			m := testModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), env)
			settleKeys(m, digit)
			view := m.view
			for range c.steps {
				switch rnd.Intn(6) {
				case 0:
					settle(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
				case 1:
					settle(m, tea.MouseMsg{X: rnd.Intn(200), Y: rnd.Intn(60), Button: tea.MouseButton(rnd.Intn(6)), Action: tea.MouseAction(rnd.Intn(3))})
				default:
					settleKeys(m, keys[rnd.Intn(len(keys))])
				}
				if m.edit.on {
					t.Fatalf("view %s, seed %d: a click opened a field of another view", digit, round)
				}
				if m.view != view {
					settleKeys(m, digit)
				}
				lines := strings.Split(screenText(m), "\n")
				if len(lines) != m.screen.h || m.failed != nil {
					t.Fatalf("view %s, seed %d: %d lines in a window of %d, %v", digit, round, len(lines), m.screen.h, m.failed)
				}
				for y, l := range lines {
					if cells.Width(l) != m.screen.w {
						t.Fatalf("view %s, seed %d: line %d has %d cells in a window of %d", digit, round, y, cells.Width(l), m.screen.w)
					}
				}
			}
		}
	}
}

// In every view, at every size: its mark in the line of views where there is one, and the way to all keys, back and out.
func TestEveryViewKeepsTheWayToAllKeys(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}, {200, 60}} {
		m := testModel(t, size[0], size[1], nil)
		for range paneCount {
			settleKeys(m, "tab")
			for _, want := range []string{"? all keys", "u undo", "q quit"} {
				if text := screenText(m); !strings.Contains(text, want) {
					t.Errorf("%v, pane %d: no %q:\n%s", size, m.focus, want, text)
				}
			}
		}
		for _, digit := range []string{"2", "3", "4", "5", "6"} {
			settleKeys(m, digit)
			if text := screenText(m); !strings.Contains(text, "? all keys") || !strings.Contains(text, "u undo") || !strings.Contains(text, "q quit") || size[1] >= 30 && !strings.Contains(text, "▸ "+digit) {
				t.Errorf("%v, view %s:\n%s", size, digit, text)
			}
		}
		settleKeys(m, "esc")
		if m.view != viewShot {
			t.Error("Esc goes back to the first view")
		}
	}
}

// The arrows move the playhead in the compass as along the flight, and the wheel goes through the legs.
func TestThePlayheadMovesInTheCompass(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	settleKeys(m, "2", "right", "right")
	if m.second <= 0 {
		t.Error("right does not move the playhead")
	}
	settleKeys(m, "down")
	if at := m.calc.report.Legs[1].FromS; m.second != at || !strings.Contains(screenText(m), "leg 2, pitch") {
		t.Errorf("down goes to %v, leg 2 begins at %v:\n%s", m.second, at, screenText(m))
	}
	settle(m, tea.MouseMsg{X: 20, Y: 20, Button: tea.MouseButtonWheelUp})
	if m.second != 0 {
		t.Errorf("the wheel goes to %v", m.second)
	}
}

// Moving the take-off is one step of undo each time, also twice within a second.
func TestATakeOffMovedInTheHoursIsUndone(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	settleKeys(m, "4", "left", "down")
	if m.card().unsaved {
		t.Error("the cursor alone changes the card")
	}
	takeOff := func(keys, want string) {
		t.Helper()
		settleKeys(m, strings.Fields(keys)...)
		if got := m.card().text("take_off"); got != want {
			t.Errorf("after %s: %s, expected %s", keys, got, want)
		}
	}
	takeOff("enter", "2026-09-18T18:50:00")
	if m.calc.report.Shot.TakeOff.Hour() != 18 {
		t.Error("the answer is not that of the new time")
	}
	takeOff("down down enter", "2026-09-18T19:10:00")
	takeOff("u", "2026-09-18T18:50:00")
	takeOff("u", "2026-09-18T19:40:00")
	if m.card().unsaved {
		t.Error("two steps back nothing is changed")
	}
	takeOff("ctrl+r", "2026-09-18T18:50:00")
	takeOff("y right enter", "2026-09-25T19:00:00")
}

// Going to another view, by whatever way, stops the year that the hours work out; coming back begins anew.
func TestLeavingTheHoursStopsTheYear(t *testing.T) {
	for _, leave := range []string{"1", "esc", "2"} {
		m := testModel(t, 120, 36, nil)
		m.Update(keyMsg("4"))
		_, year := m.Update(keyMsg("y"))
		if text := screenText(m); !strings.Contains(text, "working out the year") {
			t.Fatalf("the year is not begun:\n%s", text)
		}
		m.Update(keyMsg(leave))
		if m.view == viewHours {
			t.Fatalf("%s does not leave", leave)
		}
		settle(m, paneltest.Results(year)...)
		if m.note != "" {
			t.Errorf("after %s it is said that %s", leave, m.note)
		}
		_, again := m.Update(keyMsg("4"))
		if text := screenText(m); again == nil || !strings.Contains(text, "working out the year: 0 %") {
			t.Errorf("after %s the year was worked out though nobody looked, or does not begin anew:\n%s", leave, text)
		}
	}
}

// A card with a fault says so in the hours too.
func TestTheHoursOfAFaultyCard(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.setField("camera", "no such camera")
	settleKeys(m, "4")
	if text := screenText(m); !strings.Contains(text, "no such camera") {
		t.Errorf("the fault is not said:\n%s", text)
	}
}

// A filter put on the card, and the ring that was meant for another one, come back in one step of undo.
func TestAFilterPutOnTheCardIsUndone(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.setField("ring_deg", "45")
	settleKeys(m, "3", "right", "enter")
	if f, r := m.card().text("filter"), m.card().text("ring_deg"); f != chosen(m) || r != "auto" && r != "" {
		t.Errorf("the card has %q and %q, chosen is %s", f, r, chosen(m))
	}
	settleKeys(m, "u")
	if f, r := m.card().text("filter"), m.card().text("ring_deg"); f != "" && f != "auto" || r != "45" {
		t.Errorf("after u: %q, %q", f, r)
	}
}
