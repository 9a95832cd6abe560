package tui

import (
	"math/rand"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// hoursModel is the workbench with the hours open.
func hoursModel(tb testing.TB, w, h int, env map[string]string) *model {
	tb.Helper()
	m := testModel(tb, w, h, env)
	settleKeys(m, "4")
	if m.view != viewHours || m.shownHours() == nil || m.hours.running {
		tb.Fatal("4 does not show the hours")
	}
	return m
}

var bareEnv = map[string]string{"TERM": "xterm", "NO_COLOR": "1"}

func TestHoursAtEverySize(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	for _, over := range []plan.Span{plan.OverDay, plan.OverYear} {
		for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}, {200, 22}, {64, 50}} {
			for _, p := range []cells.Profile{cells.TrueColour, cells.TwoFiftySix, cells.Sixteen, cells.NoColour} {
				m.screen.pen.Profile = p
				settle(m, tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				text := screenText(m)
				for _, want := range []string{"all keys", "by how good the best call is", "sun 10° at W", "19:40", "ND8/PL"} {
					if !strings.Contains(text, want) {
						t.Errorf("%v %v: no %q:\n%s", size, over, want, text)
					}
				}
			}
		}
		if m.hours.over != over {
			t.Fatalf("over %v", m.hours.over)
		}
		settleKeys(m, "y")
	}
}

// The picture and the words lie in the room, do not overlap, and every cell that is shown is found again
// by the mouse.
func TestHoursFit(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	settleKeys(m, "y")
	for o, g := range m.hours.got {
		for w := 58; w <= 198; w += 7 {
			for h := 15; h <= 56; h += 3 {
				r := hoursFit(g, w, h)
				if r.pic.empty() {
					t.Errorf("span %d has no picture in %d × %d", o, w, h)
					continue
				}
				for _, x := range []rect{r.pic, r.words} {
					if x.x < 0 || x.y < 0 || x.x+x.w > w || x.y+x.h > h {
						t.Errorf("%d × %d: %+v", w, h, r)
					}
				}
				if r.words.h < 3 || r.words.w < 30 || r.words.x < r.pic.x+r.pic.w && r.words.y < r.pic.y+r.pic.h+1 {
					t.Errorf("%d × %d: words %+v beside the picture %+v", w, h, r.words, r.pic)
				}
				for i := range g.Cells {
					x, y, lower, ok := r.place(g, i)
					if !ok {
						if s := g.Cells[i].State; s != plan.HourNight && s != plan.HourSkipped {
							t.Errorf("%d × %d: %s is not shown", w, h, g.When(i))
						}
						continue
					}
					if lower {
						i-- // the mouse finds the upper one of two
					}
					if j, ok := r.under(g, x, y); !ok || j != i {
						t.Fatalf("%d × %d: cell %d at %d, %d is found as %d", w, h, i, x, y, j)
					}
				}
			}
		}
	}
}

// Enter moves the take-off: one step of undo each time, also twice within a second.
func TestHoursPick(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	g := m.shownHours()
	if m.hoursAt(g) != g.Own || g.When(g.Own) != "19:40" {
		t.Fatalf("the cursor starts at %s", g.When(m.hoursAt(g)))
	}
	settleKeys(m, "enter")
	if m.card().unsaved || !strings.Contains(m.note, "already") {
		t.Errorf("the card's own time is no change: %q", m.note)
	}
	settleKeys(m, "left", "down")
	if got := g.When(m.hoursAt(g)); got != "18:50" {
		t.Errorf("an hour back and ten minutes on is %s", got)
	}
	if m.card().unsaved {
		t.Error("the cursor alone changes the card")
	}
	settleKeys(m, "enter")
	if got := m.card().text("take_off"); got != "2026-09-18T18:50:00" {
		t.Errorf("take_off is %s", got)
	}
	if own := m.shownHours(); own.When(own.Own) != "18:50" || m.hoursAt(own) != own.Own || m.calc.report.Shot.TakeOff.Hour() != 18 {
		t.Error("the answers are not those of the new time")
	}
	settleKeys(m, "down", "down", "enter")
	if got := m.card().text("take_off"); got != "2026-09-18T19:10:00" {
		t.Errorf("ten minutes after 18:50 twice: %s", got)
	}
	settleKeys(m, "u")
	if got := m.card().text("take_off"); got != "2026-09-18T18:50:00" {
		t.Errorf("undo gives %s", got)
	}
	settleKeys(m, "u")
	if got := m.card().text("take_off"); got != "2026-09-18T19:40:00" || m.card().unsaved {
		t.Errorf("undo gives %s", got)
	}
	settleKeys(m, "ctrl+r")
	if got := m.card().text("take_off"); got != "2026-09-18T18:50:00" {
		t.Errorf("redo gives %s", got)
	}
	settleKeys(m, "y", "right", "enter")
	if got := m.card().text("take_off"); got != "2026-09-25T19:00:00" {
		t.Errorf("a week later, by full hours: %s", got)
	}
	settleKeys(m, "esc", "esc")
	if m.view != viewShot {
		t.Error("Esc does not go back")
	}
}

