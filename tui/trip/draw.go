package trip

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/trip"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// row is one line of the list.
type row struct {
	day   *trip.Day  // heads a day, where stop and move are nil
	hours *axis      // of the day; nil where there is no room for one
	stop  *trip.Stop // a shot
	move  *trip.Move // the same in the order proposed; nil where that is not shown or does not reach it
	n     int        // its number on the day, from 1
	way   string     // what lies before a shot: a line of its own
	wrong string     // a card that is left out
	key   any
}

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	if k.Room().Kind == panel.TooSmall || cols < 20 || rows < 6 {
		return
	}
	if v.plan == nil {
		panel.Head(w, true, "Trip")
		return
	}
	panel.Head(w, true, v.title(), v.doing()...)
	foot := v.foot(w.Pen, cols, k)
	if most := max(2, rows/3); len(foot) > most {
		foot = foot[:most]
	}
	tall := rows - 1 - len(foot)
	lines := v.lines(cols)
	at := slices.IndexFunc(lines, func(r row) bool { return (r.stop != nil || r.wrong != "") && r.key == k.CardKey() })
	top := v.top
	if at >= 0 { // with what heads it, where there is room
		head := at
		for head > 0 && head > at-2 && lines[head-1].stop == nil {
			head--
		}
		top = panel.KeepInView(panel.KeepInView(top, at, len(lines), tall), head, len(lines), tall)
		if at >= top+tall {
			top = at - tall + 1
		}
	}
	v.top = max(0, min(top, len(lines)-tall))
	list := w.Sub(0, 1, cols, tall)
	for y := range tall {
		if i := v.top + y; i < len(lines) {
			v.line(list.Sub(0, y, cols, 1), &lines[i], i == at)
			if key := lines[i].key; key != nil {
				list.OnClick(panel.Box(0, y, cols, 1), func(b panel.Bench, _, _ int) { b.ShowCard(key) })
			}
		}
	}
	panel.More(list, v.top > 0, v.top+tall < len(lines))
	for i := range foot {
		foot[i].Draw(w, 0, 1+tall+i)
	}
}

func (v *View) title() string {
	text := fmt.Sprintf("%d shots, %d days", len(v.cards), len(v.plan.Days))
	if len(v.cards) == 1 {
		text = "1 shot"
	} else if len(v.plan.Days) == 1 {
		text = fmt.Sprintf("%d shots, 1 day", len(v.cards))
	}
	if v.order {
		return "The order proposed: " + text
	}
	return "The trip: " + text
}

// doing says at the right of the title what goes on.
func (v *View) doing() []string {
	done, sure := v.progress()
	n := len(v.cards)
	x := ", x stops it"
	if v.paused {
		x = ", x goes on"
	}
	switch {
	case done < n:
		t := fmt.Sprintf("working it out, %d of %d", done, n)
		return []string{t + x, t, fmt.Sprintf("%d of %d", done, n)}
	case sure < n:
		t := fmt.Sprintf("how sure, %d of %d", sure, n)
		return []string{t + x, t, fmt.Sprintf("%d of %d", sure, n)}
	case v.order:
		return []string{"Enter takes it for this day, a leaves it", "Enter takes it"}
	}
	return []string{""}
}

// lines makes the list for a width.
func (v *View) lines(cols int) []row {
	var list []row
	for i := range v.plan.Days {
		d := &v.plan.Days[i]
		var hours *axis
		if cols >= chartFrom {
			hours = v.axisOf(d, cols)
		}
		list = append(list, row{day: d, hours: hours})
		at := map[int]*trip.Stop{}
		for s := range d.Stops {
			at[d.Stops[s].Card] = &d.Stops[s]
		}
		moves := map[int]*trip.Move{}
		if v.order {
			for m := range d.Order {
				moves[d.Order[m].Card] = &d.Order[m]
			}
		}
		for n, c := range v.dayRows(d) {
			r := row{day: d, hours: hours, stop: at[c], move: moves[c], n: n + 1, key: v.keys[c]}
			way := r.stop.Way(&v.cards[c])
			if v.order {
				if way = ""; r.move != nil {
					way = r.move.Way(&v.cards[c])
				}
			}
			if way != "" {
				list = append(list, row{day: d, hours: hours, way: way, key: v.keys[c]})
			}
			list = append(list, r)
		}
	}
	for _, o := range v.wrong {
		list = append(list, row{wrong: o.Name + ": has a fault and is left out", key: o.Key})
	}
	return list
}

