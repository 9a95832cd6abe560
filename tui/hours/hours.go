// Package hours is the view of times: the same shot over its day or its year as a heat picture, with the best
// windows in words. A cell can be picked to move the shot there.
//
// The one hard idea: a year takes seconds on all cores, so at most one computation runs, and it is worth
// having only while somebody looks at the card it is of. A newer one stops it, and so does leaving the view;
// whatever a stopped one still brings carries an old number and is dropped.
package hours

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// View is the view of times. The day and the year have their answers and cursors apart.
type View struct {
	over    hours.Span
	by      hours.Measure
	cursor  [2]int
	got     [2]*hours.Hours
	of      [2]want // what the answers belong to
	asked   want    // of the running or last computation
	gen     int     // counts computations; an answer with an older number is dropped
	running bool
	stop    context.CancelFunc
	done    *atomic.Int64 // hours done, of total
	total   *atomic.Int64
	ticking bool
	failed  string
	memo    memo
}

// New returns the view.
func New() *View { return &View{} }

// want is everything an answer depends on. Two equal wants have the same answer.
type want struct {
	card any // the one that is open
	shot *shot.Shot
	bag  *kit.Bag
	over hours.Span
}

// answer is what a computation brings back.
type answer struct {
	gen    int
	of     want
	hours  *hours.Hours
	failed string
}

// tick says that it is time to look how far the computation is.
type tick struct{}

// tickAfter is how often that is.
const tickAfter = 120 * time.Millisecond

// memo is what is drawn of an answer by a measure, worked out once.
type memo struct {
	of      *hours.Hours
	by      hours.Measure
	levels  []float64
	windows []hours.Window
	note    string
}

// Name implements [panel.View].
func (*View) Name() string { return "Hours" }

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	by := func(cols, rows int) func(panel.Bench) {
		return func(b panel.Bench) { v.moveBy(b, cols, rows) }
	}
	page := func(dir int) func(panel.Bench) { return func(b panel.Bench) { v.page(b, dir) } }
	best := func(dir int) func(panel.Bench) { return func(b panel.Bench) { v.toBest(b, dir) } }
	measure := func(dir int) func(panel.Bench) { return func(panel.Bench) { v.nextMeasure(dir) } }
	return []panel.Key{
		panel.On("left h", "Left h", "", "an hour earlier; in the year a week", 0, by(-1, 0)),
		panel.On("right l", "Right l", "hour or week", "an hour later; in the year a week", 5, by(1, 0)),
		panel.On("up k", "Up k", "", "ten minutes earlier; in the year an hour", 0, by(0, -1)),
		panel.On("down j", "Down j", "", "ten minutes later; in the year an hour", 0, by(0, 1)),
		panel.On("pgup", "PgUp", "", "six hours earlier; in the year four weeks", 0, page(-1)),
		panel.On("pgdown", "PgDn", "", "six hours later; in the year four weeks", 0, page(1)),
		panel.On("home g", "Home g", "", "to the card's own take-off", 0, func(b panel.Bench) { v.home(b) }),
		panel.On("tab", "Tab", "best", "to the next of the best windows", 8, best(1)),
		panel.On("shift+tab", "Shift-Tab", "", "to the window before", 0, best(-1)),
		panel.On("enter", "Enter", "take off then", "move the shot's take-off to this time; u takes it back", 10, v.takeOffThen),
		panel.On("m", "m", "measure", "the next measure to compare by", 9, measure(1)),
		panel.On("M", "M", "", "the measure before", 0, measure(-1)),
		panel.On("y", "y", "day/year", "the year by week and hour, or the day in steps of ten minutes", 7, func(panel.Bench) { v.over = hours.OverYear - v.over }),
	}
}

// wanted returns what should be worked out for the state there is.
func (v *View) wanted(k panel.Known) (w want, ok bool) {
	r := k.Report()
	if r == nil || r.Shot == nil || k.Stale() {
		return w, false
	}
	return want{k.CardKey(), r.Shot, r.Bag, v.over}, true
}

// Kick implements [panel.View]. When another computation is due than runs, that one is stopped.
func (v *View) Kick(b panel.Bench) tea.Cmd {
	w, ok := v.wanted(b)
	known := v.got[w.over] != nil && w == v.of[w.over]
	switch {
	case !ok, !v.running && known, !v.running && w == v.asked && v.failed != "":
		return nil
	case v.running && w == v.asked:
		return v.laterTick(b)
	case v.running:
		v.stop()
	}
	if known { // back to what was worked out before
		v.running, v.asked = false, w
		v.gen++
		return nil
	}
	v.gen++
	v.running, v.asked, v.failed = true, w, ""
	v.done, v.total = new(atomic.Int64), new(atomic.Int64)
	ctx, stop := context.WithCancel(context.Background())
	v.stop = stop
	gen, done, total := v.gen, v.done, v.total
	workers := runtime.GOMAXPROCS(0)
	if w.over == hours.OverYear && workers > 1 {
		workers-- // a year takes a second or two; one core stays free for the keys
	}
	work := b.InBackground("the hours could not be worked out", func() tea.Msg {
		a := answer{gen: gen, of: w}
		hours, err := plan.HoursOf(ctx, w.shot, w.bag, w.over, plan.HoursOptions{Workers: workers, Progress: func(d, t int) {
			done.Store(int64(d))
			total.Store(int64(t))
		}})
		switch {
		case errors.Is(err, context.Canceled):
			a.failed = "stopped"
		case err != nil:
			a.failed = "the hours could not be worked out"
			b.Log(err.Error())
		default:
			a.hours = hours
		}
		return a
	}, func(said string) tea.Msg { return answer{gen: gen, of: w, failed: said} })
	return tea.Batch(work, v.laterTick(b))
}