func TestHoursCursor(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	g := m.shownHours()
	for range 200 {
		settleKeys(m, "down")
	}
	if got := m.hoursAt(g); got != len(g.Cells)-1 {
		t.Errorf("down ends at %d", got)
	}
	settleKeys(m, "right", "pgdown")
	if got := m.hoursAt(g); got != len(g.Cells)-1 {
		t.Errorf("right of the end is %d", got)
	}
	settleKeys(m, "pgup")
	if got := g.When(m.hoursAt(g)); got != "17:50" {
		t.Errorf("six hours before the end is %s", got)
	}
	settleKeys(m, "g")
	if m.hoursAt(g) != g.Own {
		t.Error("g does not go to the card")
	}
	list := g.Windows(plan.HourScore)
	if len(list) < 2 {
		t.Fatal("too few windows to go round")
	}
	for k := range list {
		settleKeys(m, "tab")
		if m.hoursAt(g) != list[k].Best {
			t.Errorf("Tab %d goes to %s", k, g.When(m.hoursAt(g)))
		}
	}
	settleKeys(m, "tab", "shift+tab")
	if m.hoursAt(g) != list[len(list)-1].Best {
		t.Error("Shift-Tab does not go back")
	}
	settleKeys(m, "m")
	if m.hours.by != plan.HourSky || !strings.Contains(screenText(m), "darker") {
		t.Error("m does not bring the next measure")
	}
	settleKeys(m, "M", "M")
	if m.hours.by != plan.HourSun || !strings.Contains(screenText(m), "Low sun") {
		t.Error("M does not bring the one before")
	}
}

// A newer computation stops the one before, whose answer is dropped.
func TestHoursAreSuperseded(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.show(viewHours)
	m.hours.over = plan.OverYear
	year := hoursView{}.kick(m)
	if year == nil || !m.hours.running {
		t.Fatal("the year is not worked out")
	}
	if again := (hoursView{}).kick(m); again != nil {
		t.Error("the same is started twice")
	}
	m.screen.arrange(m)
	if text := screenText(m); !strings.Contains(text, "working out the year: 0 %") {
		t.Errorf("no progress:\n%s", text)
	}
	m.hours.over = plan.OverDay
	day := hoursView{}.kick(m)
	if day == nil {
		t.Fatal("the day is not started")
	}
	began := m.hours.gen
	for _, msg := range results(year) {
		if a, ok := msg.(hoursAnswer); !ok || a.hours != nil || a.gen == began {
			t.Errorf("the year was not stopped: %+v", msg)
		}
		m.Update(msg)
	}
	if !m.hours.running || m.note != "" || m.shownHours() != nil {
		t.Error("the answer that was superseded did something")
	}
	for _, msg := range results(day) {
		m.Update(msg)
	}
	if g := m.shownHours(); g == nil || g.Over != plan.OverDay || m.hours.running {
		t.Fatal("the day is not there")
	}
	if again := (hoursView{}).kick(m); again != nil {
		t.Error("what is known is worked out again")
	}
	// Back and forth before anything is done comes to rest on what is known.
	m.hours.over = plan.OverYear
	(hoursView{}).kick(m)
	m.hours.over = plan.OverDay
	if cmd := (hoursView{}).kick(m); cmd != nil || m.hours.running {
		t.Error("the day that is known is worked out again")
	}
}

// Another card shows nothing of this one, and a card with a fault says so.
func TestHoursOfAnotherCard(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	_, cmd := m.Update(keyMsg("n"))
	if m.shownHours() != nil {
		t.Error("the hours of the card before are shown")
	}
	settle(m, results(cmd)...)
	if g := m.shownHours(); g == nil || !strings.HasPrefix(g.Shot.Name, "Lighthouse") || m.hoursAt(g) != g.Own {
		t.Error("the next card has no hours of its own")
	}
	settleKeys(m, "1")
	m.setField("camera", "no such camera")
	settleKeys(m, "4")
	if text := screenText(m); !strings.Contains(text, "no such camera") && !strings.Contains(text, "camera") {
		t.Errorf("the fault is not said:\n%s", text)
	}
}

