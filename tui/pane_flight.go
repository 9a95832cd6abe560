package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// strip is one measure over flight time.
type strip struct {
	name   string
	unit   string
	lo, hi float64 // what the foot and the top of the strip mean; the same for every shot, so that shots compare
	digits int
	swing  bool
	none   string // what it says when there is nothing to measure
	at     func(r *plan.Report, i int) float64
}

// strips are all there are; the first four stand there by default.
var strips = []strip{
	{"sky effect", "stops", 0, -2.5, 1, true, "too little sky in the frame", func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Effect) }},
	{"unevenness", "stops", 0, 2, 1, false, "too little sky in the frame", func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Unevenness) }},
	{"headroom", "stops", -1, 4, 1, false, "not measured", func(r *plan.Report, i int) float64 { return r.Measures[i].HeadroomEV }},
	{"glare cut", "%", 0, 100, 0, false, "no water in the frame", func(r *plan.Report, i int) float64 {
		return 100 * ofLeg(r, i, func(l *plan.LegReport) plan.Range { return l.GlareCut })
	}},
	{"strength", "stops", 0, 3, 1, false, "too little sky in the frame", func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Strength) }},
	{"haze cut", "%", 0, 50, 0, false, "no haze measured", func(r *plan.Report, i int) float64 {
		return 100 * ofLeg(r, i, func(l *plan.LegReport) plan.Range { return l.HazeCut })
	}},
	{"motion", "arcmin a frame", 0, 30, 0, false, "not measured", func(r *plan.Report, i int) float64 { return r.Measures[i].StepArcmin }},
}

// stripsShown returns the strips on the screen.
func stripsShown(more bool) []strip {
	if more {
		return strips[4:]
	}
	return strips[:4]
}

func ifSky(r *plan.Report, i int, v float64) float64 {
	if !r.Measures[i].SkyOK {
		return math.NaN()
	}
	return v
}

// ofLeg returns a measure that is known for whole legs: the middle of its range.
func ofLeg(r *plan.Report, i int, pick func(l *plan.LegReport) plan.Range) float64 {
	leg := r.Path[i].Leg
	if leg >= len(r.Legs) {
		return math.NaN()
	}
	g := pick(&r.Legs[leg])
	if !g.OK {
		return math.NaN()
	}
	return (g.Min + g.Max) / 2
}

// flightPane draws strips over flight time with the legs and the playhead.
func (s *screen) flightPane(m *model, w panel.Window) {
	cols, rows := w.Size()
	r := m.calc.report
	right := ""
	if r != nil {
		right = panel.FlightTime(m.calc.length())
	}
	s.header(m, w, paneFlight, right)
	if r == nil || len(r.Path) == 0 || len(r.Measures) < len(r.Path) || rows < 3 {
		return
	}
	show := stripsShown(m.more[paneFlight])
	body := w.Sub(0, 1, cols, rows-1)
	if tallRows := (rows - 2) / len(show); tallRows >= 2 {
		plot := body
		s.ruler(m, plot, 0, cols)
		for i := range show {
			y := 1 + i*tallRows
			s.stripWords(m, body, &show[i], y, cols)
			bars := tallRows - 1
			if bars > 2 {
				bars-- // a blank line keeps the strips apart
			}
			s.stripBars(m, body, &show[i], 0, y+1, cols, bars)
		}
	} else {
		const name, enough = 11, 12
		numbers := 16
		if cols-name-numbers-1 < enough { // rather the strip than its range
			numbers = 5
		}
		width := cols - name - numbers - 1
		s.ruler(m, body.Sub(name, 0, width, 1), 0, width)
		for i := range show {
			y := 1 + i
			body.TextIn(0, y, name-1, show[i].name, panel.Dim)
			s.stripBars(m, body, &show[i], name, y, width, 1)
			lo, hi, ok := show[i].ends(r)
			text := "-"
			if ok {
				text = strings.Replace(show[i].span(lo, hi), " to ", "..", 1)
			}
			body.TextIn(name+width+1, y, numbers-6, text, panel.Dim)
			body.TextRight(cols, y, show[i].value(r, m.calc.at(m.second)), panel.Strong)
		}
	}
	if m.stale() {
		w.Fade()
	}
}