// line draws one line of the list.
func (v *View) line(w panel.Window, r *row, picked bool) {
	cols, _ := w.Size()
	switch {
	case r.stop != nil:
		v.shot(w, r, picked)
	case r.way != "":
		arrow := "  ↓ "
		if w.Pen.ASCII {
			arrow = "  v "
		}
		w.TextIn(2, 0, cols-3, arrow+r.way, panel.Dim)
	case r.wrong != "":
		if picked {
			w.Text(0, 0, "▸", panel.Accent)
		}
		w.TextIn(2, 0, cols-3, r.wrong, panel.Warn)
	default:
		v.head(w, r)
	}
}

// head draws the line above a day: what it takes, and the hours where there is a chart.
func (v *View) head(w panel.Window, r *row) {
	cols, _ := w.Size()
	text := r.day.Headline(v.cards)
	room := cols - 1
	if r.hours != nil {
		r.hours.names(w)
		room = r.hours.x - 1
		parts := strings.Split(text, " · ")
		text = strings.Join(parts[:2], " · ")
		x := r.hours.x + r.hours.w + 1
		x = w.Text(x, 0, strings.Join(parts[2:], " · "), panel.Dim) + 2
		if better := v.better(r.day); better != "" {
			w.TextIn(x, 0, cols-x-1, better, panel.Accent)
		}
	}
	w.TextIn(0, 0, room, text, panel.Strong)
	if better := v.better(r.day); better != "" && r.hours == nil {
		if x := cells.Width(text) + 3; x+12 < cols {
			w.TextIn(x, 0, cols-x-1, better, panel.Accent)
		}
	}
}

// better says what the order proposed gains on a day, "" where it is none or not known.
func (v *View) better(d *trip.Day) string {
	if d.Order == nil || !d.Better(v.cards) {
		return ""
	}
	return "a: " + d.ProposedWords(v.cards)
}

// takeOff is when a shot takes off in the order that is shown.
func (r *row) takeOff() time.Time {
	if r.move != nil {
		return r.move.TakeOff
	}
	return r.stop.TakeOff
}

// foot says all of the shot under the cursor, and what to pack.
func (v *View) foot(pen *cells.Pen, cols int, k panel.Known) []panel.Line {
	var list []panel.Line
	add := func(lead, text string, style cells.Style) {
		if text != "" {
			list = append(list, panel.Para(pen, cols-1, lead, text, style)...)
		}
	}
	if i := slices.Index(v.keys, k.CardKey()); i >= 0 {
		c := &v.cards[i]
		if s := v.stopOf(i); !v.order || !v.reached(i) {
			for _, x := range s.Conflicts {
				add("! ", x.String(), panel.Warn)
			}
		}
		if c.Worked != nil {
			add("· ", c.Mounts()+", "+c.Report.Call.SureWords(), panel.Plain)
			add("· ", c.WindowWords(), panel.Plain)
		}
	}
	if cols >= chartFrom {
		add("", legend(pen), panel.Dim)
	}
	if !v.complete() {
		return list
	}
	p := &v.plan.Packing
	var parts []string
	part := func(title string, names []string) {
		if len(names) > 0 {
			parts = append(parts, title+" "+strings.Join(names, ", "))
		}
	}
	part("pack", p.Used)
	part("spare", p.Spare)
	part("leave", p.Leave)
	for _, m := range p.Missing {
		n := fmt.Sprintf("%d shots", len(m.WouldServe))
		if len(m.WouldServe) == 1 {
			n = "1 shot"
		}
		parts = append(parts, fmt.Sprintf("missing a density of %s, for %s", exposure.FormatStops(m.Stops), n))
	}
	add("", strings.Join(parts, " · "), panel.Dim)
	return list
}

// reached tells whether the order proposed has a card.
func (v *View) reached(card int) bool {
	for i := range v.plan.Days {
		for _, m := range v.plan.Days[i].Order {
			if m.Card == card {
				return true
			}
		}
	}
	return false
}

func (v *View) stopOf(card int) *trip.Stop {
	for i := range v.plan.Days {
		for s := range v.plan.Days[i].Stops {
			if x := &v.plan.Days[i].Stops[s]; x.Card == card {
				return x
			}
		}
	}
	return &trip.Stop{}
}
