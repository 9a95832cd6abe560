package tui

import (
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// answerItem is one thing that the answer consists of.
type answerItem struct {
	name, value string
	short       string // in place of the value where there is little room, "" for the same
	spare       bool   // it is left out where there is little room
	style       cells.Style
}

// answerItems returns the answer in its fixed order, with what is locked on a leg.
func answerItems(r *plan.Report, known sureness, leg int) []answerItem {
	c := &r.Call
	filters := filterName(c)
	for i := 1; i < len(r.Flights); i++ { // a landing between
		filters += ", then " + filterName(&r.Flights[i].Set)
	}
	items := []answerItem{{name: "filter", value: filters, style: panel.Strong}}
	if c.HasRing {
		items = append(items, answerItem{name: "mark at", value: kit.Clock(c.RingDeg), style: panel.Strong})
	}
	items = append(items, lockItems(r, leg)...)
	sure := answerItem{name: "sure", value: words.SureShort(known.word, known.why), short: words.SureWord(known.word), style: panel.Fine}
	switch {
	case !known.known:
		sure.style = panel.Dim
		if sure.value == "" {
			sure.value = "…"
		}
	case known.word != "holds":
		sure.style = panel.Warn
	}
	if sure.short == "toss-up" { // its own word says what it is about
		sure.name = ""
	}
	sure.style.Attr |= cells.Bold
	light := answerItem{name: "light", value: advice.CleanUntil(r), style: panel.Strong}
	if r.LightLeftMin < r.FlightMin+5 {
		light.style = cells.Style{Fg: cells.Bad, Attr: cells.Bold}
	}
	return append(items, sure, light)
}

// lockItems returns what is locked on a leg, which is named where the legs are not all locked the same.
func lockItems(r *plan.Report, leg int) []answerItem {
	if leg < 0 || leg >= len(r.Legs) || !r.Legs[leg].Shutter.OK {
		return nil
	}
	l, name := &r.Legs[leg], "shutter"
	for i := range r.Legs {
		if advice.Lock(&r.Legs[i]) != advice.Lock(l) {
			name = fmt.Sprintf("leg %d shutter", leg+1)
		}
	}
	if advice.Short(r, leg) != "" && !advice.ShortOfOther(l) {
		return []answerItem{{value: "cannot be exposed", style: cells.Style{Fg: cells.Bad, Attr: cells.Bold}}}
	}
	return []answerItem{
		{name: name, value: exposure.FormatShutter(l.Shutter.Min), style: panel.Strong},
		{name: "ISO", value: exposure.FormatISO(l.ISO.Min), style: panel.Strong},
		{value: fmt.Sprintf("%.0f K", l.WBK), spare: true, style: panel.Strong},
	}
}

// fitted returns the items as they fit into so many columns, whether with their names, and with how much room between
// them: the names go last, and before them the rival of a toss-up and what may be spared.
func fitted(items []answerItem, cols int) (fit []answerItem, names bool, gap int) {
	lean := func(short, spare bool) (out []answerItem) {
		for _, it := range items {
			if spare && it.spare {
				continue
			}
			if short && it.short != "" {
				it.value = it.short
			}
			out = append(out, it)
		}
		return out
	}
	total := func(list []answerItem, names bool, gap int) int {
		n := 2
		for _, it := range list {
			n += cells.Width(it.value) + gap
			if names && it.name != "" {
				n += cells.Width(it.name) + 1
			}
		}
		return n - gap
	}
	for _, list := range [][]answerItem{lean(false, false), lean(true, false), lean(true, true)} {
		for gap := 4; gap >= 2; gap-- {
			if total(list, true, gap) <= cols {
				return list, true, gap
			}
		}
	}
	if list := lean(true, false); total(list, false, 3)+4 <= cols {
		return list, false, 3
	}
	return lean(true, true), false, 3
}

// legHere returns the leg at the playhead.
func (m *model) legHere() int {
	r := m.calc.report
	if i := m.calc.at(m.second); i >= 0 {
		return r.Path[i].Leg
	}
	return 0
}

// filterName says what goes on the lens.
func filterName(c *plan.Call) string {
	if c.Filter == "none" || c.Filter == "" {
		return "none"
	}
	return words.FilterTitle(c.Filter, c.SettingStops)
}

// answerLine draws the answer. It is the last thing to leave the screen.
func (s *screen) answerLine(m *model, w panel.Window) {
	cols, _ := w.Size()
	w.Fill(0, 0, cols, 1, cells.Style{Bg: cells.BandGround})
	r := m.calc.report
	x := 1
	switch {
	case r == nil && len(m.calc.faults) > 0:
		f := m.calc.faults[0]
		w.TextIn(x, 0, cols-2, "no answer: "+f.Field+": found "+f.Found+"; allowed: "+f.Allowed, panel.Warn.On(cells.BandGround))
		return
	case r == nil && m.calc.failed != "":
		w.TextIn(x, 0, cols-2, m.calc.failed, panel.Warn.On(cells.BandGround))
		return
	case r == nil && m.card().current == nil && len(m.card().faults) > 0:
		w.TextIn(x, 0, cols-2, "this file cannot be read as a card", panel.Warn.On(cells.BandGround))
		return
	case r == nil:
		return
	}
	items := answerItems(r, m.calc.sure, m.legHere())
	items[0].value = w.Plainly(items[0].value)
	items, names, gap := fitted(items, cols)
	width := 0
	for _, it := range items {
		width += cells.Width(it.value) + gap
	}
	for i, it := range items {
		if i > 0 && !names {
			w.Text(x-2, 0, "·", panel.Faint.On(cells.BandGround))
		}
		if it.name != "" && (names || it.name == "ISO" && width+6-gap <= cols) {
			x = w.Text(x, 0, it.name+" ", panel.Dim.On(cells.BandGround))
		}
		x = w.Text(x, 0, it.value, it.style.On(cells.BandGround)) + gap
	}
	if m.stale() {
		w.Fade()
		w.TextRight(cols-1, 0, " last good answer ", panel.Warn.On(cells.BandGround))
	}
}