// ruler names the legs over the time they take and marks the playhead.
func (s *screen) ruler(m *model, w panel.Window, y, cols int) {
	r := m.calc.report
	length := m.calc.length()
	for x := 0; x < cols; x++ {
		w.Set(x, y, '╌', panel.Faint)
	}
	for i := range r.Legs {
		x := column(r.Legs[i].FromS, length, cols)
		end := column(r.Legs[i].ToS, length, cols)
		w.Set(x, y, '│', panel.Dim)
		text := fmt.Sprintf("%d %s", i+1, r.Legs[i].Move)
		if cells.Width(text) > end-x-2 {
			text = fmt.Sprint(i + 1)
		}
		if cells.Width(text) <= end-x-1 {
			w.Text(x+1, y, text+" ", panel.Dim)
		}
	}
	w.Set(column(m.second, length, cols), y, '▼', panel.Accent)
	w.OnClick(panel.Box(0, y, cols, 1), func(_ panel.Bench, x, _ int) {
		m.focus = paneFlight
		m.playTo(float64(x) / float64(max(1, cols-1)) * m.calc.length())
	})
}

// column returns the column of a second of the flight.
func column(second, length float64, cols int) int {
	if length <= 0 {
		return 0
	}
	return max(0, min(cols-1, int(math.Round(second/length*float64(cols-1)))))
}

// stripBars draws the strip itself; the column at the playhead stands out.
func (s *screen) stripBars(m *model, w panel.Window, st *strip, x, y, cols, rows int) {
	if cols < 2 || rows < 1 {
		return
	}
	r := m.calc.report
	length := m.calc.length()
	values := make([]float64, cols)
	for i := range values {
		k := m.calc.at(float64(i) / float64(cols-1) * length)
		values[i] = (st.at(r, k) - st.lo) / (st.hi - st.lo)
	}
	w.Bars(x, y, rows, values, cells.Style{Fg: cells.Chart}, cells.ChartLow)
	at := column(m.second, length, cols)
	w.Bars(x+at, y, rows, values[at:at+1], cells.Style{Fg: cells.Accent}, cells.PickGround)
	w.OnClick(panel.Box(x, y, cols, rows), func(_ panel.Bench, cx, _ int) {
		m.focus = paneFlight
		m.playTo(float64(cx-x) / float64(cols-1) * m.calc.length())
	})
}

// stripWords says in numbers what the strip shows.
func (s *screen) stripWords(m *model, w panel.Window, st *strip, y, cols int) {
	r := m.calc.report
	x := w.Text(0, y, st.name, panel.Plain)
	lo, hi, ok := st.ends(r)
	if !ok {
		w.TextIn(x+2, y, cols-x-2, st.none, panel.Dim)
		return
	}
	value := st.value(r, m.calc.at(m.second))
	swing := ""
	if st.swing {
		worst := 0.0
		for i := range r.Legs {
			if g := r.Legs[i].Swing; g.OK {
				worst = math.Max(worst, math.Abs(g.Max))
			}
		}
		if worst > 0 {
			swing = fmt.Sprintf(", swing %.1f", worst)
		}
	}
	span := st.span(lo, hi)
	for _, text := range []string{span + " " + st.unit + swing, span + swing, span + " " + st.unit, span} {
		if x+2+cells.Width(text)+1+cells.Width(value) <= cols { // the fullest that fits
			w.Text(x+2, y, text, panel.Dim)
			break
		}
	}
	w.TextRight(cols, y, value, panel.Strong)
}

// ends returns the range over the flight.
func (st *strip) ends(r *plan.Report) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range r.Path {
		if v := st.at(r, i); !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return lo, hi, lo <= hi
}

// span writes a range, or one number where its ends read the same.
func (st *strip) span(lo, hi float64) string {
	if st.hi < st.lo { // what grows downwards is told from the small end
		lo, hi = hi, lo
	}
	a, b := st.figure(lo), st.figure(hi)
	if a == b {
		return a
	}
	return a + " to " + b
}

func (st *strip) figure(v float64) string {
	t := fmt.Sprintf("%.*f", st.digits, v)
	if t == "-0.0" || t == "-0" {
		t = t[1:]
	}
	return panel.Minus(t)
}

// value returns the number at one moment.
func (st *strip) value(r *plan.Report, i int) string {
	if i < 0 {
		return "-"
	}
	v := st.at(r, i)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	return st.figure(v)
}
