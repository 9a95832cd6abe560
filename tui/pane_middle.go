package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/lens"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/strips"
)

// lensPane draws the frame at the playhead, bare beside filtered.
func (s *screen) lensPane(m *model, w panel.Window) {
	cols, rows := w.Size()
	r := m.calc.report
	var at []string
	if i := m.calc.at(m.second); i >= 0 {
		mo := &r.Path[i]
		pitch := panel.Minus(fmt.Sprintf("%.0f", math.Round(mo.PitchDeg)+0))
		at = []string{
			fmt.Sprintf("%s · leg %d · %.0f° · pitch %s°", panel.FlightTime(m.second), mo.Leg+1, mo.HeadingDeg, pitch),
			fmt.Sprintf("%s · leg %d · %.0f°", panel.FlightTime(m.second), mo.Leg+1, mo.HeadingDeg),
			fmt.Sprintf("leg %d · %.0f°", mo.Leg+1, mo.HeadingDeg),
		}
		if about := m.calc.shown.About(); about != "" {
			at = []string{about + " · " + at[0], about + " · " + at[1], about + " · " + at[2], about}
		}
	}
	s.header(m, w, paneLens, at...)
	if r == nil {
		return
	}
	set := m.setHere()
	through := call.FilterName(set)
	if set.HasRing {
		through += ", " + kit.Clock(set.RingDeg)
	}
	m.calc.shown.Draw(w.Sub(0, 1, cols, rows-1), m, through)
	if m.stale() {
		w.Fade()
	}
}

// setHere returns what the call sets on the flight at the playhead.
func (m *model) setHere() *plan.Call {
	r := m.calc.report
	if i := m.calc.at(m.second); i >= 0 {
		if f := r.FlightOf(r.Path[i].Leg); f != nil {
			return &f.Set
		}
	}
	return &r.Call
}

// flightPane draws strips over flight time with the legs and the playhead.
func (s *screen) flightPane(m *model, w panel.Window) {
	cols, rows := w.Size()
	right := ""
	if m.calc.report != nil {
		right = panel.FlightTime(m.calc.length())
	}
	s.header(m, w, paneFlight, right)
	strips.Draw(w.Sub(0, 1, cols, rows-1), m, m.more[paneFlight], func(second float64) {
		m.focus = paneFlight
		m.playTo(second)
	})
	if m.stale() {
		w.Fade()
	}
}

// middle shares a column between the picture and the strips.
func (s *screen) middle(m *model, c panel.Rect) {
	two, tall := m.display.Part == plan.HalfFiltered, 9./16
	if p := m.calc.shown; p.Frame != nil {
		two, tall = two && p.Filtered, p.Tall
	}
	n := strips.Count(m.more[paneFlight])
	least := 2 + 2*n
	// One line a strip is enough where the picture needs the rest to be shown whole, unless the strips are looked at.
	if m.focus != paneFlight && !lens.Whole(c.W, c.H-1-least, tall, two) && (c.H < 19+n || lens.Whole(c.W, c.H-3-n, tall, two)) {
		least = 2 + n
	}
	picture := lens.Rows(c.W, c.H-1-least, tall, two)
	flight := max(least, 1+strips.Rows(m.calc.report, m.more[paneFlight], c.H-picture-3))
	s.panes[paneLens] = panel.Box(c.X, c.Y, c.W, c.H-flight)
	s.panes[paneFlight] = panel.Box(c.X, c.Y+c.H-flight, c.W, flight)
	s.lens = panel.Box(c.X, c.Y+1, c.W, picture)
}
