// Package strip has the measures over the flight as they are drawn, in a terminal or on paper: their names, their units
// and their scales.
//
// The one hard idea: a strip is as high as what it shows needs. Its scale is the smallest of a few round ones that
// holds the whole flight, and is said beside it.
package strip

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/words"
)

// Strip is one measure over flight time.
type Strip struct {
	Name   string
	Unit   string
	one    string    // the unit of one
	down   bool      // it grows downwards: what it says is mostly negative
	tops   []float64 // the scales there are
	digits int
	Swing  bool                                // how far it swings during a leg is said too
	None   string                              // what it says when there is nothing to measure
	At     func(r *plan.Report, i int) float64 // at a moment; NaN where it is not known
}

// The scales of each kind of measure (ours).
var (
	ofStops  = []float64{.5, 1, 2, 3, 4, 6, 8, 10, 12, 16, 20}
	ofShares = []float64{5, 10, 25, 50, 100}
	ofAngles = []float64{5, 10, 20, 50, 100, 200, 500, 1000, 2000}
)

const littleSky = "too little sky in the frame"

// All are all there are; the first four, [Usual], stand there by default.
var All = []Strip{
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

// Usual is how many of [All] are shown by default.
const Usual = 4

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

// Ends returns the range over the flight.
func (st *Strip) Ends(r *plan.Report) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range r.Path {
		if v := st.At(r, i); !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return lo, hi, lo <= hi
}

// Scale returns what the foot and the top of the strip mean, for what a flight has.
func (st *Strip) Scale(lo, hi float64) (foot, top float64) {
	if st.down {
		lo, hi = -hi, -lo
	}
	top = st.holds(hi)
	if st.Figure(lo) != st.Figure(0) && lo < 0 {
		foot = -st.holds(-lo)
	}
	if st.down {
		return -foot, -top
	}
	return foot, top
}

// holds returns the smallest scale that a value fits on as it is written.
func (st *Strip) holds(v float64) float64 {
	half := math.Pow10(-st.digits) / 2
	for _, top := range st.tops {
		if v < top+half {
			return top
		}
	}
	return st.tops[len(st.tops)-1]
}

// ScaleWords writes the scale, with its unit or without.
func (st *Strip) ScaleWords(foot, top float64, unit bool) string {
	number := func(v float64) string {
		switch {
		case v == .5:
			return "½"
		case v == -.5:
			return "−½"
		}
		return words.Minus(fmt.Sprintf("%.0f", v+0))
	}
	if foot > 0 { // what grows downwards
		return "+" + number(foot) + " to " + st.withUnit(number(top), top, unit)
	}
	return number(foot) + " to " + st.withUnit(number(top), top, unit)
}

func (st *Strip) withUnit(text string, v float64, unit bool) string {
	switch {
	case !unit:
		return text
	case math.Abs(v) <= 1:
		return text + " " + st.one
	}
	return text + " " + st.Unit
}

// Span writes a range, or one number where its ends read the same.
func (st *Strip) Span(lo, hi float64) string {
	if st.down { // told from the small end
		lo, hi = hi, lo
	}
	a, b := st.Figure(lo), st.Figure(hi)
	if a == b {
		return a
	}
	return a + " to " + b
}

// Figure writes a value.
func (st *Strip) Figure(v float64) string {
	t := fmt.Sprintf("%.*f", st.digits, v)
	if strings.Trim(t, "-0.") == "" {
		t = strings.TrimPrefix(t, "-")
	}
	return words.Minus(t)
}

// Value returns the number at one moment.
func (st *Strip) Value(r *plan.Report, i int) string {
	if i < 0 {
		return "-"
	}
	v := st.At(r, i)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	return st.Figure(v)
}

// Steady tells whether there is nothing to see over time: nothing measured, or the same all along.
func (st *Strip) Steady(r *plan.Report) bool {
	lo, hi, ok := st.Ends(r)
	return !ok || st.Figure(lo) == st.Figure(hi)
}
