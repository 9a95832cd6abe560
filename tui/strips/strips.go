// Package strips draws measures over the flight, as strips with the legs and the playhead above them.
//
// The one hard idea: a strip is as high as what it shows needs. Its scale is the smallest of a few round ones that
// holds the whole flight, and is said beside it; what stays the same all along takes one line, and the others get
// the room.
package strips

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/panel"
)

// strip is one measure over flight time.
type strip struct {
	name   string
	unit   string
	one    string    // the unit of one
	down   bool      // it grows downwards: what it says is mostly negative
	tops   []float64 // the scales there are
	digits int
	swing  bool
	none   string // what it says when there is nothing to measure
	at     func(r *plan.Report, i int) float64
}

// The scales of each kind of measure (ours).
var (
	ofStops  = []float64{.5, 1, 2, 3, 4, 6, 8, 10, 12, 16, 20}
	ofShares = []float64{5, 10, 25, 50, 100}
	ofAngles = []float64{5, 10, 20, 50, 100, 200, 500, 1000, 2000}
)

const littleSky = "too little sky in the frame"

// all are all there are; the first four stand there by default.
var all = []strip{
	{"sky effect", "stops", "stop", true, ofStops, 1, true, littleSky, func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Effect) }},
	{"unevenness", "stops", "stop", false, ofStops, 1, false, littleSky, func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Unevenness) }},
	{"headroom", "stops", "stop", false, ofStops, 1, false, "not measured", func(r *plan.Report, i int) float64 { return r.Measures[i].HeadroomEV }},
	{"glare cut", "%", "%", false, ofShares, 0, false, "no water in the frame", func(r *plan.Report, i int) float64 {
		return 100 * ofLeg(r, i, func(l *plan.LegReport) plan.Range { return l.GlareCut })
	}},
	{"strength", "stops", "stop", false, ofStops, 1, false, littleSky, func(r *plan.Report, i int) float64 { return ifSky(r, i, r.Measures[i].Strength) }},
	{"haze cut", "%", "%", false, ofShares, 0, false, "no haze measured", func(r *plan.Report, i int) float64 {
		return 100 * ofLeg(r, i, func(l *plan.LegReport) plan.Range { return l.HazeCut })
	}},
	{"motion", "arcmin a frame", "arcmin a frame", false, ofAngles, 0, false, "not measured", func(r *plan.Report, i int) float64 { return r.Measures[i].StepArcmin }},
}

// shown returns the strips on the screen.
func shown(more bool) []strip {
	if more {
		return all[4:]
	}
	return all[:4]
}

// Count returns how many strips are shown.
func Count(more bool) int { return len(shown(more)) }

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

// scale returns what the foot and the top of the strip mean, for what a flight has.
func (st *strip) scale(lo, hi float64) (foot, top float64) {
	if st.down {
		lo, hi = -hi, -lo
	}
	top = st.holds(hi)
	if st.figure(lo) != st.figure(0) && lo < 0 {
		foot = -st.holds(-lo)
	}
	if st.down {
		return -foot, -top
	}
	return foot, top
}

// holds returns the smallest scale that a value fits on as it is written.
func (st *strip) holds(v float64) float64 {
	half := math.Pow10(-st.digits) / 2
	for _, top := range st.tops {
		if v < top+half {
			return top
		}
	}
	return st.tops[len(st.tops)-1]
}

// scaleWords writes the scale, with its unit or without.
func (st *strip) scaleWords(foot, top float64, unit bool) string {
	number := func(v float64) string {
		switch {
		case v == .5:
			return "½"
		case v == -.5:
			return "−½"
		}
		return panel.Minus(fmt.Sprintf("%.0f", v+0))
	}
	if foot > 0 { // what grows downwards
		return "+" + number(foot) + " to " + st.withUnit(number(top), top, unit)
	}
	return number(foot) + " to " + st.withUnit(number(top), top, unit)
}

func (st *strip) withUnit(text string, v float64, unit bool) string {
	switch {
	case !unit:
		return text
	case math.Abs(v) <= 1:
		return text + " " + st.one
	}
	return text + " " + st.unit
}

// span writes a range, or one number where its ends read the same.
func (st *strip) span(lo, hi float64) string {
	if st.down { // told from the small end
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
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
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

// steady tells whether there is nothing to see over time: nothing measured, or the same all along.
func (st *strip) steady(r *plan.Report) bool {
	lo, hi, ok := st.ends(r)
	return !ok || st.figure(lo) == st.figure(hi)
}
