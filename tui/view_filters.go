package tui

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// filtersView is the view of the bag: every filter of it side by side on this flight, each with a small
// picture of the frame at the playhead, and the chosen one argued in words.
type filtersView struct{}

var _ = func() bool { views[viewFilters] = filtersView{}; return true }()

func (filtersView) name() string { return "Filters" }

// The panes of the view.
const (
	filtersAll = iota
	filtersOne
	filtersPanes
)

// bareLens is the place in the bag of the lens without a filter.
const bareLens = -1

// filtersState is what the view keeps: what is looked at, and the last answer.
type filtersState struct {
	pane    int
	pick    int  // the chosen filter by its place in the bag, or bareLens
	moved   bool // pick is meant; before that the best
	top     int  // the first row of tiles on the screen
	scroll  int  // of the words
	gen     int  // counts computations; an answer with an older number is dropped
	running bool
	asked   filtersWant
	got     filtersAnswer
}

// filtersWant is everything the view is worked out from. Two equal wants have the same answer.
type filtersWant struct {
	report *plan.Report
	second float64
	w, h   int // of a small picture, pixels
}

// filtersAnswer is what a computation brings back: the filters best first, and a picture for each.
type filtersAnswer struct {
	gen    int
	of     filtersWant
	list   []plan.Ranked
	pics   []cells.Picture
	failed string
}

func (filtersView) keys() []binding {
	return []binding{
		{"left h", "Left h", 0, "", "to the filter on the left", 0, do(func(m *model) { m.filtersMove(-1, 0) })},
		{"right l", "Right l", 0, "choose", "to the filter on the right", 8, do(func(m *model) { m.filtersMove(1, 0) })},
		{"up k", "Up k", 0, "", "to the filter above, or scroll the words", 0, do(func(m *model) { m.filtersMove(0, -1) })},
		{"down j", "Down j", 0, "", "to the filter below, or scroll the words", 0, do(func(m *model) { m.filtersMove(0, 1) })},
		{"home g", "Home g", 0, "", "to the best filter", 0, do(func(m *model) { m.filtersTo(0) })},
		{"end G", "End G", 0, "", "to the last", 0, do(func(m *model) { m.filtersTo(1 << 20) })},
		{"pgup", "PgUp", 0, "", "scroll the words about the chosen filter up", 0, do(func(m *model) { m.filters.scroll = max(0, m.filters.scroll-5) })},
		{"pgdown", "PgDn", 0, "", "scroll them down", 0, do(func(m *model) { m.filters.scroll += 5 })},
		{"tab shift+tab", "Tab", 0, "pane", "to the chosen filter, or back to all of them", 9, do(func(m *model) { m.filters.pane = filtersPanes - 1 - m.filters.pane })},
		{"enter", "Enter", 0, "on the card", "write the chosen filter into the card; u takes it back", 10, do(func(m *model) { m.filtersPut() })},
		{"a", "a", 0, "auto", "leave the filter to the program again", 7, do(func(m *model) { m.filtersAuto() })},
	}
}

// kick starts a computation unless one runs for the same state or nothing changed.
func (filtersView) kick(m *model) tea.Cmd {
	f := &m.filters
	room := filtersFit(&m.screen, f.pane, m.filtersCount(), m.filtersShape())
	w := filtersWant{report: m.calc.base, second: m.second, w: room.picW, h: 2 * room.picRows}
	if f.running || w == f.asked || w.report == nil || len(w.report.Path) == 0 {
		return nil
	}
	f.gen++
	f.running, f.asked = true, w
	gen, known := f.gen, f.got
	return m.inBackground("the filters could not be drawn", func() tea.Msg {
		a := filtersAnswer{gen: gen, of: w}
		if known.of.report == w.report {
			a.list = known.list
		} else {
			a.list = w.report.Ranking()
		}
		a.pictures()
		return a
	}, func(said string) tea.Msg { return filtersAnswer{gen: gen, of: w, failed: said} })
}

// pictures draws the frame at the playhead through each filter, all at the exposure of the bare frame and
// opened up by what the filter takes, as the camera would: what differs is what the filter does.
func (a *filtersAnswer) pictures() {
	r, w := a.of.report, a.of
	if w.w < 2 || w.h < 2 {
		return
	}
	a.pics = make([]cells.Picture, len(a.list))
	var scenes light.Scenes // one for all of them
	for i := range a.list {
		k := &a.list[i]
		o := plan.FrameOptions{Second: w.second, Filter: k.Filter, Setting: k.SettingStops, Ring: math.NaN(), W: w.w, H: w.h, Scenes: &scenes}
		if k.HasRing {
			o.Ring = k.RingDeg
		}
		frame, err := r.Frame(o)
		if err != nil {
			a.failed = err.Error()
			return
		}
		d, err := r.Development(o, frame, plan.OneExposure, plan.AllFiltered)
		if err != nil {
			a.failed = err.Error()
			return
		}
		a.pics[i].Develop(w.w, w.h, frame.Develop(d, nil))
	}
}