// laterTick makes the progress move, unless a tick is on its way.
func (v *View) laterTick(b panel.Bench) tea.Cmd {
	if v.ticking || !v.running {
		return nil
	}
	cmd := b.Later(tickAfter, tick{})
	v.ticking = cmd != nil
	return cmd
}

// Take implements [panel.View]. An answer that was superseded is dropped; one that failed leaves the last good
// one.
func (v *View) Take(b panel.Bench, msg tea.Msg) bool {
	switch a := msg.(type) {
	case tick:
		v.ticking = false
	case answer:
		if a.gen == v.gen {
			v.store(b, &a)
		}
	default:
		return false
	}
	return true
}

// store keeps the answer of the running computation. The cursor stays where it is, unless the card's own time
// or the times that are compared have changed.
func (v *View) store(b panel.Bench, a *answer) {
	v.stop()
	v.running, v.stop = false, nil
	if v.failed = a.failed; a.hours == nil {
		b.Say(a.failed)
		return
	}
	o := a.of.over
	was := v.got[o]
	if v.of[o].card != a.of.card {
		was = nil
	}
	v.got[o], v.of[o] = a.hours, a.of
	own := a.hours.Cells[a.hours.Own].TakeOff
	if was == nil || was.Shot.Zone != a.hours.Shot.Zone || len(was.Cells) != len(a.hours.Cells) || !was.Cells[was.Own].TakeOff.Equal(own) {
		v.cursor[o] = a.hours.Own
	}
}

// Hide implements [panel.View]. What runs is stopped; it begins anew when the view is shown again.
func (v *View) Hide() {
	if !v.running {
		return
	}
	v.stop()
	v.running, v.stop, v.asked = false, nil, want{}
	v.gen++
}

// shown returns the answer for what is looked at, nil when there is none. While a changed card is worked out,
// that of the card as it was stays.
func (v *View) shown(k panel.Known) *hours.Hours {
	if k.Report() == nil || v.of[v.over].card != k.CardKey() {
		return nil
	}
	return v.got[v.over]
}

// memoOf returns what is drawn of an answer.
func (v *View) memoOf(g *hours.Hours) *memo {
	if v.memo.of != g || v.memo.by != v.by {
		v.memo = memo{of: g, by: v.by, levels: g.Levels(v.by), windows: g.Windows(v.by), note: g.Note(v.by)}
	}
	return &v.memo
}

// at returns the cell under the cursor.
func (v *View) at(g *hours.Hours) int {
	return max(0, min(v.cursor[g.Over], len(g.Cells)-1))
}

// moveBy moves the cursor by columns and rows. From the end of an hour ten minutes later is the next one.
func (v *View) moveBy(k panel.Known, cols, rows int) {
	g := v.shown(k)
	if g == nil {
		return
	}
	at := v.at(g)
	col, row := at/g.Rows+cols, at%g.Rows+rows
	if g.Over == hours.OverDay && (row < 0 || row >= g.Rows) {
		next := at + rows
		if next < 0 || next >= len(g.Cells) {
			return
		}
		col, row = next/g.Rows, next%g.Rows
	}
	col, row = max(0, min(col, g.Cols-1)), max(0, min(row, g.Rows-1))
	v.cursor[g.Over] = col*g.Rows + row
}

func (v *View) page(k panel.Known, dir int) {
	if v.over == hours.OverDay {
		v.moveBy(k, 6*dir, 0)
		return
	}
	v.moveBy(k, 4*dir, 0)
}

func (v *View) home(k panel.Known) {
	if g := v.shown(k); g != nil {
		v.cursor[g.Over] = g.Own
	}
}

// toBest goes to the best cell of the next window, or of the one before.
func (v *View) toBest(b panel.Bench, dir int) {
	g := v.shown(b)
	if g == nil {
		return
	}
	list := v.memoOf(g).windows
	if len(list) == 0 {
		b.Say("no hour stands out by this measure")
		return
	}
	at := v.at(g)
	next := 0
	if dir < 0 {
		next = len(list) - 1
	}
	for i := range list {
		if list[i].Best == at {
			next = (i + dir + len(list)) % len(list)
		}
	}
	v.cursor[g.Over] = list[next].Best
}

func (v *View) nextMeasure(dir int) {
	n := hours.Measures
	v.by = (v.by + hours.Measure(dir) + n) % n
}

// takeOffThen writes the time under the cursor into the card: one step of undo.
func (v *View) takeOffThen(b panel.Bench) {
	g := v.shown(b)
	if g == nil || !b.MayEditCard() {
		return
	}
	i := v.at(g)
	c := &g.Cells[i]
	switch {
	case c.State == hours.Skipped, c.State == hours.Unfit:
		b.Say(c.StateWords(v.by))
		return
	case i == g.Own:
		b.Say("the card takes off then already")
		return
	}
	if b.SetCard(panel.Change{Path: "take_off", Text: shot.FormatTakeOff(c.TakeOff, c.TakeOff.Location())}) {
		b.Say("take-off moved to " + g.When(i) + "; u takes it back")
	}
}
