package tui

import (
	"fmt"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/compass"
	"example.org/skywedge/tui/filters"
	"example.org/skywedge/tui/hours"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/trip"
	"example.org/skywedge/tui/walk"
)

// The views, by the digits that show them. View 1, the shot, is made of the panes; each other one
// has the room between the answer and the last lines for itself.
const (
	viewShot = iota
	viewCompass
	viewFilters
	viewHours
	viewWalk
	viewTrip
	viewCount
)

// viewSet is the views from the second on; a missing one has no digit.
type viewSet struct {
	all     [viewCount]panel.View
	filters *filters.View // the same as in all: its form has keys of its own
	walk    *walk.View    // and this: it knows whether a leg is flown
}

func newViews() viewSet {
	f, w := filters.New(), walk.New()
	return viewSet{filters: f, walk: w, all: [viewCount]panel.View{
		viewCompass: compass.New(), viewFilters: f, viewHours: hours.New(), viewWalk: w, viewTrip: trip.New(),
	}}
}

// name returns what a view is called.
func (vs *viewSet) name(v int) string {
	if v == viewShot {
		return "Shot"
	}
	return vs.all[v].Name()
}

// existing lists the views that have a digit.
func (vs *viewSet) existing() []int {
	out := []int{viewShot}
	for v := range vs.all {
		if vs.all[v] != nil {
			out = append(out, v)
		}
	}
	return out
}

// show changes the view. What is being typed stays in its field.
func (m *model) show(v int) {
	if v != viewShot && m.views.all[v] == nil {
		return
	}
	if was := m.views.all[m.view]; was != nil && v != m.view {
		was.Hide()
	}
	m.view = v
	m.say("")
	m.clampCursors()
}

// lower makes the first letter small.
func lower(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}

// viewLine names the views where there is a line for it.
func (s *screen) viewLine(m *model, w panel.Window) {
	x := 1
	for _, v := range m.views.existing() {
		from, style := x, panel.Dim
		mark := "  "
		if v == m.view {
			mark, style = "▸ ", panel.Accent
		}
		x = w.Text(x, 0, mark, panel.Accent)
		x = w.Text(x, 0, fmt.Sprint(v+1), cells.Style{Fg: cells.Accent})
		x = w.Text(x+1, 0, m.views.name(v), style) + 1
		w.OnClick(panel.Box(from, 0, x-from, 1), func(panel.Bench, int, int) { m.show(v) })
	}
}
