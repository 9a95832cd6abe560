// Package compass is the view of directions: the sky as a map, the effect of the ring by heading, the flight seen
// from above.
//
// The one hard idea: all three panes are drawn from one answer, worked out in the background and never changed
// afterwards. What one change does not touch (the flight from above when only the playhead moves, the rose when
// only the map changes) is taken over from the answer before, so that a step of the playhead stays quick. A map
// of cells is twice as fine across as down; everything on it is placed by the map's own projection.
package compass

import (
	"fmt"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// The panes, in the order of Tab.
const (
	paneSky = iota
	paneRose
	paneAbove
	paneCount
)

var paneTitle = [paneCount]string{"The sky as a map", "Effect by heading", "The flight from above"}

var paneShort = [paneCount]string{"Sky", "Heading", "From above"}

// View is the view of directions. It keeps what is looked at, and the last answer.
type View struct {
	pane    int
	effect  bool // the map shows the effect of the ring in use instead of the degree of polarisation
	running bool
	asked   want
	got     answer
}

// New returns the view.
func New() *View { return &View{} }

// Name implements [panel.View].
func (*View) Name() string { return "Compass" }

// want is everything the compass is worked out from. Two equal wants have the same answer.
type want struct {
	report *plan.Report
	base   *plan.Report // the same before its sureness was known
	second float64
	n      int // the map's size, pixels
	effect bool
	pixels bool // a true picture is laid over the map
}

// answer is what a computation brings back.
type answer struct {
	of     want
	sky    *compass.SkyMap
	pic    cells.Picture
	track  compass.SunTrack
	prints []compass.Footprint // two a leg
	here   compass.Footprint   // of the playhead
	rose   *compass.Rose
	above  *compass.Above
	failed string
}

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	to := func(by int) func(panel.Bench) {
		return func(panel.Bench) { v.pane = (v.pane + by + paneCount) % paneCount }
	}
	return []panel.Key{
		panel.On("tab", "Tab", "pane", "to the next pane", 9, to(1)),
		panel.On("shift+tab", "Shift-Tab", "", "to the pane before", 0, to(-1)),
		panel.On("m", "m", "map", "the map shows how polarised the sky is, or what the ring in use does to it", 7, func(panel.Bench) { v.effect = !v.effect }),
	}
}

// Kick implements [panel.View].
func (v *View) Kick(b panel.Bench) tea.Cmd {
	w := want{report: b.Report(), base: b.BaseReport(), second: b.Second(), n: fit(b.Room(), v.pane).n, effect: v.effect, pixels: b.Pen().Pixels}
	if v.running || w == v.asked || w.report == nil || len(w.report.Path) == 0 {
		return nil
	}
	v.running, v.asked = true, w
	profile, known := b.Pen().Profile, v.got
	return b.InBackground("the compass could not be worked out", func() tea.Msg {
		a := answer{of: w}
		a.work(&known, profile)
		return a
	}, func(said string) tea.Msg { return answer{of: w, failed: said} })
}

// work fills an answer. What the one before already knows is taken from it.
func (a *answer) work(known *answer, profile cells.Profile) {
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
	paintSky(&a.pic, a.sky, w.effect, profile, w.pixels)
	a.outlines()
}

// Take implements [panel.View]. An answer that failed leaves the last good one standing.
func (v *View) Take(b panel.Bench, msg tea.Msg) bool {
	a, ok := msg.(answer)
	if !ok {
		return false
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

// room is where everything stands in the view's room, relative to it.
type room struct {
	panes [paneCount]panel.Rect // empty: not shown
	tabs  bool                  // only one pane fits, a line names them all
	n     int                   // the map's size, pixels; 0 when it is not shown
	wordy int                   // lines under the map
	aside bool                  // its words stand beside the map instead
}

// fit shares the room out. It depends on the window and on the pane with the focus alone.
func fit(in panel.Room, pane int) room {
	var c room
	cols, rows := in.Cols, in.Rows
	if in.Kind == panel.TooSmall || cols < 20 || rows < 8 {
		return c
	}
	if in.Kind == panel.OnePane {
		c.tabs = true
		c.panes[pane] = panel.Box(0, 1, cols, rows-1)
		if pane == paneSky {
			c.n = min(2*(rows-3), cols-6) &^ 1
			c.aside = cols-c.n-6 >= 18
		}
		return c
	}
	c.wordy = 4
	if rows < 24 {
		c.wordy = 2
	}
	const gutter = 2
	// The map is round: its height decides, but the other panes keep their share of the width.
	c.n = max(8, min(2*(rows-3-c.wordy), cols*11/20-6)) &^ 1
	left := max(36, c.n+6)
	right := panel.Box(left+gutter, 0, cols-left-gutter, rows)
	c.panes[paneSky] = panel.Box(0, 0, left, min(rows, c.n/2+3+c.wordy))
	if rows < 26 {
		if pane == paneAbove {
			c.panes[paneAbove] = right
		} else {
			c.panes[paneRose] = right
		}
		return c
	}
	rose := min(max(15, rows*2/5), 22)
	c.panes[paneRose] = panel.Box(right.X, 0, right.W, rose)
	c.panes[paneAbove] = panel.Box(right.X, rose, right.W, rows-rose)
	return c
}

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	room := fit(k.Room(), v.pane)
	if room.tabs {
		panel.Tabs(w, paneShort[:], v.pane, func(p int) { v.pane = p })
	}
	for p, r := range room.panes {
		if r.Empty() {
			continue
		}
		w.OnClick(r, func(panel.Bench, int, int) { v.pane = p })
		in := w.In(r)
		if !room.tabs {
			panel.Head(in, v.pane == p, paneTitle[p], about(k, p)...)
			in = in.Sub(0, 1, r.W, r.H-1)
		}
		if v.got.rose == nil || k.Report() == nil {
			in.Text(0, 0, "nothing worked out yet", panel.Dim)
			continue
		}
		switch p {
		case paneSky:
			v.got.skyMap(in, &room)
		case paneRose:
			v.got.drawRose(in)
		case paneAbove:
			v.got.fromAbove(in)
		}
	}
	if k.Stale() {
		w.Fade()
	}
}

// about says at the right of a pane's title what it is of, the fullest first.
func about(k panel.Known, pane int) []string {
	r := k.Report()
	if r == nil || r.IndexAt(k.Second()) < 0 {
		return nil
	}
	mo := &r.Path[r.IndexAt(k.Second())]
	switch pane {
	case paneSky:
		return []string{"N up, E right"}
	case paneRose:
		pitch := panel.Minus(fmt.Sprintf("%.0f", mo.PitchDeg))
		return []string{fmt.Sprintf("leg %d, pitch %s°", mo.Leg+1, pitch), fmt.Sprintf("leg %d", mo.Leg+1)}
	}
	return []string{fmt.Sprintf("%s · leg %d", panel.FlightTime(k.Second()), mo.Leg+1)}
}
