package tui

import (
	"math/rand"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// Whatever is pressed at whatever size: exactly h lines of w cells, and no panic.
func TestEveryScreenHasTheSizeOfTheWindow(t *testing.T) {
	keys := strings.Fields("up down left right enter esc tab shift+tab home end pgup pgdown backspace delete ctrl+r ctrl+u + - 0 1 5 9 . , m b a d x y e r f u n p c C t v z ? g G j k h l w o s esc esc enter")
	rounds := 12
	if testing.Short() {
		rounds = 3
	}
	for round := 0; round < rounds; round++ {
		rnd := rand.New(rand.NewSource(int64(round)))
		m := testModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), nil)
		for i := 0; i < 60; i++ {
			what := rnd.Intn(14)
			if i == 30 { // the largest now and then: its picture takes its time
				drive(m, tea.WindowSizeMsg{Width: 500, Height: 200})
				what = -1
			} else if i == 31 {
				drive(m, tea.WindowSizeMsg{Width: 80, Height: 24})
			}
			switch what {
			case -1:
			case 0:
				drive(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
			case 12:
				size := [][2]int{{1, 1}, {500, 1}, {1, 200}, {2, 3}}[rnd.Intn(4)]
				drive(m, tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			case 13:
				drive(m, tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(strings.Repeat("日e\n\u0301\u202e", rnd.Intn(80)))})
			case 1:
				drive(m, tea.MouseMsg{X: rnd.Intn(200), Y: rnd.Intn(60), Button: tea.MouseButton(rnd.Intn(6)), Action: tea.MouseAction(rnd.Intn(3))})
			default:
				k := keys[rnd.Intn(len(keys))]
				if k == "s" || k == "w" || m.ask.on && m.ask.input {
					k = "esc" // no file is written by chance
				}
				press(m, k)
			}
			if m.failed != nil {
				t.Fatalf("seed %d, event %d: %v", round, i, m.failed)
			}
			if m.left {
				break
			}
			lines := strings.Split(screenText(m), "\n")
			if len(lines) != m.screen.h {
				t.Fatalf("seed %d: %d lines in a window of %d", round, len(lines), m.screen.h)
			}
			for y, l := range lines {
				if w := cells.Width(l); w != m.screen.w {
					t.Fatalf("seed %d: line %d has %d cells in a window of %d: %q", round, y, w, m.screen.w, l)
				}
			}
		}
	}
}

func TestTheAnswerStaysAtEverySize(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}} {
		m := testModel(t, size[0], size[1], nil)
		for f := 0; f < paneCount; f++ {
			text := screenText(m)
			c := m.calc.report.Call
			for _, want := range []string{call.FilterName(&c), exposure.FormatShutter(c.ShutterS), words.SureWord(c.Confidence), "all keys"} {
				if !strings.Contains(text, want) {
					t.Errorf("%v, pane %d: the screen lacks %q", size, f, want)
				}
			}
			press(m, "tab")
		}
	}
}

func TestMouseChoosesFieldsPanesAndThePlayhead(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	_ = m.View()
	click := func(x, y int) {
		drive(m, tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
		_ = m.View()
	}
	r := m.screen.panes[paneShot]
	click(r.X+5, r.Y+4)
	if m.focus != paneShot || m.cursor[paneShot] != 3 {
		t.Errorf("line %d", m.cursor[paneShot])
	}
	click(r.X+5, r.Y+4)
	if !m.edit.on {
		t.Error("a second click opens the field")
	}
	click(m.screen.panes[paneFlight].X+1, m.screen.panes[paneFlight].Y+1)
	f := m.screen.panes[paneFlight] // what is looked at gets the room
	click(f.X+f.W-1, f.Y+1)
	if m.edit.on || m.focus != paneFlight || m.second != m.calc.length() {
		t.Errorf("playhead at %v of %v", m.second, m.calc.length())
	}
	c := m.screen.panes[paneCall]
	drive(m, tea.MouseMsg{X: c.X + 2, Y: c.Y + 5, Button: tea.MouseButtonWheelDown})
	if m.scroll[paneCall] == 0 {
		t.Error("the wheel scrolls the call")
	}
}

func TestThePlayheadWalksTheFlight(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.focus = paneFlight
	press(m, "right", "right")
	if m.second <= 0 {
		t.Error("right goes on")
	}
	press(m, "down")
	if m.second != m.calc.report.Legs[1].FromS {
		t.Errorf("down goes to leg 2: %v", m.second)
	}
	pic := m.calc.shown.Frame
	press(m, "end")
	if m.second != m.calc.length() || m.calc.shown.Frame == pic {
		t.Error("End goes to the end and draws the picture there")
	}
	press(m, "b")
	if m.calc.shown.Ask.Part != plan.AllFiltered {
		t.Error("b shows the frame all filtered")
	}
}

// The picture's exposure and the marks in it are on keys.
func TestPictureExposureAndMarks(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	for _, want := range []plan.Exposure{plan.OwnExposure, plan.CallExposure, plan.OneExposure} {
		press(m, "v")
		if got := m.calc.shown.Ask.Exposure; got != want || m.note == "" {
			t.Errorf("exposure %d and %q, want %d", got, m.note, want)
		}
	}
	press(m, "z")
	if !m.calc.shown.Ask.Zebra || m.note == "" {
		t.Errorf("z marks nothing: %q", m.note)
	}
	press(m, "z")
	if m.calc.shown.Ask.Zebra || m.note != "" {
		t.Errorf("z again leaves the marks: %q", m.note)
	}
}