// take stores an answer. One that failed leaves the last good one standing.
func (filtersView) take(m *model, msg tea.Msg) bool {
	a, ok := msg.(filtersAnswer)
	if !ok {
		return false
	}
	f := &m.filters
	if a.gen != f.gen {
		return true
	}
	f.running = false
	if a.failed != "" {
		m.say(a.failed)
		return true
	}
	f.got = a
	return true
}

// filtersCount is how many tiles there are.
func (m *model) filtersCount() int {
	if n := len(m.filters.got.list); n > 0 {
		return n
	}
	if b := m.card().kit(); b != nil {
		return len(b.Filters) + 1
	}
	return 1
}

// filtersShape gives the height of the frame at the playhead over its width.
func (m *model) filtersShape() float64 {
	r := m.calc.base
	if r == nil || len(r.Path) == 0 {
		return 9. / 16
	}
	return r.FrameShape(m.second)
}

// filtersAt gives the place of the chosen filter in the list, −1 when there is no list.
func (m *model) filtersAt() int {
	f := &m.filters
	if len(f.got.list) == 0 {
		return -1
	}
	if !f.moved {
		return 0
	}
	for i := range f.got.list {
		if m.bagPlace(f.got.list[i].Filter) == f.pick {
			return i
		}
	}
	return 0
}

// bagPlace gives a filter's place in the bag that the list is of; bareLens for none.
func (m *model) bagPlace(name string) int {
	for i, flt := range m.filters.got.of.report.Bag.Filters {
		if flt.Name == name {
			return i
		}
	}
	return bareLens
}

// filtersTo chooses by the place in the list.
func (m *model) filtersTo(at int) {
	f := &m.filters
	if n := len(f.got.list); n > 0 {
		at = max(0, min(at, n-1))
		f.pick, f.moved, f.scroll = m.bagPlace(f.got.list[at].Filter), true, 0
	}
}

// filtersMove goes by tiles; with the words in focus up and down scroll them.
func (m *model) filtersMove(cols, rows int) {
	f := &m.filters
	at := m.filtersAt()
	if at < 0 {
		return
	}
	if f.pane == filtersOne && rows != 0 {
		f.scroll = max(0, f.scroll+rows)
		return
	}
	room := filtersFit(&m.screen, f.pane, len(f.got.list), m.filtersShape())
	next := at + cols + rows*max(1, room.across)
	if next < 0 || next >= len(f.got.list) {
		return
	}
	m.filtersTo(next)
}

// filtersPut writes the chosen filter into the card: one step of undo. A ring that the card has for another
// filter is left to the program, as it would be wrong for this one.
func (m *model) filtersPut() {
	at, s := m.filtersAt(), m.card()
	if at < 0 || !m.mayEdit() {
		return
	}
	k := &m.filters.got.list[at]
	if s.text("filter") == k.Filter {
		m.say("the card has " + words.FilterTitle(k.Filter, 0) + " already")
		return
	}
	if !m.filtersWrite(k.Filter) {
		return
	}
	m.filters.pick, m.filters.moved = m.bagPlace(k.Filter), true
	text := words.FilterTitle(k.Filter, 0) + " is on the card; a leaves it to the program again"
	if !k.Feasible {
		text = words.FilterTitle(k.Filter, 0) + " is on the card, though it cannot be flown here; u takes it back"
	}
	m.say(text)
}

func (m *model) filtersAuto() {
	s := m.card()
	if !m.mayEdit() {
		return
	}
	if t := s.text("filter"); t == "" || t == "auto" {
		m.say("the filter is the program's choice already")
		return
	}
	if m.filtersWrite("auto") {
		m.say("the filter is the program's choice again")
	}
}

func (m *model) filtersWrite(filter string) bool {
	s := m.card()
	c, faults := s.current.Set("filter", filter)
	if c == nil {
		if len(faults) > 0 {
			m.say("found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
		}
		return false
	}
	if t := s.text("ring_deg"); t != "" && t != "auto" {
		if c2, _ := c.Set("ring_deg", "auto"); c2 != nil {
			c = c2
		}
	}
	s.put(c, "", m.opt.Now())
	m.changed()
	return true
}
