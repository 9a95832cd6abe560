package tui

import (
	"fmt"

	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
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

// view is one of the others. It keeps its state in the model.
type view interface {
	// name is the word for it in the line of views and in the list of keys.
	name() string
	// keys are the rows of the key table that work in it, without those that work everywhere; where is
	// filled in.
	keys() []binding
	// draw draws it from what is known; nothing is computed here.
	draw(s *screen, m *model, w cells.Window)
	// kick starts the work that is due for the state there is, nil when none is or when it runs. It is
	// asked after every message while the view is shown.
	kick(m *model) tea.Cmd
	// take stores an answer of its work and tells whether the message was one.
	take(m *model, msg tea.Msg) bool
}

// views are those that exist; a missing one has no digit. View 1 is not among them.
//
// It is filled by the views' files, before the table of keys is.
var views [viewCount]view

// viewWord gives the name of a view.
func viewWord(v int) string {
	if v == viewShot {
		return "Shot"
	}
	return views[v].name()
}

// existing lists the views that have a digit.
func existing() []int {
	out := []int{viewShot}
	for v := range views {
		if views[v] != nil {
			out = append(out, v)
		}
	}
	return out
}

// show changes the view. What is being typed stays in its field.
func (m *model) show(v int) {
	if v != viewShot && views[v] == nil {
		return
	}
	m.view = v
	m.say("")
	m.clampCursors()
}

// viewKeys are the digits.
func viewKeys() []binding {
	var out []binding
	for _, v := range existing() {
		d := fmt.Sprint(v + 1)
		foot, weight := "", 0
		out = append(out, binding{d, d, everywhere, foot, "view " + d + ", " + lower(viewWord(v)), weight,
			func(m *model, _ string) tea.Cmd { m.show(v); return nil }})
	}
	return out
}

// lower makes the first letter small.
func lower(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}

// viewLine names the views where there is a line for it.
func (s *screen) viewLine(m *model, w cells.Window) {
	x := 1
	x0, y0 := w.Origin()
	for _, v := range existing() {
		from, style := x, dim
		mark := "  "
		if v == m.view {
			mark, style = "▸ ", accent
		}
		x = w.Text(x, 0, mark, accent)
		x = w.Text(x, 0, fmt.Sprint(v+1), cells.Style{Fg: cells.Accent})
		x = w.Text(x+1, 0, viewWord(v), style) + 1
		s.hit(rect{x0 + from, y0, x - from, 1}, func(m *model, _, _ int) { m.show(v) })
	}
}
