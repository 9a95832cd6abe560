package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// callLine is one line of the call, with a line of the drawn ring before it or none.
type callLine struct {
	panel.Line
	ring int // 1 + line of the drawn ring, 0 for none
}

// callPane draws what is recommended and why. It scrolls.
func (s *screen) callPane(m *model, w panel.Window) {
	cols, rows := w.Size()
	lines := m.callLines(cols - 1)
	in := w.Sub(0, 1, cols, rows-1)
	_, inRows := in.Size()
	m.scroll[paneCall] = max(0, min(m.scroll[paneCall], len(lines)-inRows))
	top := m.scroll[paneCall]
	right := ""
	if len(lines) > inRows {
		right = fmt.Sprintf("%d%%", 100*min(len(lines), top+inRows)/len(lines))
	}
	s.header(m, w, paneCall, right)
	for y := 0; y < inRows && top+y < len(lines); y++ {
		l := lines[top+y]
		x := 0
		if l.ring > 0 && m.calc.report != nil {
			drawRing(in, 2, y, l.ring-1, m.calc.report.Call.RingDeg)
			x = ringCols + 4
		}
		l.Draw(in, x, y)
	}
	panel.More(in, top > 0, len(lines) > top+inRows)
	if m.stale() && m.calc.report != nil && len(m.calc.faults) == 0 {
		in.Fade()
	}
}

func (m *model) scrollCall(by int) { m.scroll[paneCall] = max(0, m.scroll[paneCall]+by) }

// callLines sets the call in lines of at most so many columns.
func (m *model) callLines(cols int) []callLine {
	var out []callLine
	add := func(lines ...panel.Line) {
		for _, l := range lines {
			out = append(out, callLine{Line: l})
		}
	}
	pen := m.screen.pen
	para := func(lead, text string, style cells.Style) { add(panel.Para(pen, cols, lead, text, style)...) }
	section := func(title string, texts []string, style cells.Style) {
		add(panel.Section(pen, cols, title, texts, style)...)
	}
	faults := m.calc.faults
	if m.card().current == nil {
		faults = m.card().faults
	}
	if len(faults) > 0 {
		add(panel.Line{Lead: "  ", Text: "No answer for this card", Style: cells.Style{Fg: cells.Bad, Attr: cells.Bold}})
		for _, f := range faults {
			where := f.Field
			if f.Line > 0 && m.card().current == nil {
				where = fmt.Sprintf("line %d, %s", f.Line, f.Field)
			}
			para("! ", fmt.Sprintf("%s: found %s; allowed: %s", where, f.Found, f.Allowed), panel.Plain)
		}
		return out
	}
	if m.calc.failed != "" {
		para("! ", m.calc.failed, panel.Warn)
	}
	r := m.calc.report
	if r == nil {
		return out
	}
	c := &r.Call
	out = append(out, ringLines(c, cols)...)
	if text := setLine(c, r.Shot.Camera); text != "" {
		para("  ", text, panel.Plain)
	}
	section("Flights", flights(r), panel.Plain)
	for i, l := range advice.Locks(r) {
		if i == 0 {
			add(panel.Line{Lead: "  ", Text: "To lock", Style: panel.Strong})
		}
		lead, style := l.Numbers()+"  ", panel.Dim
		if len(r.Legs) == 1 {
			lead = "· "
		}
		if l.Short {
			style = panel.Warn
		}
		if l.Set != "" {
			para(lead, l.Set, panel.Plain)
			lead = strings.Repeat(" ", cells.Width(lead))
		}
		para(lead, l.Notes, style)
	}
	pros, costs := why(r)
	if len(pros)+len(costs) > 0 {
		add(panel.Line{}, panel.Line{Lead: "  ", Text: "Why", Style: panel.Strong})
	}
	for _, text := range pros {
		para("+ ", text, panel.Plain)
	}
	for _, text := range costs {
		para("− ", text, panel.Plain)
	}
	if sure := &m.calc.sure; sure.why != "" {
		style := panel.Plain
		if !sure.known {
			style = panel.Dim
		}
		title := "How sure: " + sure.word
		if sure.word == "close" { // a toss-up says in itself between what
			title = "How sure"
		}
		section(title, []string{sure.why}, style)
	}
	section("Also looked at", runnersUp(r), panel.Plain)
	section("If the meter disagrees", c.Ladder, panel.Plain)
	if r.Sure != nil && m.calc.sure.known {
		section("With any one thing a little off", r.Sure.Words, panel.Plain)
	}
	section("The ring", c.RingHelp, panel.Plain)
	section("Cautions", c.Cautions, panel.Warn)
	return out
}

