package walk

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/ring"
)

// one sets a single leg: what to lock in the largest type, the ring at its right, and under both what to expect, what
// to watch and the cautions.
type one struct {
	*setter
	r    *plan.Report
	at   place
	l    *walk.WalkLeg
	rows []row
	ring *ring.Size // nil without a ring to set
	tall int        // lines that stand beside the ring
}

// The least room for big type and the large ring together.
const largeCols, largeRows = 88, 22

// widest is how far apart the settings and the ring stand at most: an eye takes in no more at a time.
const widest = 118

// labelCols is how far the words stand from the left behind what they are called.
const labelCols = 9

func (s *setter) one(r *plan.Report, at place, rows int) *one {
	s.cols = min(s.cols, widest)
	o := &one{setter: s, r: r, at: at, l: leg(s.list, at)}
	if set := o.set(); set != nil && set.HasRing {
		o.ring, o.tall = &ring.Small, ring.Small.Rows()
		if s.cols >= largeCols && rows >= largeRows {
			o.ring, o.tall = &ring.Large, ring.Large.Rows()+len(underRing(set, r.Bag))
		}
	}
	return o
}

// set returns what is on the lens on this leg.
func (o *one) set() *plan.Call {
	if o.at.flight >= len(o.r.Flights) {
		return nil
	}
	return &o.r.Flights[o.at.flight].Set
}

// width returns the columns for a line that begins now: those beside the ring while it lasts.
func (o *one) width() int {
	if o.ring != nil && len(o.rows) < o.tall {
		return o.cols - o.ring.Cols() - 3
	}
	return o.cols
}

func (o *one) line(text string, style cells.Style) {
	for _, t := range cells.Wrap(o.plainly(text), o.width()) {
		cols := o.width()
		o.rows = append(o.rows, func(w panel.Window, y, _ int) { w.TextIn(0, y, cols, t, style) })
	}
}

func (o *one) blank() { o.rows = append(o.rows, func(panel.Window, int, int) {}) }

// labelled sets a text behind what it is called; nothing of nothing.
func (o *one) labelled(label, text string, style cells.Style) {
	for i, t := range cells.Wrap(o.plainly(text), o.width()-labelCols) {
		name, cols := label, o.width()
		if i > 0 {
			name = ""
		}
		o.rows = append(o.rows, func(w panel.Window, y, _ int) {
			w.Text(0, y, name, panel.Dim)
			w.TextIn(labelCols, y, cols-labelCols, t, style)
		})
	}
}

// settings sets what to lock: big where there is room and half blocks for it.
func (o *one) settings(big bool) {
	kelvin := ""
	if o.l.WBK > 0 {
		kelvin = fmt.Sprintf("%.0f K", o.l.WBK)
	}
	const beside = 12 // for the kelvin
	shutter, ok := cells.BigWidth(bigShutter(o.l))
	iso, ok2 := cells.BigWidth(o.l.ISO)
	isoX := shutter + 3
	end := isoX + len("ISO ") + iso + 3
	if !big || !ok || !ok2 || o.pen.ASCII || end+beside > o.width() {
		o.line(join(" · ", o.l.Shutter, "ISO "+o.l.ISO, kelvin), panel.Strong)
		return
	}
	for i := range cells.BigRows {
		o.rows = append(o.rows, func(w panel.Window, y, cols int) {
			if i > 0 {
				return
			}
			room := w.Sub(0, y, cols, cells.BigRows)
			room.Big(0, 0, bigShutter(o.l), panel.Strong)
			room.Text(isoX, 0, "ISO", panel.Dim)
			room.Big(isoX+len("ISO "), 0, o.l.ISO, panel.Strong)
			room.Text(end, 0, kelvin, panel.Strong)
		})
	}
}

// all lines up everything, with as much of the words as asked for: what to expect in full, the cautions in sentences,
// what to do when the meter disagrees.
func (o *one) all(large, full, sentences, ladder bool) []row {
	o.rows = nil
	head := fmt.Sprintf("Leg %d of %d · %s", o.l.Leg+1, len(legs(o.list)), o.l.Start.Format("15:04"))
	if o.ticked(o.l) {
		head += " · ✓ flown"
	}
	o.line(head, panel.Accent)
	o.line(o.l.Move, panel.Strong)
	if flight := &o.list[o.at.flight]; flight.Change != "" && o.at.leg == 0 {
		o.line("Land, power off, "+flight.Change, panel.Warn)
	}
	o.blank()
	o.settings(large)
	o.mount(large)
	for o.ring == &ring.Small && len(o.rows) < o.tall {
		o.blank()
	}
	o.blank()
	expect := join(" · ", o.l.Meter, o.l.Drift)
	if full {
		expect = join(" · ", expect, join(" · ", o.l.Expect...))
	}
	o.labelled("expect", expect, panel.Plain)
	o.labelled("watch", join("; ", o.l.Short, join("; ", o.l.LookOut...)), panel.Warn)
	if ladder {
		meter, times := o.ladder()
		o.labelled("adjust", strings.Join(meter, " · "), panel.Plain)
		o.labelled("time", strings.Join(times, " · "), panel.Plain)
	}
	o.labelled("log", logWords(o.r.Shot, o.l.Leg), panel.Plain)
	if sentences {
		o.labelled("caution", strings.Join(o.r.Call.Cautions, " "), panel.Warn)
	} else {
		o.labelled("caution", strings.Join(o.mind, " · "), panel.Warn)
	}
	for o.ring != nil && len(o.rows) < o.tall {
		o.blank()
	}
	return o.rows
}

