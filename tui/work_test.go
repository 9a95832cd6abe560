package tui

import (
	"math/rand"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// screenText gives the screen as plain rows.
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
		if r.path == path {
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
	press(m, "6")
	if !m.edit.on || m.sheet().text("legs[0].heading_deg") != "6" {
		t.Fatalf("a digit starts typing: %q", m.sheet().text("legs[0].heading_deg"))
	}
	first := m.calc.report
	press(m, "0")
	if first == before || m.calc.report == first || m.calc.solved != m.sheet().card {
		t.Error("each keystroke should bring a new answer")
	}
	if h := m.calc.report.Path[0].HeadingDeg; h != 60 {
		t.Errorf("the answer is for heading %v, typed 60", h)
	}
	press(m, "enter")
	if m.edit.on || !m.sheet().unsaved {
		t.Error("Enter keeps the value")
	}
	press(m, "u")
	if got := m.sheet().text("legs[0].heading_deg"); got != "330" || m.sheet().unsaved {
		t.Errorf("undo gives %q", got)
	}
	press(m, "ctrl+r")
	if got := m.sheet().text("legs[0].heading_deg"); got != "60" {
		t.Errorf("redo gives %q", got)
	}
}

func TestAFaultStandsUnderTheFieldAndTheAnswerDims(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "legs[0].heading_deg")
	press(m, "4", "0", "0")
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
	press(m, "8", "5", "esc")
	if got := m.sheet().text("legs[0].heading_deg"); got != "330" || m.edit.on {
		t.Errorf("Esc backs out: %q", got)
	}
	press(m, "ctrl+r")
	if got := m.sheet().text("legs[0].heading_deg"); got != "85" {
		t.Errorf("redo brings back what was typed: %q", got)
	}
	for i := 0; i < 5; i++ {
		press(m, "esc")
	}
	if got := m.sheet().text("legs[0].heading_deg"); got != "85" {
		t.Errorf("more Esc: %q", got)
	}
}

func TestNudgesWithinASecondAreOneStep(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	now := m.opt.Now()
	m.opt.Now = func() time.Time { return now }
	toRow(t, m, "legs[0].heading_deg")
	press(m, "+", "+", "+")
	if got := m.sheet().text("legs[0].heading_deg"); got != "345" {
		t.Fatalf("three steps of 5: %q", got)
	}
	now = now.Add(2 * time.Second)
	press(m, "pgdown")
	if got := m.sheet().text("legs[0].heading_deg"); got != "320" {
		t.Fatalf("five steps back: %q", got)
	}
	press(m, "u")
	if got := m.sheet().text("legs[0].heading_deg"); got != "345" {
		t.Errorf("undo of the later nudge: %q", got)
	}
	press(m, "u")
	if got := m.sheet().text("legs[0].heading_deg"); got != "330" {
		t.Errorf("undo of the three: %q", got)
	}
}

func TestNudged(t *testing.T) {
	spec := func(path string) row {
		for _, r := range append(shotRows(0, true), legRows(0, true)...) {
			if r.path == path {
				return r
			}
		}
		t.Fatalf("no field %s", path)
		return row{}
	}
	for _, c := range []struct {
		path, text string
		n          int
		want       string
	}{
		{"legs[0].heading_deg", "358", 1, "3"},
		{"legs[0].heading_deg", "330 60", 1, "335 65"},
		{"legs[0].heading_deg", "sun+90", -1, "sun+85"},
		{"legs[0].heading_deg", "NW", 1, "320"},
		{"legs[0].seconds", "25", 1, "30"},
		{"legs[0].seconds", "3", -5, "1"},
		{"legs[0].shutter_s", "1/50", 1, "1/48"},
		{"purpose", "video", 1, "still"},
		{"purpose", "video", -1, "long"},
		{"purpose", "long", 1, "video"},
		{"take_off", "2026-09-18T19:40:00", 5, "2026-09-18T20:05:00"},
		{"take_off", "now", 2, "now+10"},
		{"take_off", "now+5", -2, "now"},
		{"ring_deg", "auto", 1, "0"},
		{"ring_deg", "345", 1, "0"},
		{"light.cloud_pct", "95", 1, "100"},
		{"place.lat", "43.3857", 1, "43.3867"},
		{"legs[0].stills_too", "false", 1, "true"},
	} {
		r := spec(c.path)
		words := (&sheet{}).wordsOf(r)
		got, ok := nudged(c.text, r.spec, words, c.n)
		if !ok || got != c.want {
			t.Errorf("%s %q by %d: %q (%v), want %q", c.path, c.text, c.n, got, ok, c.want)
		}
	}
}

// wordsOf gives the words of a field without a bag.
func (s *sheet) wordsOf(r row) []string {
	if r.spec.Key == "stills_too" {
		return []string{"false", "true"}
	}
	return r.spec.Words
}