// why returns the reasons of the call: what speaks for it, and what it costs.
func why(r *plan.Report) (pros, costs []string) {
	for _, s := range r.Call.ReasonsSigned {
		if s.Sign < 0 {
			costs = append(costs, s.Text)
		} else {
			pros = append(pros, s.Text)
		}
	}
	return pros, costs
}

// setLine lists what is set on the camera once for all legs: the aperture of a lens that has one to set.
func setLine(c *plan.Call, camera kit.Camera) string {
	if c.Aperture <= 0 || camera.Aperture[1] <= camera.Aperture[0] {
		return ""
	}
	return exposure.FormatAperture(c.Aperture)
}

// runnersUp says of the next best what lost them.
func runnersUp(r *plan.Report) []string {
	var out []string
	for _, k := range r.RunnersUp(4) {
		name := words.FilterTitle(k.Filter, k.SettingStops)
		if k.HasRing {
			name += ", mark " + kit.Clock(k.RingDeg)
		}
		why := k.WhyNot
		if why == "" && len(k.Reasons) > 0 {
			why = k.Reasons[0]
		}
		out = append(out, strings.TrimSuffix(name+": "+why, ": "))
	}
	return out
}

// flights lists the runs of legs when one filter does not serve them all.
func flights(r *plan.Report) []string {
	if len(r.Flights) < 2 {
		return nil
	}
	var out []string
	for _, f := range r.Flights {
		if len(f.Legs) == 0 {
			continue
		}
		legs := fmt.Sprintf("leg %d", f.Legs[0]+1)
		if n := len(f.Legs); n > 1 {
			legs = fmt.Sprintf("legs %d to %d", f.Legs[0]+1, f.Legs[n-1]+1)
		}
		t := legs + ": " + filterName(&f.Set)
		if f.HasRing {
			t += ", mark at " + kit.Clock(f.RingDeg)
		}
		if set := setLine(&f.Set, r.Shot.Camera); set != "" {
			t += "; " + set
		}
		if f.Change != "" {
			t = "land, " + f.Change + "; " + t
		}
		out = append(out, t)
	}
	return out
}

// The drawn ring: a clock face of so many cells.
const ringCols, ringRows = 13, 7

// ringLines puts the words beside the drawn ring.
func ringLines(c *plan.Call, cols int) []callLine {
	name := words.FilterTitle(c.Filter, c.SettingStops)
	if !c.HasRing {
		text := "nothing to turn"
		if c.AsDensity {
			text = "used as a plain density: its ring may stand anywhere"
		}
		out := []callLine{
			{Line: panel.Line{Lead: "  ", Text: name, Style: panel.Strong}},
		}
		for _, l := range cells.Wrap(text, max(8, cols-2)) {
			out = append(out, callLine{Line: panel.Line{Lead: "  ", Text: l, Style: panel.Dim}})
		}
		return append(out, callLine{})
	}
	first, second, _ := strings.Cut(kit.Clock(c.RingDeg), " or ")
	room := cols - ringCols - 4
	beside := []panel.Line{{}, {Text: name, Style: panel.Strong}, {Text: "mark at " + first, Style: panel.Strong}}
	if second != "" {
		beside = append(beside, panel.Line{Text: "(or " + second + ")", Style: panel.Plain})
	}
	for _, l := range cells.Wrap("seen facing the lens", room) {
		beside = append(beside, panel.Line{Text: l, Style: panel.Dim})
	}
	out := make([]callLine, ringRows, ringRows+1)
	for i := range out {
		if out[i].ring = i + 1; i < len(beside) {
			out[i].Line = beside[i]
		}
	}
	return append(out, callLine{})
}

// drawRing draws one line of the ring as seen facing the lens: dots at the hours, the mark and its
// equal place opposite.
func drawRing(w panel.Window, x, y, line int, ringDeg float64) {
	spot := func(deg float64) (int, int) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return int(math.Round(6 + 6*sin)), int(math.Round(3 - 3*cos))
	}
	for h := 0; h < 12; h++ {
		if cx, cy := spot(float64(h) * 30); cy == line {
			w.Set(x+cx, y, '·', panel.Dim)
		}
	}
	for h, t := range map[int]string{0: "12", 3: "3", 6: "6", 9: "9"} {
		if cx, cy := spot(float64(h) * 30); cy == line {
			w.Text(x+cx, y, t, panel.Dim)
		}
	}
	if cx, cy := spot(ringDeg + 180); cy == line {
		w.Set(x+cx, y, '○', panel.Accent)
	}
	if cx, cy := spot(ringDeg); cy == line {
		w.Set(x+cx, y, '●', panel.Accent)
	}
}