// ladder parts what to do when the meter disagrees from what the clock says. The first is of the exposure that the call
// names: a leg that is locked at another has none.
func (o *one) ladder() (meter, times []string) {
	l, c := &o.r.Legs[o.l.Leg], &o.r.Call
	same := l.Shutter.Min == c.ShutterS && l.ISO.Min == c.ISO
	ofSomeLeg := func(t string) bool {
		return slices.ContainsFunc(o.r.Legs, func(l plan.LegReport) bool { return l.Other != nil && l.Other.Words == t })
	}
	if l.Other != nil && l.Other.Words != "" {
		times = append(times, l.Other.Words)
	}
	for _, t := range c.Ladder {
		switch {
		case ofSomeLeg(t): // this leg has its own
		case strings.HasPrefix(t, "expect the meter "): // said of the leg already
		case !strings.HasPrefix(t, "meter "):
			times = append(times, t)
		case same:
			meter = append(meter, t)
		}
	}
	return meter, times
}

// mount says what is on the lens, and what the drawn ring does not say by itself.
func (o *one) mount(large bool) {
	flight := &o.list[o.at.flight]
	text := flight.Filter
	switch set := o.set(); {
	case o.ring == nil && set != nil && set.AsDensity:
		text += " · its ring anywhere"
	case o.ring == nil:
		text += " · nothing to turn"
	case o.ring == &ring.Small:
		text += " · mark " + flight.Ring + ", facing the lens"
	}
	if set := o.set(); set != nil && o.ring != &ring.Large { // that one has it under it
		if front := advice.Front(set, o.r.Bag); front != "" {
			text += " · then front " + front
		}
	}
	if large {
		o.blank()
	}
	o.line(text, panel.Strong)
}

// drawRing draws the ring beside the lines, of which so many have gone up.
func (o *one) drawRing(w panel.Window, top int) {
	switch x := o.cols - 1; {
	case o.ring == nil:
	case o.ring == &ring.Large:
		largeRing(w, x-o.ring.Cols(), -top, o.set(), o.r.Bag)
	default:
		ring.Draw(w, x-o.ring.Cols(), -top, *o.ring, o.set().RingDeg)
	}
}

// largeRing draws the large ring, and under it what it does not say by itself.
func largeRing(w panel.Window, x, y int, set *plan.Call, bag *kit.Bag) {
	ring.Draw(w, x, y, ring.Large, set.RingDeg)
	for i, t := range underRing(set, bag) {
		style := panel.Plain
		if i == 0 {
			style = panel.Strong
		}
		w.Text(x+(ring.Large.Cols()-cells.Width(t)+1)/2, y+ring.Large.Rows()+i, t, style)
	}
}

func underRing(set *plan.Call, bag *kit.Bag) []string {
	out := []string{"mark " + advice.Spoken(set.RingDeg), "the same: " + advice.Same(set.RingDeg)}
	if front := advice.Front(set, bag); front != "" {
		out = append(out, "front "+front)
	}
	return append(out, "power off, then turn")
}

// strip names all legs in one line, the one that the walk is at among them, and which are flown.
func (s *setter) strip() string {
	var names []string
	at := 0
	for i, p := range legs(s.list) {
		l := leg(s.list, p)
		move, _, _ := strings.Cut(l.Move, ",")
		names = append(names, fmt.Sprintf("%s%d %s", s.sign(l), l.Leg+1, move))
		if l.Leg == s.at {
			at = i
		}
	}
	const gap = "   "
	from := 0
	for from < at && cells.Width(strings.Join(names[from:at+1], gap))+2 > s.cols { // it stays on the screen
		from++
	}
	text := strings.Join(names[from:], gap)
	if from > 0 {
		text = "… " + text
	}
	return cells.Cut(text, s.cols)
}

// draw draws the leg with as much as fits; what does not is said in fewer words, and scrolls only in the end. It
// returns the line it begins with.
func (o *one) draw(w panel.Window, rows, top int) int {
	var lines []row
	room := max(0, rows-1) // the last line names the legs
	large := o.cols >= largeCols
	for _, c := range []struct{ full, sentences, ladder bool }{{true, true, true}, {true, false, true}, {true, false, false}, {false, false, false}} {
		if lines = o.all(large, c.full, c.sentences, c.ladder); len(lines) <= room {
			break
		}
	}
	pinned := len(lines) > room && len(o.mind) > 0
	if pinned { // a caution does not scroll away
		room = max(0, room-1)
	}
	top = max(0, min(top, len(lines)-room))
	body := w.Sub(0, 0, o.cols, room)
	for y := 0; y < room && top+y < len(lines); y++ {
		lines[top+y](body, y, o.cols)
	}
	o.drawRing(body, top)
	if room > 0 {
		panel.More(body, top > 0, top+room < len(lines))
	}
	if pinned {
		w.Text(0, room, o.inShort(o.mind), panel.Warn)
	}
	w.Text(0, rows-1, o.strip(), panel.Accent)
	return top
}
