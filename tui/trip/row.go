package trip

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/trip"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// From so many columns on there is a chart of the hours.
const chartFrom = 96

// The columns of a line, in cells.
const (
	numberCols = 5 // mark and number
	clockCols  = 6
	nameCols   = 20
	mountCols  = 16
	sureCols   = 8
	packCols   = 6 // batteries
	trailCols  = 17
)

// axis is the hours of a day on the line: from a full hour to another.
type axis struct {
	from, to time.Time
	x, w     int // columns
}

// axisOf makes the axis of a day that has all its take-offs and windows, the latter as far as they lie near.
func (v *View) axisOf(d *trip.Day, cols int) *axis {
	a := &axis{x: numberCols + clockCols + nameCols + max(0, (cols-120)/5) + 1}
	a.w = cols - a.x - mountCols - sureCols - packCols - trailCols - 2
	for i := range d.Stops {
		s := &d.Stops[i]
		zone := v.cards[s.Card].Shot.Zone
		a.add(s.TakeOff.In(zone), s.Landing.In(zone))
		if c := &v.cards[s.Card]; c.Worked != nil && c.Window != nil {
			a.add(c.Window.From.In(zone), c.Window.To.In(zone))
		}
	}
	for _, m := range d.Order {
		a.add(m.TakeOff, m.TakeOff)
	}
	a.from = fullHour(a.from)
	if t := fullHour(a.to); t.Before(a.to) {
		a.to = t.Add(time.Hour)
	}
	for a.to.Sub(a.from) < 3*time.Hour { // a day of one short shot is no dot
		a.from, a.to = a.from.Add(-time.Hour), a.to.Add(time.Hour)
	}
	return a
}

// fullHour is the last full hour on the place's clock, which need not be one elsewhere.
func fullHour(t time.Time) time.Time {
	return t.Truncate(time.Minute).Add(-time.Duration(t.Minute()) * time.Minute)
}

func (a *axis) add(from, to time.Time) {
	if a.from.IsZero() || from.Before(a.from) {
		a.from = from
	}
	if to.After(a.to) {
		a.to = to
	}
}

// at returns the column of a time, within the axis.
func (a *axis) at(t time.Time) int {
	share := float64(t.Sub(a.from)) / float64(a.to.Sub(a.from))
	return a.x + max(0, min(a.w-1, int(math.Floor(share*float64(a.w)))))
}

// names writes the hours above the chart, as many as have room.
func (a *axis) names(w panel.Window) {
	next := 0
	for t := a.from; t.Before(a.to); t = t.Add(time.Hour) {
		if x := a.at(t); x >= next && x+2 <= a.x+a.w {
			next = w.Text(x, 0, t.Format("15"), panel.Dim) + 2
		}
	}
}

// shot draws a shot.
func (v *View) shot(w panel.Window, r *row, picked bool) {
	cols, _ := w.Size()
	c := &v.cards[r.stop.Card]
	style := panel.Plain
	if picked {
		style = panel.Strong
		w.Text(0, 0, "▸", panel.Accent)
	}
	w.TextRight(numberCols-1, 0, fmt.Sprint(r.n), panel.Dim)
	w.Text(numberCols, 0, c.Shot.OnTheClock(r.takeOff()), style)
	x := numberCols + clockCols
	trail, bad := v.trail(r)
	trailStyle := panel.Dim
	if bad {
		trailStyle = panel.Warn
	}
	if r.hours != nil {
		w.TextIn(x, 0, r.hours.x-x-2, c.Shot.Name, style)
		r.hours.chart(w, r, c)
		x = r.hours.x + r.hours.w + 1
		w.TextIn(x, 0, mountCols-1, mount(c), style)
		w.TextIn(x+mountCols, 0, sureCols-1, sure(c), panel.Dim)
		w.TextIn(x+mountCols+sureCols, 0, packCols-1, batteries(r.stop), panel.Dim)
		w.TextIn(x+mountCols+sureCols+packCols, 0, cols-x-mountCols-sureCols-packCols-1, trail, trailStyle)
		return
	}
	end := cols - 1 - trailCols
	w.TextIn(end+1, 0, trailCols-1, trail, trailStyle)
	name := (end - x) * 3 / 5
	w.TextIn(x, 0, name-1, c.Shot.Name, style)
	w.TextIn(x+name, 0, end-x-name, mount(c), style)
}

// inkOf returns what stands for the light wanted, for a window with it, for a window without it, and for a take-off.
func inkOf(pen *cells.Pen) [4]rune {
	if pen.ASCII {
		return [4]rune{'.', '=', '-', '|'}
	}
	return [4]rune{'◦', '━', '─', '│'}
}

// legend says what the signs of the chart stand for.
func legend(pen *cells.Pen) string {
	i := inkOf(pen)
	return fmt.Sprintf("%c takes off %c holds, with the light wanted %c holds, in other light %c light wanted, does not hold", i[3], i[1], i[2], i[0])
}

// chart draws the window, the light wanted and the take-off.
func (a *axis) chart(w panel.Window, r *row, c *trip.Card) {
	ink := inkOf(w.Pen)
	wanted, both, holds, off := ink[0], ink[1], ink[2], ink[3]
	if c.Worked != nil {
		for x := a.x; x < a.x+a.w; x++ {
			t := a.from.Add(time.Duration((float64(x-a.x) + 0.5) / float64(a.w) * float64(a.to.Sub(a.from))))
			in, light := c.Window != nil && c.Window.Holds(t), false
			for _, s := range c.Wanted {
				light = light || s.Holds(t)
			}
			switch {
			case in && light:
				w.Set(x, 0, both, panel.Fine)
			case in:
				w.Set(x, 0, holds, panel.Fine)
			case light:
				w.Set(x, 0, wanted, panel.Dim)
			}
		}
	}
	style := panel.Strong
	if len(r.stop.Conflicts) > 0 && r.move == nil {
		style = panel.Warn
	}
	w.Set(a.at(r.takeOff()), 0, off, style)
}

// mount names what goes on the lens, in a few letters.
func mount(c *trip.Card) string {
	if c.Worked == nil {
		return "…"
	}
	var list []string
	for i := range c.Report.Flights {
		f := &c.Report.Flights[i]
		text := words.FilterTitle(f.Filter, f.SettingStops)
		if f.HasRing {
			at, _, _ := strings.Cut(kit.Clock(f.RingDeg), " ")
			text += " " + at
		}
		list = append(list, text)
	}
	return strings.Join(list, ", ")
}

// sure is how sure the call is, once that was tried.
func sure(c *trip.Card) string {
	if c.Worked == nil || c.Report.Sure == nil {
		return ""
	}
	return words.SureWord(c.Report.Call.Confidence)
}

func batteries(s *trip.Stop) string {
	if s.Batteries == 0 {
		return "? bat"
	}
	return fmt.Sprintf("%d bat", s.Batteries)
}

// trail is what is wrong with a shot in three words, else until when it can take off.
func (v *View) trail(r *row) (text string, bad bool) {
	c := &v.cards[r.stop.Card]
	switch {
	case v.order && r.move == nil && r.day.Order != nil:
		return "! not reached", true
	case r.move != nil:
		if t := c.Shot.TakeOff; !t.Equal(r.move.TakeOff) {
			return "now " + c.Shot.OnTheClock(t), false
		}
		return "", false
	case len(r.stop.Conflicts) > 0:
		return "! " + r.stop.Conflicts[0].Short, true
	case c.Worked != nil && c.Window != nil:
		return "till " + c.Shot.OnTheClock(c.Window.To), false
	}
	return "", false
}
