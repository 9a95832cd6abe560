package tui

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	tea "github.com/charmbracelet/bubbletea"
)

// hoursView is the view of times: the same shot over its day or its year as a heat picture, with the best
// windows in words. A cell can be picked to move the shot there.
type hoursView struct{}

var _ = func() bool { views[viewHours] = hoursView{}; return true }()

func (hoursView) name() string { return "Hours" }

// hoursState is what the view keeps. The day and the year have their answers and cursors apart.
type hoursState struct {
	over    plan.Span
	by      plan.HourMeasure
	cursor  [2]int
	got     [2]*plan.Hours
	of      [2]hoursWant // what the answers belong to
	asked   hoursWant    // of the running or last computation
	gen     int          // counts computations; an answer with an older number is dropped
	running bool
	stop    context.CancelFunc
	done    *atomic.Int64 // hours done, of total
	total   *atomic.Int64
	ticking bool
	failed  string
	memo    hoursMemo
}

// hoursWant is everything an answer depends on. Two equal wants have the same answer.
type hoursWant struct {
	card *openCard // the card that is open
	shot *shot.Shot
	bag  *kit.Bag
	over plan.Span
}

// hoursAnswer is what a computation brings back.
type hoursAnswer struct {
	gen    int
	of     hoursWant
	hours  *plan.Hours
	failed string
}

// hoursTick says that it is time to look how far the computation is.
type hoursTick struct{}

// hoursTickAfter is how often that is.
const hoursTickAfter = 120 * time.Millisecond

// hoursMemo is what is drawn of an answer by a measure, worked out once.
type hoursMemo struct {
	of      *plan.Hours
	by      plan.HourMeasure
	levels  []float64
	windows []plan.HourWindow
	note    string
}

func (hoursView) keys() []binding {
	return []binding{
		{"left h", "Left h", 0, "", "an hour earlier; in the year a week", 0, do(func(m *model) { m.hoursBy(-1, 0) })},
		{"right l", "Right l", 0, "hour or week", "an hour later; in the year a week", 5, do(func(m *model) { m.hoursBy(1, 0) })},
		{"up k", "Up k", 0, "", "ten minutes earlier; in the year an hour", 0, do(func(m *model) { m.hoursBy(0, -1) })},
		{"down j", "Down j", 0, "", "ten minutes later; in the year an hour", 0, do(func(m *model) { m.hoursBy(0, 1) })},
		{"pgup", "PgUp", 0, "", "six hours earlier; in the year four weeks", 0, do(func(m *model) { m.hoursPage(-1) })},
		{"pgdown", "PgDn", 0, "", "six hours later; in the year four weeks", 0, do(func(m *model) { m.hoursPage(1) })},
		{"home g", "Home g", 0, "", "to the card's own take-off", 0, do(func(m *model) { m.hoursHome() })},
		{"tab", "Tab", 0, "best", "to the next of the best windows", 8, do(func(m *model) { m.hoursBest(1) })},
		{"shift+tab", "Shift-Tab", 0, "", "to the window before", 0, do(func(m *model) { m.hoursBest(-1) })},
		{"enter", "Enter", 0, "take off then", "move the shot's take-off to this time; u takes it back", 10, do(func(m *model) { m.hoursMove() })},
		{"m", "m", 0, "measure", "the next measure to compare by", 9, do(func(m *model) { m.hoursMeasure(1) })},
		{"M", "M", 0, "", "the measure before", 0, do(func(m *model) { m.hoursMeasure(-1) })},
		{"y", "y", 0, "day/year", "the year by week and hour, or the day in steps of ten minutes", 7, do(func(m *model) { m.hours.over = plan.OverYear - m.hours.over })},
	}
}

// hoursWanted gives what should be worked out for the state there is.
func (m *model) hoursWanted() (w hoursWant, ok bool) {
	r := m.calc.report
	if r == nil || r.Shot == nil || m.stale() {
		return w, false
	}
	return hoursWant{m.card(), r.Shot, r.Bag, m.hours.over}, true
}

// kick starts a computation when another one is due than runs; that one is stopped.
func (hoursView) kick(m *model) tea.Cmd {
	h := &m.hours
	w, ok := m.hoursWanted()
	known := h.got[w.over] != nil && w == h.of[w.over]
	switch {
	case !ok, !h.running && known, !h.running && w == h.asked && h.failed != "":
		return nil
	case h.running && w == h.asked:
		return m.laterHoursTick()
	case h.running:
		h.stop()
	}
	if known { // back to what was worked out before
		h.running, h.asked = false, w
		h.gen++
		return nil
	}
	h.gen++
	h.running, h.asked, h.failed = true, w, ""
	h.done, h.total = new(atomic.Int64), new(atomic.Int64)
	ctx, stop := context.WithCancel(context.Background())
	h.stop = stop
	gen, done, total := h.gen, h.done, h.total
	workers := runtime.GOMAXPROCS(0)
	if w.over == plan.OverYear && workers > 1 {
		workers-- // a year takes a second or two; one core stays free for the keys
	}
	work := m.inBackground("the hours could not be worked out", func() tea.Msg {
		a := hoursAnswer{gen: gen, of: w}
		hours, err := plan.HoursOf(ctx, w.shot, w.bag, w.over, plan.HoursOptions{Workers: workers, Progress: func(d, t int) {
			done.Store(int64(d))
			total.Store(int64(t))
		}})
		switch {
		case errors.Is(err, context.Canceled):
			a.failed = "stopped"
		case err != nil:
			a.failed = "the hours could not be worked out"
			m.log(err.Error())
		default:
			a.hours = hours
		}
		return a
	}, func(said string) tea.Msg { return hoursAnswer{gen: gen, of: w, failed: said} })
	return tea.Batch(work, m.laterHoursTick())
}

