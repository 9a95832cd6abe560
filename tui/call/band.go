package call

import (
	"fmt"
	"slices"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// item is one thing that the answer consists of.
type item struct {
	name, value string
	short       string // in place of the value where there is little room, "" for the same
	shortest    string // and where there is least
	keep        bool   // its value means nothing without its name: "9:30" alone reads as a time
	spare       bool   // it is left out where there is little room
	style       cells.Style
}

// items returns the answer in its fixed order, with what is locked on a leg.
func items(s *State) []item {
	r := s.Report
	filters := FilterName(&r.Call)
	for i := 1; i < len(r.Flights); i++ { // a landing between
		filters += ", then " + FilterName(&r.Flights[i].Set)
	}
	list := []item{{name: "filter", value: filters, style: panel.Strong}}
	if r.Call.HasRing {
		first := advice.Spoken(r.Call.RingDeg)
		list = append(list, item{name: "mark", value: first + " or " + advice.Same(r.Call.RingDeg), shortest: first, keep: true, style: panel.Strong})
	}
	list = append(list, lockItems(r, s.Leg)...)
	sure := item{name: "sure", value: words.SureShort(s.Sure.Word, s.Sure.Why), short: words.SureWord(s.Sure.Word), style: panel.Fine}
	switch {
	case !s.Sure.Known:
		sure.style = panel.Dim
		if sure.value == "" {
			sure.value = "…"
		}
	case s.Sure.Word != "holds":
		sure.style = panel.Warn
	}
	if sure.short == "toss-up" { // its own word says what it is about
		sure.name = ""
	}
	sure.style.Attr |= cells.Bold
	light := item{name: "light", value: advice.CleanUntil(r), keep: true, style: panel.Strong}
	if clock := advice.CleanClock(r); clock != "" {
		light.shortest = "to " + clock
	}
	if r.LightLeftMin < r.FlightMin+5 {
		light.style = cells.Style{Fg: cells.Bad, Attr: cells.Bold}
	}
	return append(list, sure, light)
}

// lockItems returns what is locked on a leg, which is named where the legs are not all locked the same.
func lockItems(r *plan.Report, leg int) []item {
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
		return []item{{value: "cannot be exposed", shortest: "no exposure", style: cells.Style{Fg: cells.Bad, Attr: cells.Bold}}}
	}
	return []item{
		{name: name, value: exposure.FormatShutter(l.Shutter.Min), style: panel.Strong},
		{name: "ISO", value: exposure.FormatISO(l.ISO.Min), style: panel.Strong},
		{value: fmt.Sprintf("%.0f K", l.WBK), spare: true, style: panel.Strong},
	}
}

// setting is how the items are set in a line.
type setting struct {
	list []item // with the names and the values that are shown
	gap  int    // columns between two
	dots bool   // a dot stands in the gap: the names that part the values are gone
}

func (s *setting) width() int {
	n := 2
	for _, it := range s.list {
		n += cells.Width(it.value) + s.gap
		if it.name != "" {
			n += cells.Width(it.name) + 1
		}
	}
	return n - s.gap
}

// settings returns the ways to set the items, roomiest first. First the rival of a toss-up goes, then what may be spared;
// then, in plain ones, the names that the values do without.
func settings(all []item) (named, plain []setting) {
	lean := func(change func(it *item) bool) (out []item) {
		for _, it := range all {
			if change(&it) {
				out = append(out, it)
			}
		}
		return out
	}
	shorten := func(it *item) {
		if it.short != "" {
			it.value = it.short
		}
	}
	for _, list := range [][]item{
		all,
		lean(func(it *item) bool { shorten(it); return true }),
		lean(func(it *item) bool { shorten(it); return !it.spare }),
	} {
		for gap := 4; gap >= 2; gap-- {
			named = append(named, setting{list, gap, false})
		}
	}
	for _, level := range []struct {
		spare, shortest, iso bool
		gap                  int
	}{{true, false, true, 3}, {false, false, true, 3}, {false, true, true, 3}, {false, true, true, 2}, {false, true, false, 2}} {
		plain = append(plain, setting{gap: level.gap, dots: level.gap == 3, list: lean(func(it *item) bool {
			shorten(it)
			if level.shortest && it.shortest != "" {
				it.value = it.shortest
			}
			if !it.keep && (it.name != "ISO" || !level.iso) {
				it.name = ""
			}
			return level.spare || !it.spare
		})})
	}
	return named, plain
}

