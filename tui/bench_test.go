package tui

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/tui/internal/paneltest"
	tea "github.com/charmbracelet/bubbletea"
)

// testModel opens the demo without a terminal, with a fixed clock and no files.
func testModel(tb testing.TB, w, h int, env map[string]string) *model {
	tb.Helper()
	m := blankModel(tb, env)
	drive(m, tea.WindowSizeMsg{Width: w, Height: h})
	return m
}

// blankModel is the same before it knows its window and has worked anything out.
func blankModel(tb testing.TB, env map[string]string) *model {
	tb.Helper()
	tb.Setenv("XDG_STATE_HOME", tb.TempDir())
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	o := Options{Bag: bag, Now: func() time.Time { return time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC) }}
	for _, n := range examples.Cards() {
		o.Cards = append(o.Cards, Source{Path: n, Data: examples.Card(n), Demo: true})
	}
	if env == nil {
		env = map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor"}
	}
	o.Env = func(k string) string { return env[k] }
	o.fill()
	m := newModel(o)
	m.keepAfter, m.sureAfter = 0, 0 // nothing waits in a test without a terminal
	tb.Cleanup(m.release)
	return m
}

// drive hands a message to the model and runs the computations it asks for until it is at rest.
func drive(m *model, msg tea.Msg) {
	_, cmd := m.Update(msg)
	for i := 0; i < 20 && (m.calc.running || m.calc.sure.running); i++ {
		cmd = runCalc(m, cmd)
	}
}

func runCalc(m *model, cmd tea.Cmd) tea.Cmd {
	for _, msg := range paneltest.Results(cmd) {
		switch msg.(type) {
		case answer, sureMsg:
			_, next := m.Update(msg)
			return next
		}
	}
	return nil
}

// press sends keys by the names of the runtime.
func press(m *model, keys ...string) {
	for _, k := range keys {
		drive(m, keyMsg(k))
	}
}

// settle hands messages to the model and runs everything they ask for, the views' work too, until it is
// at rest.
func settle(m *model, queue ...tea.Msg) {
	for range 80 {
		if len(queue) == 0 {
			return
		}
		_, cmd := m.Update(queue[0])
		queue = queue[1:]
		for _, next := range paneltest.Results(cmd) {
			switch of := reflect.TypeOf(next); {
			case of == reflect.TypeFor[answer](), of == reflect.TypeFor[failMsg](), of != nil && strings.HasPrefix(of.PkgPath(), "example.org/skywedge/tui/"): // a view's
				queue = append(queue, next)
			}
		}
	}
}

func settleKeys(m *model, keys ...string) {
	for _, k := range keys {
		settle(m, keyMsg(k))
	}
}

func keyMsg(k string) tea.KeyMsg {
	named := map[string]tea.KeyType{"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "home": tea.KeyHome, "end": tea.KeyEnd,
		"pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "backspace": tea.KeyBackspace, "delete": tea.KeyDelete,
		"ctrl+r": tea.KeyCtrlR, "ctrl+c": tea.KeyCtrlC, "ctrl+u": tea.KeyCtrlU, "ctrl+z": tea.KeyCtrlZ, "ctrl+l": tea.KeyCtrlL, " ": tea.KeySpace}
	if t, ok := named[k]; ok {
		if t == tea.KeySpace {
			return tea.KeyMsg{Type: t, Runes: []rune{' '}}
		}
		return tea.KeyMsg{Type: t}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
}

// A key that moves the cursor: state and drawing, without the computation.
func BenchmarkKeyToView(b *testing.B) {
	for _, size := range [][2]int{{120, 36}, {200, 60}} {
		b.Run(time.Duration(size[0]).String()[:3], func(b *testing.B) {
			m := testModel(b, size[0], size[1], nil)
			b.ReportAllocs()
			for i := 0; i < b.N; i++ {
				m.Update(keyMsg([]string{"down", "up"}[i%2]))
				_ = m.View()
			}
		})
	}
}

// The whole round of a nudge: edit, computation, picture and drawing.
func BenchmarkNudge(b *testing.B) {
	m := testModel(b, 120, 36, nil)
	press(m, "down", "down", "down", "down", "down")
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		w := m.wanted()
		m.nudge(1)
		if m.wanted() == w {
			b.Fatal("nothing to compute")
		}
		c := m.kick()
		m.calc.take(c().(answer))
		m.screen.dirty = true
		_ = m.View()
	}
}