func TestHoursMouse(t *testing.T) {
	m := hoursModel(t, 120, 36, nil)
	g := m.shownHours()
	screenText(m)
	r := hoursFit(g, m.screen.body.w, m.screen.body.h)
	at := cellIndex(t, g, "10:20")
	x, y, _, _ := r.place(g, at)
	settle(m, tea.MouseMsg{X: m.screen.body.x + x, Y: m.screen.body.y + y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if m.hoursAt(g) != at {
		t.Errorf("a click at 10:20 goes to %s", g.When(m.hoursAt(g)))
	}
	second := g.Windows(plan.HourScore)[1]
	start := "2 " + g.When(second.Cells[0])
	for y, l := range strings.Split(screenText(m), "\n") {
		if i := strings.Index(l, start); i >= 0 {
			settle(m, tea.MouseMsg{X: cells.Width(l[:i]) + 3, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
		}
	}
	if m.hoursAt(g) != second.Best {
		t.Errorf("a click on the second window goes to %s", g.When(m.hoursAt(g)))
	}
}

func cellIndex(t *testing.T, g *plan.Hours, when string) int {
	t.Helper()
	for i := range g.Cells {
		if g.When(i) == when {
			return i
		}
	}
	t.Fatalf("no cell at %s", when)
	return 0
}

// Where there is room, the hour under the cursor is told by every measure, and a click takes one.
func TestHoursByEveryMeasure(t *testing.T) {
	m := hoursModel(t, 200, 60, nil)
	text := screenText(m)
	for _, want := range []string{"19:40 by every measure", "▸ call", "  headroom", "light for 39 minutes", "haze is not what this card is about"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q:\n%s", want, text)
		}
	}
	for y, l := range strings.Split(text, "\n") {
		if i := strings.Index(l, "  glare  "); i >= 0 {
			x := cells.Width(l[:i]) + 3
			settle(m, tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			break
		}
	}
	if m.hours.by != plan.HourGlare {
		t.Errorf("a click takes %v", m.hours.by)
	}
	m = hoursModel(t, 80, 24, nil)
	if text := screenText(m); strings.Contains(text, "by every measure") || !strings.Contains(text, "y the year") {
		t.Errorf("80 × 24:\n%s", text)
	}
}

// Without colour, levels are characters that get heavier towards the best.
func TestHoursWithoutColour(t *testing.T) {
	for _, env := range []map[string]string{bareEnv, {"TERM": "xterm"}} {
		m := hoursModel(t, 80, 24, env)
		settleKeys(m, "y")
		m.screen.dirty = true
		if v := m.View(); strings.ContainsAny(v, "▀▄") || strings.Contains(v, "48;2") {
			t.Error("half blocks or exact colours are drawn")
		}
		if text := screenText(m); !strings.Contains(text, ".:-=+*#@") {
			t.Errorf("no legend of characters:\n%s", text)
		}
	}
	if hoursShade(0) != '.' || hoursShade(1) != '@' || hoursShade(0.5) != '+' {
		t.Error("the characters of the levels")
	}
}

// Whatever is pressed at whatever size: exactly h lines of w cells, and no panic.
func TestHoursKeepTheSizeOfTheWindow(t *testing.T) {
	keys := strings.Fields("left right up down home g pgup pgdown tab shift+tab m M y enter n p u ctrl+r , . b esc 4")
	for round := range 6 {
		rnd := rand.New(rand.NewSource(int64(round)))
		env := []map[string]string{nil, {"TERM": "xterm-256color"}, {"TERM": "xterm"}, bareEnv}[round%4]
		m := hoursModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), env)
		for range 30 {
			switch rnd.Intn(6) {
			case 0:
				settle(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
			case 1:
				settle(m, tea.MouseMsg{X: rnd.Intn(200), Y: rnd.Intn(60), Button: tea.MouseButton(rnd.Intn(6)), Action: tea.MouseAction(rnd.Intn(3))})
			default:
				settleKeys(m, keys[rnd.Intn(len(keys))])
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

// A tick moves the progress on while a computation runs, and stops with it.
func TestHoursTicks(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.sureAfter = time.Millisecond
	m.hours.running = true
	if m.laterHoursTick() == nil || !m.hours.ticking || m.laterHoursTick() != nil {
		t.Error("one tick at a time is on its way")
	}
	if !(hoursView{}).take(m, hoursTick{}) || m.hours.ticking {
		t.Error("the tick is not taken")
	}
	m.hours.running = false
	if m.laterHoursTick() != nil {
		t.Error("ticks go on when nothing runs")
	}
}
