package tui

import (
	"math/rand"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// compassModel is the workbench with the compass open.
func compassModel(tb testing.TB, w, h int, env map[string]string) *model {
	tb.Helper()
	m := testModel(tb, w, h, env)
	settleKeys(m, "2")
	if m.view != viewCompass || m.compass.got.rose == nil {
		tb.Fatal("2 does not show the compass")
	}
	return m
}

func TestCompassHasItsPanesAtEverySize(t *testing.T) {
	for _, c := range []struct {
		w, h  int
		panes [compassPanes]bool // on the screen without Tab
	}{{60, 20, [3]bool{true, false, false}}, {80, 24, [3]bool{true, true, false}}, {120, 36, [3]bool{true, true, true}}, {200, 60, [3]bool{true, true, true}}, {200, 22, [3]bool{true, true, false}}} {
		m := compassModel(t, c.w, c.h, nil)
		signs := [compassPanes]string{"polarised", "NE─", "take-off"}
		for p := range compassPanes {
			if shown := strings.Contains(screenText(m), signs[p]); shown != c.panes[p] {
				t.Errorf("%dx%d: %s shown %v:\n%s", c.w, c.h, compassTitle[p], shown, screenText(m))
			}
		}
		for p := range compassPanes { // Tab brings each
			if m.compass.pane != p || !strings.Contains(screenText(m), signs[p]) {
				t.Errorf("%dx%d: Tab does not bring %s", c.w, c.h, compassTitle[p])
			}
			if !strings.Contains(screenText(m), "all keys") {
				t.Errorf("%dx%d: the way to all keys is gone", c.w, c.h)
			}
			settleKeys(m, "tab")
		}
		settleKeys(m, "shift+tab")
		if m.compass.pane != compassPanes-1 {
			t.Error("Shift-Tab goes back")
		}
	}
}

// Whatever is pressed at whatever size: exactly h lines of w cells, and no panic.
func TestCompassKeepsTheSizeOfTheWindow(t *testing.T) {
	keys := strings.Fields("left right up down home end pgup pgdown tab shift+tab m n p u , . b f")
	for round := range 8 {
		rnd := rand.New(rand.NewSource(int64(round)))
		env := []map[string]string{nil, {"TERM": "xterm-256color"}, {"TERM": "xterm"}, {"TERM": "xterm", "NO_COLOR": "1"}}[round%4]
		m := compassModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), env)
		for range 40 {
			switch rnd.Intn(6) {
			case 0:
				settle(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
			case 1:
				settle(m, tea.MouseMsg{X: rnd.Intn(200), Y: rnd.Intn(60), Button: tea.MouseButton(rnd.Intn(6)), Action: tea.MouseAction(rnd.Intn(3))})
			default:
				settleKeys(m, keys[rnd.Intn(len(keys))])
			}
			if m.edit.on {
				t.Fatalf("seed %d: a click in the compass opened a field of another view", round)
			}
			if m.view != viewCompass {
				settleKeys(m, "2")
			}
			lines := strings.Split(screenText(m), "\n")
			if len(lines) != m.screen.h || m.failed != nil {
				t.Fatalf("seed %d: %d lines in a window of %d, %v", round, len(lines), m.screen.h, m.failed)
			}
			for y, l := range lines {
				if cells.Width(l) != m.screen.w {
					t.Fatalf("seed %d: line %d has %d cells in a window of %d", round, y, cells.Width(l), m.screen.w)
				}
			}
		}
	}
}

