// Package walk is the view to carry: all legs on one screen, what to set in big type, so that a phone can
// photograph it; or one leg at a time, to fly by. The leg is that of the playhead, and is ticked off when it is flown.
//
// The one hard idea: a leg can be set in four forms, from big type down to one line. The largest form in which
// every leg fits is taken, so that the list scrolls only where not even one line a leg has room. Cautions are
// never lost to that: where their sentences have no room, the last line has them in short, and it does not scroll.
package walk

import (
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/ring"
	tea "github.com/charmbracelet/bubbletea"
)

// View is the view to carry. It keeps where the list stands when it is longer than the screen, and what was
// said of the report that it is of.
type View struct {
	top  int
	of   *plan.Report
	list walk.Walk
	mind []string // the cautions in short
	one  bool     // one leg at a time
	done map[any]flownLegs
}

// New returns the view.
func New() *View { return &View{} }

// Name implements [panel.View].
func (*View) Name() string { return "Walk" }

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	scroll := func(by int) func(panel.Bench) {
		return func(panel.Bench) { v.top = max(0, v.top+by) }
	}
	return []panel.Key{
		panel.On("space", "Space", "done", "tick the leg off and go to the next; for this window alone, nothing is written into the card", 12, v.tick),
		panel.On("enter", "Enter", "log", "write into the card how the leg was: did it work, what was set, what was seen; every answer is a step of undo", 11, v.log),
		panel.On("left h", "Left h", "back", "to the leg before", 10, func(b panel.Bench) { v.goBy(b, -1) }),
		panel.On("right l", "Right l", "", "to the next leg, without a tick", 0, func(b panel.Bench) { v.goBy(b, 1) }),
		panel.On("delete backspace", "Del", "", "take the leg's tick away", 0, v.untick),
		panel.On("a", "a", "one/all", "one leg at a time, or all legs on one screen", 11, func(panel.Bench) { v.one, v.top = !v.one, 0 }),
		panel.On("up k", "Up k", "", "scroll up, where not everything fits", 0, scroll(-1)),
		panel.On("down j", "Down j", "", "scroll down", 0, scroll(1)),
		panel.On("pgup home g", "PgUp", "", "to the top", 0, scroll(-1000)),
		panel.On("pgdown end G", "PgDn", "", "to the bottom", 0, scroll(1000)),
	}
}

// Kick implements [panel.View]. A new report is put into sentences at once; that is a matter of microseconds.
func (v *View) Kick(b panel.Bench) tea.Cmd {
	if r := b.Report(); r != v.of {
		v.of, v.list, v.mind = r, nil, nil
		if r != nil {
			v.list, v.mind = walk.Of(r), caution.InShort(r.Shot, r.Path, len(r.Flights)-1)
		}
	}
	return nil
}

// ringCols is what the large ring takes from the list, with room between.
var ringCols = ring.Large.Cols() + 3

// Take implements [panel.View].
func (*View) Take(panel.Bench, tea.Msg) bool { return false }

// Hide implements [panel.View].
func (*View) Hide() {}

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	r := k.Report()
	if v.list == nil || r == nil {
		return
	}
	all := legs(v.list)
	set := setter{list: v.list, pen: w.Pen, cols: cols, mind: v.mind, many: len(all) > 1, ticked: func(l *walk.WalkLeg) bool { return v.ticked(k, l) }}
	if len(all) == 0 {
		return
	}
	at := all[v.here(k)]
	set.at = leg(v.list, at).Leg
	if v.one {
		v.top = set.one(r, at, rows).draw(w, rows, v.top)
	} else {
		v.allLegs(w, r, &set, at.flight)
	}
	if k.Stale() {
		w.Fade()
	}
}

// allLegs draws the list.
func (v *View) allLegs(w panel.Window, r *plan.Report, set *setter, flight int) {
	cols, rows := w.Size()
	// Where the list leaves room for it, the ring stands at its right.
	var mount *plan.Call
	if cols >= largeCols+ringCols && rows >= largeRows && flight < len(r.Flights) && r.Flights[flight].HasRing {
		mount = &r.Flights[flight].Set
		set.cols = min(cols, widest) - ringCols
	}
	room := rows
	if len(v.mind) > 0 {
		room = max(0, rows-1)
	}
	var lines []row
	for f := bigType; f <= lineEach; f++ {
		if f == bigType {
			if _, ok := set.columns(); w.Pen.ASCII || !ok {
				continue
			}
		}
		if lines = set.rows(f, true); len(lines) <= room {
			break
		}
		if lines = set.rows(f, false); len(lines) <= room && f != bigType { // which needs room round it
			break
		}
	}
	if t := set.tail("If the meter disagrees", r.Call.Ladder, panel.Plain); len(lines)+len(t) <= room {
		lines = append(lines, t...)
	}
	if t := set.tail("Cautions", r.Call.Cautions, panel.Warn); len(lines)+len(t) <= rows {
		lines, room = append(lines, t...), rows
	} else if room < rows {
		w.Text(0, room, set.inShort(v.mind), panel.Warn)
	}
	v.top = max(0, min(v.top, len(lines)-room))
	list := w.Sub(0, 0, cols, room)
	for y := 0; y < room && v.top+y < len(lines); y++ {
		lines[v.top+y](list, y, set.cols)
	}
	if mount != nil {
		largeRing(w, min(cols, widest)-ring.Large.Cols()-1, 0, mount, r.Bag)
	}
	if room > 0 {
		panel.More(list, v.top > 0, v.top+room < len(lines))
	}
}