// laterHoursTick makes the progress move, unless a tick is on its way.
func (m *model) laterHoursTick() tea.Cmd {
	h := &m.hours
	if h.ticking || !h.running || m.sureAfter == 0 { // nothing waits in a test without a terminal
		return nil
	}
	h.ticking = true
	return tea.Tick(hoursTickAfter, func(time.Time) tea.Msg { return hoursTick{} })
}

// take stores an answer. One that was superseded is dropped; one that failed leaves the last good one.
func (hoursView) take(m *model, msg tea.Msg) bool {
	h := &m.hours
	switch a := msg.(type) {
	case hoursTick:
		h.ticking = false
	case hoursAnswer:
		if a.gen != h.gen {
			return true
		}
		h.stop()
		h.running, h.stop = false, nil
		if h.failed = a.failed; a.hours == nil {
			m.say(a.failed)
			return true
		}
		o := a.of.over
		was := h.got[o]
		if h.of[o].card != a.of.card {
			was = nil
		}
		h.got[o], h.of[o] = a.hours, a.of
		own := a.hours.Cells[a.hours.Own].TakeOff
		if was == nil || was.Shot.Zone != a.hours.Shot.Zone || len(was.Cells) != len(a.hours.Cells) || !was.Cells[was.Own].TakeOff.Equal(own) {
			h.cursor[o] = a.hours.Own
		}
	default:
		return false
	}
	return true
}

// shownHours gives the answer for what is looked at, nil when there is none. While a changed card is
// worked out, that of the card as it was stays.
func (m *model) shownHours() *plan.Hours {
	h := &m.hours
	if m.calc.report == nil || h.of[h.over].card != m.card() {
		return nil
	}
	return h.got[h.over]
}

// looked gives what is drawn of an answer.
func (h *hoursState) looked(g *plan.Hours) *hoursMemo {
	if h.memo.of != g || h.memo.by != h.by {
		h.memo = hoursMemo{of: g, by: h.by, levels: g.Levels(h.by), windows: g.Windows(h.by), note: g.Note(h.by)}
	}
	return &h.memo
}

// hoursAt gives the cell under the cursor.
func (m *model) hoursAt(g *plan.Hours) int {
	return max(0, min(m.hours.cursor[g.Over], len(g.Cells)-1))
}

// hoursBy moves the cursor by columns and rows. From the end of an hour ten minutes later is the next one.
func (m *model) hoursBy(cols, rows int) {
	g := m.shownHours()
	if g == nil {
		return
	}
	at := m.hoursAt(g)
	col, row := at/g.Rows+cols, at%g.Rows+rows
	if g.Over == plan.OverDay && (row < 0 || row >= g.Rows) {
		next := at + rows
		if next < 0 || next >= len(g.Cells) {
			return
		}
		col, row = next/g.Rows, next%g.Rows
	}
	col, row = max(0, min(col, g.Cols-1)), max(0, min(row, g.Rows-1))
	m.hours.cursor[g.Over] = col*g.Rows + row
}

func (m *model) hoursPage(dir int) {
	if m.hours.over == plan.OverDay {
		m.hoursBy(6*dir, 0)
		return
	}
	m.hoursBy(4*dir, 0)
}

func (m *model) hoursHome() {
	if g := m.shownHours(); g != nil {
		m.hours.cursor[g.Over] = g.Own
	}
}

// hoursBest goes to the best cell of the next window, or of the one before.
func (m *model) hoursBest(dir int) {
	g := m.shownHours()
	if g == nil {
		return
	}
	list := m.hours.looked(g).windows
	if len(list) == 0 {
		m.say("no hour stands out by this measure")
		return
	}
	at := m.hoursAt(g)
	next := 0
	if dir < 0 {
		next = len(list) - 1
	}
	for i := range list {
		if list[i].Best == at {
			next = (i + dir + len(list)) % len(list)
		}
	}
	m.hours.cursor[g.Over] = list[next].Best
}

func (m *model) hoursMeasure(dir int) {
	n := plan.HourMeasures
	m.hours.by = (m.hours.by + plan.HourMeasure(dir) + n) % n
}

// hoursMove writes the time under the cursor into the card: one step of undo.
func (m *model) hoursMove() {
	g := m.shownHours()
	if g == nil || !m.mayEdit() {
		return
	}
	i := m.hoursAt(g)
	c := &g.Cells[i]
	switch {
	case c.State == plan.HourSkipped, c.State == plan.HourUnfit:
		m.say(c.StateWords(m.hours.by))
		return
	case i == g.Own:
		m.say("the card takes off then already")
		return
	}
	s := m.card()
	s.lastPath = "" // never joined with a change of the field a moment ago
	if m.setField("take_off", shot.FormatTakeOff(c.TakeOff, c.TakeOff.Location())) {
		s.lastPath = ""
		m.say("take-off moved to " + g.When(i) + "; u takes it back")
	}
}
