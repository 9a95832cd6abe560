package tui

import (
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// bagModel is the workbench with the fields of a filter open; with a path the bag is that file's.
func bagModel(tb testing.TB, w, h int, file string) *model {
	tb.Helper()
	m := testModel(tb, w, h, nil)
	if file != "" {
		data, err := os.ReadFile(file)
		if err != nil {
			tb.Fatal(err)
		}
		bag, faults := kit.ReadBag(file, data)
		if len(faults) > 0 {
			tb.Fatal(faults)
		}
		m.opt.Bag, m.opt.BagFile = bag, file
		m.cards = nil
		for _, n := range examples.Cards() {
			m.addCard(Source{Path: n, Data: examples.Card(n), Demo: true})
		}
	}
	settleKeys(m, "3", "e")
	if m.here() != inBag {
		tb.Fatal("e does not open the fields of a filter")
	}
	return m
}

func bagFile(tb testing.TB) string {
	tb.Helper()
	p := filepath.Join(tb.TempDir(), "bag.yaml")
	if err := os.WriteFile(p, examples.Bag(), 0o644); err != nil {
		tb.Fatal(err)
	}
	return p
}

// formField returns the field under the cursor of the form.
func formField(m *model) panel.Row { return m.views.filters.Field(m) }

// shownFilter returns the filter whose fields are shown.
func shownFilter(m *model) kit.Filter { return m.card().kit().Filters[shownAt(m)] }

// shownAt returns its place in the bag, −1 for another part.
func shownAt(m *model) int {
	at := -1
	_, _ = fmt.Sscanf(formField(m).Path, "filters[%d]", &at)
	return at
}

// formFields lists the keys of the form, and leaves the cursor where it is.
func formFields(m *model) []string {
	was := formField(m).Path
	settleKeys(m, "home")
	var keys []string
	for last := ""; formField(m).Path != last; settleKeys(m, "down") {
		last = formField(m).Path
		keys = append(keys, formField(m).Spec.Key)
	}
	for range keys {
		if formField(m).Path != was {
			settleKeys(m, "up")
		}
	}
	return keys
}

// chosen returns the name of the chosen filter, as its tile has it.
func chosen(m *model) string {
	tile := regexp.MustCompile(`▸\d+ (.+?)(  | ·|\n)`).FindStringSubmatch(screenText(m) + "\n")
	if tile == nil {
		return ""
	}
	return tile[1]
}

// toFilter goes to a field of a filter by their names.
func toFilter(tb testing.TB, m *model, filter, key string) {
	tb.Helper()
	for i, f := range m.card().kit().Filters {
		if f.Name != filter {
			continue
		}
		for range m.card().kit().Parts() {
			if shownAt(m) != i {
				settleKeys(m, "right")
			}
		}
		settleKeys(m, "home")
		for range formFields(m) {
			if formField(m).Spec.Key == key {
				return
			}
			settleKeys(m, "down")
		}
	}
	tb.Fatalf("no %s of %s", key, filter)
}

func TestTheBagOpensAtTheChosenFilter(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	call := m.calc.report.Call.Filter
	if got := shownFilter(m).Name; got != call {
		t.Errorf("open at %s, the call is %s", got, call)
	}
	toFilter(t, m, call, "stops") // made so heavy that it is no longer the best, it stays the chosen one
	settleKeys(m, "enter", "9", "enter")
	if got := chosen(m); got != call || m.calc.report.Call.Filter == call {
		t.Errorf("chosen is %s, the call %s", got, m.calc.report.Call.Filter)
	}
	settleKeys(m, "u", "home")
	for _, w := range []int{80, 120, 200} { // one place has the focus
		settle(m, tea.WindowSizeMsg{Width: w, Height: 36})
		if text := screenText(m); strings.Contains(text, "▸ All filters") || strings.Contains(text, "▸ The chosen") || !strings.Contains(text, "▸ "+call) {
			t.Errorf("%d columns:\n%s", w, text)
		}
	}
	settleKeys(m, "esc")
	if m.here() == inBag || m.view != viewFilters {
		t.Error("Esc goes back to all filters")
	}
	settleKeys(m, "home", "right", "right")
	want := chosen(m)
	settleKeys(m, "e")
	if got := shownFilter(m).Name; got != want {
		t.Errorf("open at %s, chosen is %s", got, want)
	}
}

// The form has what the filter's kind can have, and of that what means something.
func TestTheFormFollowsTheFilter(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	keys := func() string { return strings.Join(formFields(m), " ") }
	for _, c := range []struct{ filter, folded, open string }{
		{"ND16", "name kind stops grade", "name kind stops grade cast_mired tint measured_stops offset_stops"},
		{"CPL", "name kind loss_stops mark_deg grade", "name kind loss_stops mark_deg grade cast_mired tint measured_stops offset_stops ring"},
		{"ND16/PL", "name kind stops loss_stops mark_deg grade cast_mired ring click_deg", "name kind stops loss_stops mark_deg grade cast_mired tint measured_stops offset_stops ring click_deg"},
		{"soft 1/4", "name kind grade", "name kind grade cast_mired tint measured_stops offset_stops"},
	} {
		toFilter(t, m, c.filter, "name")
		if got := keys(); got != c.folded {
			t.Errorf("%s folded: %s", c.filter, got)
		}
		settleKeys(m, "m")
		if got := keys(); got != c.open {
			t.Errorf("%s: %s", c.filter, got)
		}
		settleKeys(m, "m")
	}
	toFilter(t, m, "ND16/PL", "ring")
	settleKeys(m, "+") // clicks, then turns
	if strings.Contains(keys(), "click_deg") || len(m.calc.faults) > 0 {
		t.Errorf("a ring that turns: %s", keys())
	}
	settleKeys(m, "m", "enter", "f", "i", "x", "e", "d")
	settleKeys(m, "enter")
	if f := shownFilter(m); f.Ring != kit.RingFixed || !strings.Contains(keys(), "fixed_deg") {
		t.Errorf("a fixed ring: %+v, %s", f, keys())
	}
}

// Every keystroke in the bag gives a new answer for the whole flight, as one in the card does.
func TestTypingInTheBagComputesLive(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	toFilter(t, m, "ND16", "stops")
	before := m.calc.report
	loss := func() float64 {
		for _, k := range m.calc.report.Candidates {
			if k.Filter == "ND16" {
				return k.Headroom.Min
			}
		}
		return 0
	}
	was := loss()
	settleKeys(m, "enter", "5")
	first := m.calc.report
	if first == before || !m.edit.on || loss() >= was {
		t.Fatalf("5 stops: headroom %v after %v", loss(), was)
	}
	settleKeys(m, ".", "5", "enter")
	if m.calc.report == first || m.edit.on || m.card().kit().Filters[2].Stops != 5.5 {
		t.Errorf("%+v", m.card().kit().Filters[2])
	}
	if m.calc.report.Bag != m.card().kit() {
		t.Error("the answer is that of an earlier bag")
	}
	for _, s := range m.cards {
		if s.kit() != m.card().kit() {
			t.Error("another card has another bag")
		}
	}
	if !strings.Contains(screenText(m), "bag not saved") || m.card().unsaved {
		t.Error("the screen does not say that the bag is not saved, or the card was touched")
	}
	settleKeys(m, "u")
	if m.card().kit().Filters[2].Stops != 4 || m.card().bag.unsaved || m.calc.report.Bag != m.card().kit() || loss() != was {
		t.Error("u takes the whole edit back")
	}
	settleKeys(m, "ctrl+r")
	if m.card().kit().Filters[2].Stops != 5.5 || m.calc.report.Bag != m.card().kit() {
		t.Error("Ctrl-R makes it again")
	}
}

func TestAWrongValueKeepsTheFieldOpen(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	toFilter(t, m, "ND16", "stops")
	bag := m.card().kit()
	settleKeys(m, "enter", "9", "9", "enter")
	if !m.edit.on || m.edit.fault == "" || !m.stale() {
		t.Fatal("99 stops are taken")
	}
	if text := screenText(m); !strings.Contains(text, "! a number from 0.1 to 24") || !strings.Contains(text, `found "99"`) {
		t.Errorf("what is wrong is not said:\n%s", text)
	}
	settleKeys(m, "esc")
	if m.edit.on || m.card().kit().Filters[2].Stops != 4 || m.here() != inBag {
		t.Error("Esc leaves the field as it was")
	}
	toFilter(t, m, "variable light", "to_stops")
	settleKeys(m, "enter", "3", "enter") // its marks go to 5
	if !m.edit.on || !strings.Contains(m.edit.fault, "marks") {
		t.Errorf("%q does not name the other field", m.edit.fault)
	}
	settleKeys(m, "esc")
	if string(m.card().kit().Doc.Bytes()) != string(bag.Doc.Bytes()) {
		t.Error("something of it stayed")
	}
	toFilter(t, m, "ND8", "name")
	settleKeys(m, "delete")
	if m.card().kit().Filters[1].Name != "ND8" || !strings.Contains(m.note, "needed") {
		t.Error("a name is needed")
	}
	settleKeys(m, "enter", "X", "Y", "esc")
	settleKeys(m, "ctrl+r")
	if m.card().kit().Filters[1].Name != "XY" {
		t.Error("Esc threw away what was typed")
	}
}

// Undo goes back through the changes of the card and of the bag in the order they were made.
func TestUndoKeepsTheOrderOfCardAndBag(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	now := m.opt.Now()
	m.opt.Now = func() time.Time { now = now.Add(time.Minute); return now }
	state := func() string {
		return string(m.card().current.Doc.Bytes()) + string(m.card().kit().Doc.Bytes())
	}
	states := []string{state()}
	step := func(keys ...string) { settleKeys(m, keys...); states = append(states, state()) }
	toFilter(t, m, "ND16", "stops")
	step("+")
	settleKeys(m, "esc", "right")
	step("enter") // another filter on the card
	settleKeys(m, "e")
	toFilter(t, m, "CPL", "loss_stops")
	step("-")
	step("d")
	settleKeys(m, "esc", "right")
	step("enter")
	for i := 1; i < len(states); i++ {
		if states[i] == states[i-1] {
			t.Fatalf("step %d changed nothing", i)
		}
	}
	for round := range 2 {
		for i := len(states) - 2; i >= 0; i-- {
			settleKeys(m, "u")
			if state() != states[i] {
				t.Fatalf("round %d: undo to %d gives another state", round, i)
			}
		}
		for i := 1; i < len(states); i++ {
			settleKeys(m, "ctrl+r")
			if state() != states[i] {
				t.Fatalf("round %d: redo to %d gives another state", round, i)
			}
		}
	}
}

// A card that names a filter follows when it is renamed, in one step of undo.
func TestTheCardFollowsARenamedFilter(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	settleKeys(m, "esc", "home", "right", "enter") // the second best on the card
	was := m.card().text("filter")
	settleKeys(m, "e", "home", "enter")
	for _, k := range strings.Split("tin 3", "") {
		settleKeys(m, k)
		if len(m.calc.faults) > 0 {
			t.Fatalf("after %q: %v", k, m.calc.faults)
		}
	}
	settleKeys(m, "enter")
	both := func(name string) {
		t.Helper()
		if got, in := m.card().text("filter"), shownFilter(m).Name; got != name || in != name || m.calc.report.Call.Filter != name {
			t.Errorf("the card has %q, the bag %q, the call %q; expected %q", got, in, m.calc.report.Call.Filter, name)
		}
	}
	both("tin 3")
	for range 2 {
		settleKeys(m, "u")
		both(was)
		settleKeys(m, "ctrl+r")
		both("tin 3")
	}
	settleKeys(m, "enter", "Q", "esc")
	both("tin 3")
	settleKeys(m, "ctrl+r")
	both("Q")
	settleKeys(m, "u", "u", "u")
	if m.card().unsaved || m.card().bag.unsaved {
		t.Error("three steps back nothing is changed")
	}
	// A card that leaves the choice to the program is not touched.
	settleKeys(m, "enter", "Z", "enter")
	if m.card().unsaved || !m.card().bag.unsaved {
		t.Error("the card was touched")
	}
}

func TestFiltersAreAddedDoubledAndTakenOut(t *testing.T) {
	m := bagModel(t, 120, 36, "")
	n := len(m.card().kit().Filters)
	settleKeys(m, "a")
	if b := m.card().kit(); len(b.Filters) != n+1 || shownFilter(m).Name != "new filter" {
		t.Fatal("a adds a filter")
	}
	if chosen(m) != "new filter" {
		t.Error("the new filter is not the chosen one")
	}
	for formField(m).Spec.Key != "kind" {
		settleKeys(m, "down")
	}
	for _, want := range []kit.Kind{kit.Hybrid, kit.Variable, kit.Diffusion, kit.Polariser, kit.Density} {
		settleKeys(m, "+")
		if got := shownFilter(m).Kind; got != want || len(m.calc.faults) > 0 {
			t.Errorf("%s, expected %s", got, want)
		}
	}
	settleKeys(m, "d", "x", "n")
	if len(m.card().kit().Filters) != n+2 {
		t.Error("x took a filter without a yes")
	}
	settleKeys(m, "esc", "x", "y")
	if len(m.card().kit().Filters) != n+1 {
		t.Error("x y takes it out")
	}
	for range n + 1 {
		settleKeys(m, "x", "y")
	}
	if len(m.card().kit().Filters) != 0 || !strings.Contains(screenText(m), "no filters; a adds one") {
		t.Errorf("an empty bag:\n%s", screenText(m))
	}
	settleKeys(m, "up", "down", "left", "right", "enter", "+", "-", "d", "x", "delete", "m", "a")
	if len(m.card().kit().Filters) != 1 {
		t.Error("a adds one to an empty bag")
	}
	for range 30 {
		settleKeys(m, "u")
	}
	if m.card().bag.unsaved || len(m.card().kit().Filters) != n {
		t.Error("u goes back to the bag as it was")
	}
}

// Whatever is pressed at whatever size: exactly h lines of w cells, no panic, and always a valid bag.
func TestTheBagHoldsAgainstAnyKeys(t *testing.T) {
	keys := strings.Fields("up down left right home end enter + - pgup pgdown delete m a d x y tab e esc u ctrl+r 5 . , v N backspace ctrl+u 3 e e")
	for round := range 6 {
		rnd := rand.New(rand.NewSource(int64(round)))
		m := bagModel(t, 60+rnd.Intn(141), 20+rnd.Intn(41), "")
		for range 60 {
			k := keys[rnd.Intn(len(keys))]
			switch {
			case rnd.Intn(9) == 0:
				settle(m, tea.WindowSizeMsg{Width: 1 + rnd.Intn(200), Height: 1 + rnd.Intn(60)})
			case rnd.Intn(9) == 0:
				settle(m, tea.MouseMsg{X: rnd.Intn(200), Y: rnd.Intn(60), Button: tea.MouseButton(rnd.Intn(6)), Action: tea.MouseAction(rnd.Intn(3))})
			default:
				settleKeys(m, k)
			}
			if m.view != viewFilters && !m.typing() && !m.ask.on {
				settleKeys(m, "3", "e")
			}
			if n := len(strings.Split(screenText(m), "\n")); n != m.screen.h || m.failed != nil {
				t.Fatalf("seed %d: %d lines in a window of %d, %v", round, n, m.screen.h, m.failed)
			}
			if _, faults := kit.ReadBag("b", m.card().kit().Doc.Bytes()); len(faults) > 0 {
				t.Fatalf("seed %d after %q: %v", round, k, faults)
			}
		}
	}
}

// A camera's fields are edited while the answer follows; a new name goes along to the card, and what does not fit
// together is refused in words.
func TestACameraIsEditedWhileTheAnswerFollows(t *testing.T) {
	m := bagModel(t, 160, 40, "")
	to := func(key string) {
		t.Helper()
		settleKeys(m, "home")
		for range 40 {
			if strings.HasSuffix(formField(m).Path, key) {
				return
			}
			settleKeys(m, "down")
		}
		t.Fatalf("no %s", key)
	}
	settleKeys(m, "r")
	to(".name")
	settleKeys(m, "enter", "m", "i", "n", "e", "enter")
	if got := m.card().text("camera"); got != "mine" || len(m.calc.faults) > 0 {
		t.Errorf("the card's camera is %q: %v", got, m.calc.faults)
	}
	settleKeys(m, "u")
	if m.card().text("camera") == "mine" || len(m.calc.faults) > 0 {
		t.Error("one step takes both back")
	}
	to("iso.clean")
	settleKeys(m, "enter", "9", "9", "9", "9", "enter")
	if m.edit.fault == "" || m.calc.report == nil {
		t.Error("a clean ISO over the highest is taken")
	}
	settleKeys(m, "esc")
	was := m.calc.report
	to("aperture")
	settleKeys(m, "enter", "4", "enter")
	if m.calc.report == was || m.card().kit().Cameras[0].Aperture != [2]float64{4, 4} {
		t.Error("the answer is that of the old aperture")
	}
}
