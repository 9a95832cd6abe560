package tui

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// screenText returns the screen as plain rows.
func screenText(m *model) string {
	m.screen.dirty = true
	p := m.screen.pen.Profile
	m.screen.pen.Profile = cells.NoColour
	defer func() { m.screen.pen.Profile = p; m.screen.dirty = true }()
	return ansi.Strip(m.View())
}

func toRow(t *testing.T, m *model, path string) {
	t.Helper()
	for i, r := range m.rows(m.focus) {
		if r.Path == path {
			m.cursor[m.focus] = i
			return
		}
	}
	t.Fatalf("no line for %s", path)
}

// Every keystroke while typing gives a new answer for the whole flight.
func TestTypingComputesLive(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	before := m.calc.report
	press(m, "enter", "6")
	if !m.edit.on || m.card().text("legs[0].heading_deg") != "6" {
		t.Fatalf("the first character replaces the value: %q", m.card().text("legs[0].heading_deg"))
	}
	first := m.calc.report
	press(m, "0")
	if first == before || m.calc.report == first || m.calc.solved != m.card().current {
		t.Error("each keystroke should bring a new answer")
	}
	if h := m.calc.report.Path[0].HeadingDeg; h != 60 {
		t.Errorf("the answer is for heading %v, typed 60", h)
	}
	press(m, "enter")
	if m.edit.on || !m.card().unsaved {
		t.Error("Enter keeps the value")
	}
	press(m, "u")
	if got := m.card().text("legs[0].heading_deg"); got != "330" || m.card().unsaved {
		t.Errorf("undo gives %q", got)
	}
	press(m, "ctrl+r")
	if got := m.card().text("legs[0].heading_deg"); got != "60" {
		t.Errorf("redo gives %q", got)
	}
}

func TestAFaultStandsUnderTheFieldAndTheAnswerDims(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	press(m, "enter", "4", "0", "0")
	if m.edit.fault == "" || !m.stale() {
		t.Fatal("400 is no heading")
	}
	text := screenText(m)
	for _, want := range []string{"! degrees from true north", `found "400"`, "last good answer"} {
		if !strings.Contains(text, want) {
			t.Errorf("the screen lacks %q", want)
		}
	}
	press(m, "enter")
	if !m.edit.on {
		t.Error("Enter must not close a field with a fault")
	}
	press(m, "backspace")
	if m.stale() || m.edit.fault != "" {
		t.Error("40 is a heading again")
	}
}

func TestEscNeverDiscards(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	press(m, "enter", "8", "5", "esc")
	if got := m.card().text("legs[0].heading_deg"); got != "330" || m.edit.on {
		t.Errorf("Esc backs out: %q", got)
	}
	press(m, "ctrl+r")
	if got := m.card().text("legs[0].heading_deg"); got != "85" {
		t.Errorf("redo brings back what was typed: %q", got)
	}
	for i := 0; i < 5; i++ {
		press(m, "esc")
	}
	if got := m.card().text("legs[0].heading_deg"); got != "85" {
		t.Errorf("more Esc: %q", got)
	}
}

func TestNudgesWithinASecondAreOneStep(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	now := m.opt.Now()
	m.opt.Now = func() time.Time { return now }
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+", "+", "+")
	if got := m.card().text("legs[0].heading_deg"); got != "345" {
		t.Fatalf("three steps of 5: %q", got)
	}
	now = now.Add(2 * time.Second)
	press(m, "pgdown")
	if got := m.card().text("legs[0].heading_deg"); got != "320" {
		t.Fatalf("five steps back: %q", got)
	}
	press(m, "u")
	if got := m.card().text("legs[0].heading_deg"); got != "345" {
		t.Errorf("undo of the later nudge: %q", got)
	}
	press(m, "u")
	if got := m.card().text("legs[0].heading_deg"); got != "330" {
		t.Errorf("undo of the three: %q", got)
	}
}

func TestQuitAsksOnlyForUnsavedWork(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	if cmd := m.quit(); cmd == nil || m.ask.on || !m.left {
		t.Error("nothing to ask")
	}
	m = testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+", "q")
	if !m.ask.on || m.left {
		t.Fatal("should ask")
	}
	press(m, "q", "j", "esc")
	if m.ask.on || m.left {
		t.Error("Esc stays")
	}
	press(m, "ctrl+c")
	if !m.ask.on {
		t.Error("Ctrl-C asks like q")
	}
	press(m, "ctrl+c")
	if !m.left {
		t.Error("the second Ctrl-C goes")
	}
	again := openAgain(t, m)
	if !again.kept.on || !strings.Contains(screenText(again), "Unsaved work was kept") {
		t.Error("unsaved work is offered at the next start")
	}
	press(again, "enter")
	if got := again.card().text("legs[0].heading_deg"); got != "335" {
		t.Errorf("restored: %q", got)
	}
}

