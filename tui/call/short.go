package call

import (
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/ring"
)

// ShortRows is the least that [DrawShort] needs.
var ShortRows = ring.Small.Rows()

// DrawShort draws of the call what the hand does and the two reasons that weigh most, where there are rows to spare
// and the call itself is not on the screen.
func DrawShort(w panel.Window, s *State) {
	cols, rows := w.Size()
	r := s.Report
	if r == nil || s.Stale || len(s.Faults) > 0 || rows < ShortRows {
		return
	}
	c := &r.Call
	y := rows - ShortRows
	x := 2
	if c.HasRing {
		ring.Draw(w, x, y, ring.Small, c.RingDeg)
		x += ring.Small.Cols() + 3
	} else {
		y++ // away from what stands above
	}
	line := func(text string, style cells.Style, most int) {
		lines := cells.Wrap(w.Plainly(text), cols-x-1)
		if len(lines) > most {
			lines = append(lines[:most-1], cells.Cut(lines[most-1]+" "+lines[most], cols-x-1))
		}
		for _, l := range lines {
			w.Text(x, y, l, style)
			y++
		}
	}
	title := words.FilterTitle(c.Filter, c.SettingStops)
	switch {
	case c.HasRing:
		title += ", mark " + advice.Spoken(c.RingDeg)
		if both := title + " or " + advice.Same(c.RingDeg); cells.Width(both) < cols-x { // one of the two will do
			title = both
		}
	case c.AsDensity:
		title += ", its ring anywhere"
	default:
		title += ", nothing to turn"
	}
	line(title, panel.Strong, 1)
	if c.HasRing {
		line(advice.Beside(c, r.Bag)[2], panel.Dim, 1)
	}
	if front := advice.Front(c, r.Bag); front != "" {
		line("then front "+front, panel.Strong, 1)
	}
	for _, why := range advice.Strongest(c) {
		sign := "+ "
		if why.Sign < 0 {
			sign = "− "
		}
		line(sign+why.Text, panel.Plain, 2)
	}
}