// fitted returns the items as they fit into so many columns; in the end the filter's name is cut, and nothing else.
func fitted(all []item, cols int) setting {
	named, plain := settings(all)
	for _, s := range append(named, plain...) {
		if s.width() <= cols {
			return s
		}
	}
	s := plain[len(plain)-1]
	if over := s.width() - cols; over > 0 && len(s.list) > 0 {
		const least = 6
		s.list[0].value = cells.Cut(s.list[0].value, max(least, cells.Width(s.list[0].value)-over))
	}
	return s
}

// counting returns the items with the countdown behind them, long or short, where both have room and the mark and the
// light are as long as without it. The names that the values do without go sooner than the countdown.
func counting(n advice.Countdown, all []item, cols int) (set setting, ok bool) {
	if n.Long == "" {
		return set, false
	}
	count := func(text string) (named, plain []setting) {
		it := item{value: text, style: panel.Strong}
		if n.Late {
			it.style = cells.Style{Fg: cells.Bad, Attr: cells.Bold}
		}
		named, plain = settings(append(slices.Clone(all), it))
		return named, plain[:2]
	}
	named, plain := count(n.Long)
	named2, plain2 := count(n.Short)
	for _, s := range slices.Concat(named, named2, plain, plain2) {
		if s.width() <= cols {
			return s, true
		}
	}
	return set, false
}

// Counts tells whether a band so wide has room for the countdown; elsewhere it stands where the take-off does.
func Counts(s *State, cols int) bool {
	if s.Report == nil {
		return false
	}
	_, ok := counting(s.Count, items(s), cols)
	return ok
}

// FilterName says what goes on the lens.
func FilterName(c *plan.Call) string {
	if c.Filter == "none" || c.Filter == "" {
		return "none"
	}
	return words.FilterTitle(c.Filter, c.SettingStops)
}

// Band draws the answer in one line. It is the last thing to leave the screen.
func Band(w panel.Window, s *State) {
	cols, _ := w.Size()
	w.Fill(0, 0, cols, 1, cells.Style{Bg: cells.BandGround})
	x := 1
	warn := func(text string) {
		w.TextIn(x, 0, cols-2, cells.Fit(text, "", cols-2, s.Whole), panel.Warn.On(cells.BandGround))
	}
	switch {
	case s.Report == nil && !s.Unread && len(s.Faults) > 0:
		lead := "no answer: "
		if n := len(s.Faults); n > 1 {
			lead = fmt.Sprintf("no answer, %d faults: ", n)
		}
		warn(lead + s.FaultLines()[0])
		return
	case s.Report == nil && s.Failed != "":
		warn(s.Failed)
		return
	case s.Report == nil && s.Unread:
		text := "this file cannot be read as a card"
		if len(s.Faults) > 0 {
			text += ": " + s.FaultLines()[0]
		}
		warn(text)
		return
	case s.Report == nil:
		return
	}
	list := items(s)
	list[0].value = w.Plainly(list[0].value)
	set, ok := counting(s.Count, list, cols)
	if !ok {
		set = fitted(list, cols)
	}
	for i, it := range set.list {
		if i > 0 && set.dots {
			w.Text(x-2, 0, "·", panel.Faint.On(cells.BandGround))
		}
		if it.name != "" {
			x = w.Text(x, 0, it.name+" ", panel.Dim.On(cells.BandGround))
		}
		x = w.Text(x, 0, it.value, it.style.On(cells.BandGround)) + set.gap
	}
	if s.Stale {
		w.Fade()
		w.TextRight(cols-1, 0, " last good answer ", panel.Warn.On(cells.BandGround))
	}
}