// The playhead goes through the flight as in the first view, and what it does not change is not worked
// out again.
func TestCompassFollowsThePlayhead(t *testing.T) {
	m := compassModel(t, 120, 36, nil)
	first := m.compass.got
	settleKeys(m, "right", "right")
	if m.second <= 0 || m.compass.got.of.second != m.second {
		t.Fatalf("playhead at %v, the compass at %v", m.second, m.compass.got.of.second)
	}
	if m.compass.got.rose == first.rose || m.compass.got.sky == first.sky {
		t.Error("the rose and the map are those of another moment")
	}
	if m.compass.got.above != first.above || &m.compass.got.prints[0] != &first.prints[0] {
		t.Error("the flight is laid out again for every step")
	}
	settleKeys(m, "down")
	if at := m.calc.report.Legs[1].FromS; m.second != at || m.compass.got.here.Leg != 1 {
		t.Errorf("down goes to %v on leg %d, leg 2 begins at %v", m.second, m.compass.got.here.Leg+1, at)
	}
	at := m.compass.got
	settleKeys(m, "m")
	if !m.compass.got.of.effect || m.compass.got.rose != at.rose || m.compass.got.pic.Pix[60*25] == at.pic.Pix[60*25] && m.compass.got.pic.Pix[50*10+20] == at.pic.Pix[50*10+20] {
		t.Error("m shows the effect of the ring on the map, and works nothing else out")
	}
	if text := screenText(m); !strings.Contains(text, "half stops darker") { // as without colour
		t.Error("the legend does not say what the map shows")
	}
	settleKeys(m, "n")
	if m.compass.got.above == at.above || m.compass.got.of.report != m.calc.report {
		t.Error("another card has the compass of the one before")
	}
}

// Drawing computes nothing: without an answer it says so, and a failure leaves the last good answer and
// the program.
func TestCompassWithoutAnAnswer(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.view = viewCompass
	m.screen.arrange(m)
	if text := screenText(m); !strings.Contains(text, "nothing worked out yet") || m.compass.running {
		t.Errorf("before the first answer:\n%s", text)
	}
	settleKeys(m, "right")
	good := m.compass.got
	m.calc.report = &plan.Report{Path: make([]shot.Moment, 1), Measures: make([]plan.Measure, 1), Legs: make([]plan.LegReport, 1)}
	cmd := compassView{}.kick(m)
	if cmd == nil {
		t.Fatal("another report asks for no work")
	}
	if (compassView{}).kick(m) != nil {
		t.Error("two computations run at once")
	}
	settle(m, cmd())
	if !strings.Contains(m.note, "could not be worked out") || m.compass.running || m.compass.got.rose != good.rose {
		t.Errorf("after a failure: %q, running %v", m.note, m.compass.running)
	}
}

func TestCompassAnswersToTheMouse(t *testing.T) {
	m := compassModel(t, 120, 36, nil)
	_ = m.View()
	room := compassFit(&m.screen, m.compass.pane)
	r := room.panes[compassAbove]
	settle(m, tea.MouseMsg{X: m.screen.body.x + r.x + 5, Y: m.screen.body.y + r.y + 3, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if m.compass.pane != compassAbove {
		t.Error("a click chooses the pane")
	}
	settle(m, tea.MouseMsg{X: 20, Y: 20, Button: tea.MouseButtonWheelDown})
	if m.compass.got.here.Leg != 1 {
		t.Error("the wheel goes through the legs")
	}
}

func TestCompassInPlainLetters(t *testing.T) {
	m := compassModel(t, 120, 36, nil)
	m.screen.pen.ASCII = true
	for range 2 {
		for i, b := range []byte(screenText(m)) {
			if b >= 0x80 {
				t.Fatalf("byte %d of an ASCII screen is %#x:\n%s", i, b, screenText(m))
			}
		}
		if strings.Contains(screenText(m), "?  ") {
			t.Errorf("a letter without a stand-in:\n%s", screenText(m))
		}
		settleKeys(m, "m")
	}
}

// A step of the playhead: the work in the background, and the drawing.
func BenchmarkCompassStep(b *testing.B) {
	for name, size := range map[string][2]int{"120x36": {120, 36}, "200x60": {200, 60}} {
		m := compassModel(b, size[0], size[1], nil)
		b.Run("work/"+name, func(b *testing.B) {
			known := m.compass.got
			for i := range b.N {
				a := compassAnswer{of: known.of}
				a.of.second = float64(i % 60)
				a.work(&known, cells.TrueColour)
			}
		})
		b.Run("draw/"+name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				m.screen.dirty = true
				_ = m.View()
			}
		})
	}
}
