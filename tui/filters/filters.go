// Package filters is the view of the bag: every filter of it side by side on this flight, each with a small
// picture of the frame at the playhead, the chosen one argued in words, and a form to edit its fields.
//
// The one hard idea: the chosen filter is kept by its place in the bag and never by its place in the list. The
// list is ranked anew with every change of the card or of a filter's fields, and the chosen one must not change
// under the hands of who edits it.
package filters

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/measuring"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// The panes of the view.
const (
	paneAll = iota
	paneOne
	paneCount
)

// bareLens is the place in the bag of the lens without a filter.
const bareLens = -1

// View is the view of the bag. It keeps what is looked at, the last answer, and the form of a filter's fields.
type View struct {
	pane    int
	pick    int  // the chosen filter by its place in the bag, or bareLens
	moved   bool // pick is meant; before that the best
	top     int  // the first row of tiles on the screen
	scroll  int  // of the words
	gen     int  // counts computations; an answer with an older number is dropped
	running bool
	asked   want
	got     answer
	form    form
	page    measuring.Page
	filters int // how many the bag has
}

// New returns the view.
func New() *View { return &View{page: measuring.New(filterLabel)} }

// Name implements [panel.View].
func (*View) Name() string { return "Filters" }

// want is everything the view is worked out from. Two equal wants have the same answer.
type want struct {
	report *plan.Report
	second float64
	w, h   int // of a small picture, pixels
}

// answer is what a computation brings back: the filters best first, and a picture for each.
type answer struct {
	gen    int
	of     want
	list   []plan.Ranked
	pics   []cells.Picture
	finer  *finer // draws the same in true pixels
	failed string
}

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	by := func(cols, rows int) func(panel.Bench) {
		return func(b panel.Bench) { v.moveBy(b, cols, rows) }
	}
	return []panel.Key{
		panel.On("left h", "Left h", "", "to the filter on the left", 0, by(-1, 0)),
		panel.On("right l", "Right l", "choose", "to the filter on the right", 8, by(1, 0)),
		panel.On("up k", "Up k", "", "to the filter above, or scroll the words", 0, by(0, -1)),
		panel.On("down j", "Down j", "", "to the filter below, or scroll the words", 0, by(0, 1)),
		panel.On("home g", "Home g", "", "to the best filter", 0, func(panel.Bench) { v.choose(0) }),
		panel.On("end G", "End G", "", "to the last", 0, func(panel.Bench) { v.choose(1 << 20) }),
		panel.On("pgup", "PgUp", "", "scroll the words about the chosen filter up", 0, func(panel.Bench) { v.scroll = max(0, v.scroll-5) }),
		panel.On("pgdown", "PgDn", "", "scroll them down", 0, func(panel.Bench) { v.scroll += 5 }),
		panel.On("tab shift+tab", "Tab", "pane", "to the chosen filter, or back to all of them", 9, func(panel.Bench) { v.pane = paneCount - 1 - v.pane }),
		panel.On("enter", "Enter", "on the card", "write the chosen filter into the card; u takes it back", 10, v.putOnCard),
		panel.On("a", "a", "auto", "leave the filter to the program again", 7, v.leaveToProgram),
		panel.On("m", "m", "measure", "measure the chosen filter from your own pictures: what it takes, its colour, where its mark stands, its corners", 5, v.openPage),
		panel.On("e", "e", "edit", "edit the bag: the chosen filter, and from there the cameras and the settings", 6, v.openForm),
	}
}

// Kick implements [panel.View].
func (v *View) Kick(b panel.Bench) tea.Cmd {
	if v.page.IsOpen() {
		return v.page.Kick(b)
	}
	room := v.fit(b)
	w := want{report: b.BaseReport(), second: b.Second(), w: room.picW, h: 2 * room.picRows}
	if v.running || w == v.asked || w.report == nil || len(w.report.Path) == 0 {
		return nil
	}
	v.gen++
	v.running, v.asked = true, w
	gen, known := v.gen, v.got
	return b.InBackground("the filters could not be drawn", func() tea.Msg {
		a := answer{gen: gen, of: w}
		if known.of.report == w.report {
			a.list = known.list
		} else {
			a.list = w.report.Ranking()
		}
		a.pictures()
		return a
	}, func(said string) tea.Msg { return answer{gen: gen, of: w, failed: said} })
}

// pictures draws the frame at the playhead through each filter, all at the exposure of the bare frame and
// opened up by what the filter takes, as the camera would: what differs is what the filter does.
func (a *answer) pictures() {
	r, w := a.of.report, a.of
	if w.w < 2 || w.h < 2 {
		return
	}
	a.pics = make([]cells.Picture, len(a.list))
	var scenes light.Scenes // one for all of them
	for i := range a.list {
		rgb, err := through(r, &a.list[i], plan.FrameOptions{Second: w.second, W: w.w, H: w.h, Scenes: &scenes})
		if err != nil {
			a.failed = err.Error()
			return
		}
		a.pics[i].Develop(w.w, w.h, rgb)
	}
	a.finer = &finer{w, a.list}
}

