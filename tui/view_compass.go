package tui

import (
	"fmt"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// The panes of the compass, in the order of Tab.
const (
	compassSky = iota
	compassRose
	compassAbove
	compassPanes
)

var compassTitle = [compassPanes]string{"The sky as a map", "Effect by heading", "The flight from above"}

var compassShort = [compassPanes]string{"Sky", "Heading", "From above"}

// compassView is the view of directions: the sky as a map, the effect against heading, the flight from
// above.
type compassView struct{}

// The views are there before the table of keys is made, which is in an init.
var _ = func() bool { views[viewCompass] = compassView{}; return true }()

func (compassView) name() string { return "Compass" }

// compassState is what the compass keeps: what is looked at, and the last answer.
type compassState struct {
	pane    int
	effect  bool // the map shows the effect of the ring in use instead of the degree of polarisation
	running bool
	asked   compassWant
	got     compassAnswer
}

// compassWant is everything the compass is worked out from. Two equal wants have the same answer.
type compassWant struct {
	report *plan.Report
	second float64
	n      int // the map's size, pixels
	effect bool
}

// compassAnswer is what a computation brings back.
type compassAnswer struct {
	of     compassWant
	sky    *compass.SkyMap
	pic    cells.Picture
	track  compass.SunTrack
	prints []compass.Footprint // two a leg
	here   compass.Footprint   // of the playhead
	rose   *compass.Rose
	above  *compass.Above
	failed string
}

func (compassView) keys() []binding {
	return []binding{
		{"tab", "Tab", 0, "pane", "to the next pane", 9, do(func(m *model) { m.compass.pane = (m.compass.pane + 1) % compassPanes })},
		{"shift+tab", "Shift-Tab", 0, "", "to the pane before", 0, do(func(m *model) { m.compass.pane = (m.compass.pane + compassPanes - 1) % compassPanes })},
		{"m", "m", 0, "map", "the map shows how polarised the sky is, or what the ring in use does to it", 7, do(func(m *model) { m.compass.effect = !m.compass.effect })},
	}
}

// kick starts a computation unless one is running or nothing changed.
func (compassView) kick(m *model) tea.Cmd {
	c := &m.compass
	w := compassWant{report: m.calc.report, second: m.second, n: compassFit(&m.screen, c.pane).n, effect: c.effect}
	if c.running || w == c.asked || w.report == nil || len(w.report.Path) == 0 {
		return nil
	}
	c.running, c.asked = true, w
	profile, known := m.screen.pen.Profile, c.got
	return m.inBackground("the compass could not be worked out", func() tea.Msg {
		a := compassAnswer{of: w}
		a.work(&known, profile)
		return a
	}, func(said string) tea.Msg { return compassAnswer{of: w, failed: said} })
}

// work fills an answer. What the one before already knows is taken from it.
func (a *compassAnswer) work(known *compassAnswer, profile cells.Profile) {
	w, r := a.of, a.of.report
	if known.of.report == r && known.above != nil {
		a.track, a.prints, a.above = known.track, known.prints, known.above
	} else {
		a.track, a.prints, a.above = compass.SunTrackOf(r), compass.Footprints(r), compass.FromAbove(r)
	}
	if known.of.report == r && known.of.second == w.second && known.rose != nil {
		a.rose, a.here = known.rose, known.here
	} else {
		a.rose, a.here = compass.RoseAt(r, w.second, 5), compass.FootprintAt(r, w.second)
	}
	if w.n < 2 {
		return
	}
	a.sky = compass.SkyMapAt(r, w.second, w.n)
	paintSky(&a.pic, a.sky, w.effect, profile)
	a.outlines(profile)
}

// take stores an answer. One that failed leaves the last good one standing.
func (compassView) take(m *model, msg tea.Msg) bool {
	a, ok := msg.(compassAnswer)
	if !ok {
		return false
	}
	m.compass.running = false
	if a.failed != "" {
		m.say(a.failed)
		return true
	}
	m.compass.got = a
	return true
}

// compassRoom is where everything stands in the view's room, relative to it.
type compassRoom struct {
	panes [compassPanes]rect // empty: not shown
	tabs  bool               // only one pane fits, a line names them all
	n     int                // the map's size, pixels; 0 when it is not shown
	wordy int                // lines under the map
	aside bool               // its words stand beside the map instead
}

// compassFit shares the room out. It depends on the window and on the pane with the focus alone.
func compassFit(s *screen, pane int) compassRoom {
	var c compassRoom
	cols, rows := s.body.w, s.body.h
	if s.kind == tooSmall || cols < 20 || rows < 8 {
		return c
	}
	if s.kind == onePane {
		c.tabs = true
		c.panes[pane] = rect{0, 1, cols, rows - 1}
		if pane == compassSky {
			c.n = min(2*(rows-3), cols-6) &^ 1
			c.aside = cols-c.n-6 >= 18
		}
		return c
	}
	c.wordy = 3
	if rows < 24 {
		c.wordy = 2
	}
	const gutter = 2
	// The map is round: its height decides, but the other panes keep their share of the width.
	c.n = max(8, min(2*(rows-3-c.wordy), cols*11/20-6)) &^ 1
	left := max(36, c.n+6)
	right := rect{left + gutter, 0, cols - left - gutter, rows}
	c.panes[compassSky] = rect{0, 0, left, min(rows, c.n/2+3+c.wordy)}
	if rows < 26 {
		if pane == compassAbove {
			c.panes[compassAbove] = right
		} else {
			c.panes[compassRose] = right
		}
		return c
	}
	rose := min(max(15, rows*2/5), 22)
	c.panes[compassRose] = rect{right.x, 0, right.w, rose}
	c.panes[compassAbove] = rect{right.x, rose, right.w, rows - rose}
	return c
}

func (compassView) draw(s *screen, m *model, w cells.Window) {
	c := &m.compass
	room := compassFit(s, c.pane)
	x0, y0 := w.Origin()
	if room.tabs {
		s.paneTabs(w, compassShort[:], c.pane, func(m *model, p int) { m.compass.pane = p })
	}
	for p, r := range room.panes {
		if r.empty() {
			continue
		}
		s.hit(rect{x0 + r.x, y0 + r.y, r.w, r.h}, func(m *model, _, _ int) { m.compass.pane = p })
		in := w.Sub(r.x, r.y, r.w, r.h)
		if !room.tabs {
			paneHead(in, c.pane == p, compassTitle[p], m.compassAt(p)...)
			in = in.Sub(0, 1, r.w, r.h-1)
		}
		if c.got.rose == nil || m.calc.report == nil {
			in.Text(0, 0, "nothing worked out yet", dim)
			continue
		}
		switch p {
		case compassSky:
			s.skyMap(m, in, &room)
		case compassRose:
			s.rose(m, in)
		case compassAbove:
			s.fromAbove(m, in)
		}
	}
	if m.stale() {
		w.Fade()
	}
}

// compassAt says at the right of a pane's title what it is about, the fullest first.
func (m *model) compassAt(p int) []string {
	i := m.calc.at(m.second)
	if i < 0 {
		return nil
	}
	mo := &m.calc.report.Path[i]
	switch p {
	case compassSky:
		return []string{"N up, E right"}
	case compassRose:
		pitch := minus(fmt.Sprintf("%.0f", mo.PitchDeg))
		return []string{fmt.Sprintf("leg %d, pitch %s°", mo.Leg+1, pitch), fmt.Sprintf("leg %d", mo.Leg+1)}
	}
	return []string{fmt.Sprintf("%s · leg %d", clock(m.second), mo.Leg+1)}
}
