package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// answerItem is one thing that the answer consists of.
type answerItem struct {
	name, value string
	style       cells.Style
}

// answerItems returns the answer in its fixed order.
func answerItems(r *plan.Report, known sureness) []answerItem {
	c := &r.Call
	filters := filterName(c)
	for i := 1; i < len(r.Flights); i++ { // a landing between
		filters += ", then " + filterName(&r.Flights[i].Set)
	}
	items := []answerItem{{"filter", filters, panel.Strong}}
	if c.HasRing {
		items = append(items, answerItem{"mark at", kit.Clock(c.RingDeg), panel.Strong})
	}
	items = append(items,
		answerItem{"shutter", exposure.FormatShutter(c.ShutterS), panel.Strong},
		answerItem{"ISO", exposure.FormatISO(c.ISO), panel.Strong})
	sure := answerItem{"sure", known.word, panel.Fine}
	switch {
	case !known.known:
		sure.style = panel.Dim
		if sure.value == "" {
			sure.value = "…"
		}
	case known.word != "holds":
		sure.style = panel.Warn
	}
	sure.style.Attr |= cells.Bold
	light := answerItem{"light", lightLeft(r.LightLeftMin), panel.Strong}
	if r.LightLeftMin < r.FlightMin+5 {
		light.style = cells.Style{Fg: cells.Bad, Attr: cells.Bold}
	}
	return append(items, sure, light)
}

func lightLeft(minutes float64) string {
	switch {
	case math.IsInf(minutes, 1) || minutes > 24*60:
		return "no end"
	case minutes >= 120:
		return fmt.Sprintf("%.0f h", math.Floor(minutes/60))
	case minutes < 0.5:
		return "gone"
	}
	return fmt.Sprintf("%.0f min", minutes)
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
	items := answerItems(r, m.calc.sure)
	items[0].value = w.Plainly(items[0].value)
	total := func(names bool, gap int) int {
		n := 2
		for _, it := range items {
			n += cells.Width(it.value) + gap
			if names {
				n += cells.Width(it.name) + 1
			}
		}
		return n - gap
	}
	names, gap := true, 4
	for total(names, gap) > cols && gap > 2 {
		gap--
	}
	if total(names, gap) > cols {
		names, gap = false, 3
	}
	for i, it := range items {
		if i > 0 {
			if !names {
				w.Text(x-2, 0, "·", panel.Faint.On(cells.BandGround))
			}
		}
		if names || it.name == "ISO" && total(false, gap)+4 <= cols {
			x = w.Text(x, 0, it.name+" ", panel.Dim.On(cells.BandGround))
		}
		x = w.Text(x, 0, it.value, it.style.On(cells.BandGround)) + gap
	}
	if m.stale() {
		w.Fade()
		w.TextRight(cols-1, 0, " last good answer ", panel.Warn.On(cells.BandGround))
	}
}