// through draws the frame through a filter as it is ranked.
func through(r *plan.Report, k *plan.Ranked, o plan.FrameOptions) ([]uint8, error) {
	o.Filter, o.Setting, o.Ring = k.Filter, k.SettingStops, math.NaN()
	if k.HasRing {
		o.Ring = k.RingDeg
	}
	frame, err := r.Frame(o)
	if err != nil {
		return nil, err
	}
	d, err := r.Development(o, frame, plan.OneExposure, plan.AllFiltered)
	if err != nil {
		return nil, err
	}
	rgb := frame.Develop(d, nil)
	frame.Spend()
	return rgb, nil
}

// Take implements [panel.View]. An answer that failed leaves the last good one standing.
func (v *View) Take(b panel.Bench, msg tea.Msg) bool {
	a, ok := msg.(answer)
	if !ok {
		return v.page.Take(b, msg)
	}
	if a.gen != v.gen {
		return true
	}
	v.running = false
	if a.failed != "" {
		b.Say(a.failed)
		return true
	}
	v.got = a
	return true
}

// Hide implements [panel.View].
func (*View) Hide() {}

// fit shares the view's room out for the tiles there are.
func (v *View) fit(k panel.Known) room {
	in, _ := v.rooms(k)
	return fit(in, v.pane, v.count(k), shape(k))
}

// count returns how many tiles there are.
func (v *View) count(k panel.Known) int {
	if n := len(v.got.list); n > 0 {
		return n
	}
	if b := k.Bag(); b != nil {
		return len(b.Filters) + 1
	}
	return 1
}

// shape returns the height of the frame at the playhead over its width.
func shape(k panel.Known) float64 {
	r := k.BaseReport()
	if r == nil || len(r.Path) == 0 {
		return 9. / 16
	}
	return r.FrameShape(k.Second())
}

// at returns the place of the chosen filter in the list, −1 when there is no list.
func (v *View) at() int {
	if len(v.got.list) == 0 {
		return -1
	}
	if !v.moved {
		return 0
	}
	for i := range v.got.list {
		if v.bagIndex(v.got.list[i].Filter) == v.pick {
			return i
		}
	}
	return 0
}

// bagIndex returns where a filter stands in the bag that the list is of; bareLens for none.
func (v *View) bagIndex(name string) int {
	for i, flt := range v.got.of.report.Bag.Filters {
		if flt.Name == name {
			return i
		}
	}
	return bareLens
}

// choose goes to a filter by its place in the list.
func (v *View) choose(at int) {
	if n := len(v.got.list); n > 0 {
		at = max(0, min(at, n-1))
		v.pick, v.moved, v.scroll = v.bagIndex(v.got.list[at].Filter), true, 0
	}
}

// moveBy goes by tiles; with the words in focus up and down scroll them.
func (v *View) moveBy(k panel.Known, cols, rows int) {
	at := v.at()
	if at < 0 {
		return
	}
	if v.pane == paneOne && rows != 0 {
		v.scroll = max(0, v.scroll+rows)
		return
	}
	next := at + cols + rows*max(1, v.fit(k).across)
	if next < 0 || next >= len(v.got.list) {
		return
	}
	v.choose(next)
}

// putOnCard writes the chosen filter into the card: one step of undo. A ring that the card has for another
// filter is left to the program, as it would be wrong for this one.
func (v *View) putOnCard(b panel.Bench) {
	at := v.at()
	if at < 0 || !b.MayEditCard() {
		return
	}
	k := &v.got.list[at]
	title := words.FilterTitle(k.Filter, 0)
	if b.CardText("filter") == k.Filter {
		b.Say("the card has " + title + " already")
		return
	}
	if !write(b, k.Filter) {
		return
	}
	v.pick, v.moved = v.bagIndex(k.Filter), true
	text := title + " is on the card; a leaves it to the program again"
	if !k.Feasible {
		text = title + " is on the card, though it cannot be flown here; u takes it back"
	}
	b.Say(text)
}

func (v *View) leaveToProgram(b panel.Bench) {
	if !b.MayEditCard() {
		return
	}
	if t := b.CardText("filter"); t == "" || t == "auto" {
		b.Say("the filter is the program's choice already")
		return
	}
	if write(b, "auto") {
		b.Say("the filter is the program's choice again")
	}
}

// write puts a filter on the card.
func write(b panel.Bench, filter string) bool {
	changes := []panel.Change{{Path: "filter", Text: filter}}
	if t := b.CardText("ring_deg"); t != "" && t != "auto" {
		changes = append(changes, panel.Change{Path: "ring_deg", Text: "auto"})
	}
	return b.SetCard(changes...)
}