func TestLegsAreAddedDoubledMovedAndDeleted(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "tab", "down")
	if m.leg != 1 || m.sheet().text("legs[1].move") != "orbit" {
		t.Fatalf("leg %d", m.leg)
	}
	moves := func() string {
		var out []string
		for i := 0; i < m.sheet().legs(); i++ {
			out = append(out, m.sheet().card.Doc.At("legs").Index(i).Get("move").Text())
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct{ key, want string }{
		{"d", "push orbit orbit hold"},
		{"a", "push orbit orbit hold hold"},
		{"e", "push orbit hold orbit hold"},
		{"r", "push orbit orbit hold hold"},
		{"x", "push orbit orbit hold hold"}, // asks
		{"x", "push orbit orbit hold hold"}, // the same key deletes nothing
		{"y", "push orbit orbit hold"},
		{"u", "push orbit orbit hold hold"},
	} {
		press(m, c.key)
		if got := moves(); got != c.want {
			t.Fatalf("%s: %q, want %q", c.key, got, c.want)
		}
	}
	if m.calc.report == nil || len(m.calc.report.Legs) != 5 || m.stale() {
		t.Error("the flight was not computed anew")
	}
	if got := m.sheet().text("legs[3].heading_deg"); got != "60" {
		t.Errorf("an added leg looks where the one before ended: %q", got)
	}
}

func TestTheCallIsWrittenIntoTheCardAndOutAgain(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	call := m.calc.report.Call
	press(m, "f")
	if got := m.sheet().text("filter"); got != call.Filter {
		t.Errorf("filter %q, want %q", got, call.Filter)
	}
	if call.HasRing && m.sheet().text("ring_deg") != num(call.RingDeg) {
		t.Errorf("ring %q, want %v", m.sheet().text("ring_deg"), call.RingDeg)
	}
	press(m, "f")
	if m.sheet().text("filter") != "auto" || m.sheet().text("ring_deg") != "auto" {
		t.Error("the second f leaves both to the program again")
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
	if !again.ask.on || !strings.Contains(again.ask.text, "Unsaved work") {
		t.Error("unsaved work is offered at the next start")
	}
	press(again, "r")
	if got := again.sheet().text("legs[0].heading_deg"); got != "335" {
		t.Errorf("restored: %q", got)
	}
}

// openAgain opens the same cards in the same state folder.
func openAgain(t *testing.T, m *model) *model {
	n := newModel(m.opt)
	n.keepAfter = 0
	t.Cleanup(n.keeper.close)
	drive(n, tea.WindowSizeMsg{Width: 120, Height: 36})
	return n
}

func TestKeysTypedTogetherAreTakenOneByOne(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	drive(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("jjj")})
	if m.cursor[paneShot] != 3 {
		t.Errorf("jjj goes to line %d", m.cursor[paneShot])
	}
	drive(m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("j285")})
	if got := m.sheet().text("legs[0].heading_deg"); got != "285" || !m.edit.on {
		t.Errorf("j285 types %q", got)
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
	if m.calc.gen != gen+2 || m.calc.solved != m.sheet().card {
		t.Errorf("%d computations for 51 keys, newest answered: %v", m.calc.gen-gen, m.calc.solved == m.sheet().card)
	}
}

// Whatever is pressed at whatever size: exactly h lines of w cells, and no panic.
func TestEveryScreenHasTheSizeOfTheWindow(t *testing.T) {
	keys := strings.Fields("up down left right enter esc tab shift+tab home end pgup pgdown backspace delete ctrl+r ctrl+u + - 0 1 5 9 . , m b a d x y e r f u n p c ? g G j k h l w o s esc esc enter")
	rounds := 12
	if testing.Short() {
		rounds = 3
	}
	for round := 0; round < rounds; round++ {
		rnd := rand.New(rand.NewSource(int64(round)))
		m := testModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), nil)
		for i := 0; i < 60; i++ {
			switch rnd.Intn(12) {
			case 0:
				drive(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
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
			for _, want := range []string{c.Filter, "1/50", c.Confidence, "all keys"} {
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
	click(r.x+5, r.y+4)
	if m.focus != paneShot || m.cursor[paneShot] != 3 {
		t.Errorf("line %d", m.cursor[paneShot])
	}
	click(r.x+5, r.y+4)
	if !m.edit.on {
		t.Error("a second click opens the field")
	}
	f := m.screen.panes[paneFlight]
	click(f.x+f.w-1, f.y+1)
	if m.edit.on || m.focus != paneFlight || m.second != m.calc.length() {
		t.Errorf("playhead at %v of %v", m.second, m.calc.length())
	}
	c := m.screen.panes[paneCall]
	drive(m, tea.MouseMsg{X: c.x + 2, Y: c.y + 5, Button: tea.MouseButtonWheelDown})
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
	pic := m.calc.frame
	press(m, "end")
	if m.second != m.calc.length() || m.calc.frame == pic {
		t.Error("End goes to the end and draws the picture there")
	}
	press(m, "b")
	if m.calc.asked.lens != allFiltered {
		t.Error("b shows the frame all filtered")
	}
}

func TestABrokenComputationIsSaid(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.calc.asked = want{}
	m.sheet().bag = nil // what a bug might do
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
	if again := openAgain(t, m); !again.ask.on {
		t.Error("the work is offered at the next start")
	}
}

func TestUnreadableCardsAreShownAndLeftAlone(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	o := Options{Cards: []Source{{Path: "broken.yaml", Data: []byte("skywedge: 1\nname: [\n")}}, Env: func(string) string { return "" }}
	o.fill()
	m := newModel(o)
	m.keepAfter = 0
	t.Cleanup(m.keeper.close)
	drive(m, tea.WindowSizeMsg{Width: 120, Height: 36})
	press(m, "enter", "5", "+", "a", "s", "f", "tab", "a", "d", "x")
	if text := screenText(m); !strings.Contains(text, "cannot be read") || !strings.Contains(text, "No answer for this card") {
		t.Errorf("the screen does not say what is wrong:\n%s", text)
	}
	if m.sheet().unsaved || m.failed != nil {
		t.Error("a file that cannot be read is left alone")
	}
}

func TestDifference(t *testing.T) {
	c, _ := plan.ReadCard("a", []byte("skywedge: 1\nname: a\n"))
	got := strings.Join(difference(c, []byte("skywedge: 1\nname: b\n")), "|")
	if got != "file  name: a|kept  name: b" {
		t.Errorf("got %q", got)
	}
}
