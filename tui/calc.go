package tui

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/fields"
	"example.org/skywedge/tui/lens"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// want is everything a computation depends on. Two equal wants have the same answer.
type want struct {
	scenes *light.Scenes // the light of the last pictures, kept while a ring or a heading is tried
	kept   *plan.Kept    // what the last flight found, for one that is a little different
	card   *shot.Card
	bag    *kit.Bag
	lens   lens.Ask
}

// calc is the computation of the flight: what was asked for, what runs, what came back.
type calc struct {
	scenes  *light.Scenes
	kept    *plan.Kept
	running bool
	asked   want // of the running or last computation
	gen     int  // counts computations; an answer with an older number is dropped

	report *plan.Report
	base   *plan.Report // the same before its sureness was known
	solved *shot.Card   // the card that report belongs to
	sure   sureness
	faults field.Faults
	shown  lens.Shown // the picture of the last answer that has one
	failed string     // a computation broke down: what it said
}

// answer is what a computation brings back.
type answer struct {
	gen    int
	of     want
	report *plan.Report
	faults field.Faults
	shown  *lens.Shown
	failed string
}

// kick starts a computation unless one is running or nothing changed. It is called after every
// message, so the newest state is computed next and the ones between are skipped.
func (m *model) kick() tea.Cmd {
	c := &m.calc
	w := m.wanted()
	if c.running || w.card == nil || w == c.asked {
		return nil
	}
	c.running, c.asked = true, w
	c.gen++
	var known *plan.Report
	if c.solved == w.card && c.base != nil && c.base.Bag == w.bag {
		known = c.base
	}
	gen, now := c.gen, m.opt.Now()
	return m.inBackground("the computation failed", func() tea.Msg {
		a := answer{gen: gen, of: w, report: known}
		if known == nil {
			var shot *shot.Shot
			shot, a.faults = w.card.Shot(w.bag, now)
			if len(a.faults) > 0 || shot == nil {
				return a
			}
			a.report = plan.Solve(shot, w.bag, plan.Options{SkipSureness: true, Kept: w.kept})
		}
		a.draw(w)
		return a
	}, func(said string) tea.Msg { return answer{gen: gen, of: w, failed: said} })
}

// draw makes the picture through the lens in the room there is.
func (a *answer) draw(w want) {
	shown, err := lens.Draw(a.report, w.lens, w.scenes)
	if err != nil {
		a.failed = err.Error()
		return
	}
	a.shown = shown
}

// take stores an answer.
func (c *calc) take(a answer) {
	if a.gen != c.gen {
		return
	}
	c.running = false
	c.failed = a.failed
	c.faults = a.faults
	if a.report == nil {
		return // the last good answer stays, dimmed
	}
	if a.report != c.base {
		c.report, c.base, c.sure.known = a.report, a.report, false
	}
	c.solved = a.of.card
	if a.shown != nil && a.shown.Frame != nil {
		c.shown = *a.shown
	}
}

// stale tells whether the answer on the screen is that of an earlier card, because the present one
// has none. While the present one is being computed it is not: dimming for ten milliseconds would
// only flicker.
func (m *model) stale() bool {
	return m.calc.report != nil && (len(m.calc.faults) > 0 || m.calc.failed != "" || m.edit.on && m.edit.fault != "")
}

// forget drops everything when another card is shown. What a computation that still runs keeps its light in is left
// to it.
func (c *calc) forget() {
	*c = calc{scenes: new(light.Scenes), kept: c.kept, gen: c.gen, running: c.running, asked: want{}, sure: sureness{running: c.sure.running}}
}

// length returns the flight time of the last answer, seconds.
func (c *calc) length() float64 {
	if c.report == nil || len(c.report.Path) == 0 {
		return 0
	}
	return c.report.Path[len(c.report.Path)-1].FlightS
}

// at returns the index of the moment nearest to a second of the flight, −1 without an answer.
func (c *calc) at(second float64) int {
	if c.report == nil {
		return -1
	}
	return c.report.IndexAt(second)
}

// callState returns what there is to say about the card on the screen.
func (m *model) callState() *call.State {
	c, doc := &m.calc, m.card()
	s := &call.State{
		Report: c.report, Sure: call.Sureness{Known: c.sure.known, Word: c.sure.word, Why: c.sure.why},
		Leg: m.legHere(), Faults: c.faults, Failed: c.failed, Stale: m.stale(), Count: m.countdown(), Whole: m.wholeKey(),
	}
	if doc.current == nil {
		s.Faults, s.Unread = doc.wrong, true
	} else {
		s.Ask = func(f field.Fault) string { return doc.current.Ask(f, fields.Label) }
	}
	return s
}

// legHere returns the leg at the playhead.
func (m *model) legHere() int {
	if i := m.calc.at(m.second); i >= 0 {
		return m.calc.report.Path[i].Leg
	}
	return 0
}

// callPane draws what is recommended and why. It scrolls.
func (s *screen) callPane(m *model, w panel.Window) {
	cols, rows := w.Size()
	from, far := call.Draw(w.Sub(0, 1, cols, rows-1), m.callState(), m.scroll[paneCall])
	m.scroll[paneCall] = from
	s.header(m, w, paneCall, far)
}

func (m *model) scrollCall(by int) { m.scroll[paneCall] = max(0, m.scroll[paneCall]+by) }