// openAgain closes the window as a kill would and opens the same cards in the same state folder.
func openAgain(t *testing.T, m *model) *model {
	m.release()
	return openBeside(t, m)
}

// openBeside opens the same cards in another window.
func openBeside(t *testing.T, m *model) *model {
	n := newModel(m.opt)
	n.keepAfter, n.sureAfter = 0, 0
	t.Cleanup(n.release)
	drive(n, tea.WindowSizeMsg{Width: 120, Height: 36})
	started(n)
	return n
}

// started runs what a start begins.
func started(m *model) {
	for _, msg := range paneltest.Results(m.Init()) {
		_, cmd := m.Update(msg)
		for _, msg := range paneltest.Results(cmd) {
			m.Update(msg)
		}
	}
}

func TestKeysTypedTogetherAreTakenOneByOne(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	drive(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("jjjj")})
	if m.cursor[paneShot] != 4 {
		t.Errorf("jjjj goes to line %d", m.cursor[paneShot])
	}
	drive(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("j")})
	press(m, "enter")
	drive(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("285")})
	if got := m.card().text("legs[0].heading_deg"); got != "285" || !m.edit.on {
		t.Errorf("285 types %q", got)
	}
}

// At most one computation runs; what was asked for meanwhile is computed next, the rest skipped.
func TestComputationsCoalesce(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	gen := m.calc.gen
	_, cmd := m.Update(keyMsg("+"))
	for i := 0; i < 50; i++ {
		m.Update(keyMsg("+"))
	}
	if m.calc.gen != gen+1 {
		t.Fatalf("%d computations started", m.calc.gen-gen)
	}
	for m.calc.running {
		cmd = runCalc(m, cmd)
	}
	if m.calc.gen != gen+2 || m.calc.solved != m.card().current {
		t.Errorf("%d computations for 51 keys, newest answered: %v", m.calc.gen-gen, m.calc.solved == m.card().current)
	}
}

func TestABrokenComputationIsSaid(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.calc.asked = want{}
	m.card().bag.current = nil // what a bug might do
	m.calc.solved = nil
	cmd := m.kick()
	a, ok := cmd().(answer)
	if !ok || a.failed == "" {
		t.Fatal("a panic in a computation must come back as words")
	}
	m.calc.take(a)
	if !m.stale() || m.calc.report == nil {
		t.Error("the last good answer stays, dimmed")
	}
}

// A failure in the workbench itself keeps the work and leaves in order.
func TestAFailureKeepsWork(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+")
	m.ask = question{on: true, choices: []choice{{"z", "", func(*model) tea.Cmd { panic("a mistake") }}}}
	_, cmd := m.Update(keyMsg("z"))
	if m.failed == nil || !m.left || cmd == nil {
		t.Fatal("a panic should end the program in order")
	}
	if again := openAgain(t, m); !again.kept.on {
		t.Error("the work is offered at the next start")
	}
}

func TestUnreadableCardsAreShownAndLeftAlone(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	o := Options{Cards: []Source{{Path: "broken.yaml", Data: []byte("skywedge: 1\nname: [\n")}}, Env: func(string) string { return "" }}
	o.fill()
	m := newModel(o)
	m.keepAfter, m.sureAfter = 0, 0
	t.Cleanup(m.release)
	drive(m, tea.WindowSizeMsg{Width: 120, Height: 36})
	press(m, "enter", "5", "+", "a", "s", "f", "1", "tab", "a", "d", "x")
	if text := screenText(m); !strings.Contains(text, "cannot be read") || !strings.Contains(text, "No answer for this card") {
		t.Errorf("the screen does not say what is wrong:\n%s", text)
	}
	if m.card().unsaved || m.failed != nil {
		t.Error("a file that cannot be read is left alone")
	}
}

func TestDifference(t *testing.T) {
	c, _ := shot.ReadCard("a", []byte("skywedge: 1\nname: a\n"))
	got := strings.Join(difference(c.Bytes(), []byte("skywedge: 1\nname: b\n")), "|")
	if got != "file  name: a|kept  name: b" {
		t.Errorf("got %q", got)
	}
}
