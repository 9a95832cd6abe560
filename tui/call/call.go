// Package call is the answer on the screen: the band that never leaves it, the pane that says what is recommended and
// why, and what of that fits where there are rows to spare.
//
// The one hard idea: it draws a [State] and nothing else. Whoever has the documents and the computation fills it in,
// so that the same answer is drawn wherever there is room for it.
package call

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/ring"
)

// State is what there is to say.
type State struct {
	Report *plan.Report // the last answer, nil before there is one
	Sure   Sureness
	Leg    int          // at the playhead
	Faults field.Faults // why there is no answer for the card as it is

	Ask    func(f field.Fault) string // says a fault of the card in a pilot's words; nil says what was found
	Unread bool                       // the file is no card at all: the faults are its lines'
	Failed string                     // the computation broke down: what it said
	Count  advice.Countdown           // to the take-off
	Stale  bool                       // the answer is that of an earlier card
	Whole  string                     // hints at the key that shows all of a line that is cut
}

// FaultLines lists what is wrong, a line a fault.
func (s *State) FaultLines() []string {
	var list []string
	for _, f := range s.Faults {
		list = append(list, s.said(f))
	}
	return list
}

// Sureness is how sure the call is.
type Sureness struct {
	Known     bool // word and why belong to the report, not to one before it
	Word, Why string
}

// Draw draws the call from a line on, and returns the line it begins with, where the text ends sooner than that, and
// how far down that is, "" where all of it is on the screen.
func Draw(w panel.Window, s *State, top int) (from int, far string) {
	cols, rows := w.Size()
	lines, drawn := s.lines(w.Pen, cols-1)
	top = max(0, min(top, len(lines)-rows))
	if drawn {
		ring.Draw(w, ringX, -top, ring.Small, s.Report.Call.RingDeg)
	}
	for y := 0; y < rows && top+y < len(lines); y++ {
		x := 0
		if drawn && top+y < ring.Small.Rows() {
			x = besideX
		}
		lines[top+y].Draw(w, x, y)
	}
	panel.More(w, top > 0, len(lines) > top+rows)
	if s.Stale && s.Report != nil && len(s.Faults) == 0 {
		w.Fade()
	}
	if len(lines) > rows {
		far = fmt.Sprintf("%d%%", 100*min(len(lines), top+rows)/len(lines))
	}
	return top, far
}

// said says a fault: of a card in a pilot's words, of a file that is none with its line.
func (s *State) said(f field.Fault) string {
	where := f.Field
	switch {
	case s.Ask != nil && !s.Unread:
		return s.Ask(f)
	case f.Line > 0 && s.Unread:
		where = fmt.Sprintf("line %d, %s", f.Line, f.Field)
	}
	return fmt.Sprintf("%s: found %s; allowed: %s", where, f.Found, f.Allowed)
}

// Where the ring stands, and the words beside it.
const ringX = 0

var besideX = ringX + ring.Small.Cols() + 2

// lines sets the call in lines of at most so many columns; drawn tells whether the ring stands before the first.
func (s *State) lines(pen *cells.Pen, cols int) (out []panel.Line, drawn bool) {
	add := func(lines ...panel.Line) { out = append(out, lines...) }
	para := func(lead, text string, style cells.Style) { add(panel.Para(pen, cols, lead, text, style)...) }
	section := func(title string, texts []string, style cells.Style) {
		add(panel.Section(pen, cols, title, texts, style)...)
	}
	if len(s.Faults) > 0 {
		add(panel.Line{Lead: "  ", Text: "No answer for this card", Style: cells.Style{Fg: cells.Bad, Attr: cells.Bold}})
		for _, line := range s.FaultLines() {
			para("! ", line, panel.Plain)
		}
		return out, false
	}
	if s.Failed != "" {
		para("! ", s.Failed, panel.Warn)
	}
	r := s.Report
	if r == nil {
		return out, false
	}
	c := &r.Call
	drawn = c.HasRing && len(out) == 0
	add(mountLines(pen, r, cols, drawn)...)
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
	if sure := &s.Sure; sure.Why != "" {
		style := panel.Plain
		if !sure.Known {
			style = panel.Dim
		}
		title := "How sure: " + sure.Word
		if sure.Word == "close" { // a toss-up says in itself between what
			title = "How sure"
		}
		section(title, []string{sure.Why}, style)
	}
	section("Also looked at", runnersUp(r), panel.Plain)
	section("If the meter disagrees", c.Ladder, panel.Plain)
	if r.Sure != nil && s.Sure.Known {
		section("With any one thing a little off", r.Sure.Words, panel.Plain)
	}
	section("The ring", c.RingHelp, panel.Plain)
	section("Cautions", c.Cautions, panel.Warn)
	return out, drawn
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
		t := legs + ": " + FilterName(&f.Set)
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

// mountLines say what goes on the lens and where its mark stands: beside the drawn ring, or in words where there is
// nothing to turn.
func mountLines(pen *cells.Pen, r *plan.Report, cols int, drawn bool) []panel.Line {
	c := &r.Call
	name := panel.Plainly(pen, words.FilterTitle(c.Filter, c.SettingStops))
	var out []panel.Line
	if !drawn {
		out = append(out, panel.Line{Lead: "  ", Text: name, Style: panel.Strong})
		texts := []string{"nothing to turn"}
		if c.AsDensity {
			texts = []string{"used as a plain density: its ring may stand anywhere"}
		} else if c.HasRing {
			texts = advice.Beside(c, r.Bag)
		}
		for _, t := range texts {
			for _, l := range cells.Wrap(t, max(8, cols-2)) {
				out = append(out, panel.Line{Lead: "  ", Text: l, Style: panel.Dim})
			}
		}
	} else {
		out = append(out, beside(name, r, cols-besideX)...)
		for len(out) < ring.Small.Rows() {
			out = append(out, panel.Line{})
		}
	}
	if front := advice.Front(c, r.Bag); front != "" {
		out = append(out, panel.Line{Lead: "  ", Text: "then front " + front, Style: panel.Strong})
	}
	if drawn && len(out) == ring.Small.Rows() { // of its last line the ring needs half at most
		return out
	}
	return append(out, panel.Line{})
}

// beside returns the words beside the small ring, no more than it has lines.
func beside(name string, r *plan.Report, cols int) []panel.Line {
	out := []panel.Line{{}}
	add := func(text string, style cells.Style) {
		for _, l := range cells.Wrap(text, max(8, cols)) {
			out = append(out, panel.Line{Text: l, Style: style})
		}
	}
	add(name, panel.Strong)
	for i, t := range advice.Beside(&r.Call, r.Bag) {
		add(t, []cells.Style{panel.Strong, panel.Plain, panel.Dim}[min(i, 2)])
	}
	if n := ring.Small.Rows(); len(out) > n && out[0].Text == "" {
		out = out[1:]
	}
	return out[:min(len(out), ring.Small.Rows())]
}
