package strip

import (
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"math"
	"slices"
	"testing"
)

// A scale holds what it is for, is never more than about twice as large, and is said with its unit.
func TestScale(t *testing.T) {
	sky, head, cut := &All[0], &All[2], &All[3]
	for _, c := range []struct {
		st     *Strip
		lo, hi float64
		want   string
	}{
		{sky, 0, 0, "0 to −½ stop"},
		{sky, -.4, 0, "0 to −½ stop"},
		{sky, -1.2, -.1, "0 to −2 stops"},
		{sky, -.9, .3, "+½ to −1 stop"},
		{head, 1.8, 5.1, "0 to 6 stops"},
		{head, -.6, 1, "−1 to 1 stop"},
		{head, .1, .54, "0 to ½ stop"}, // written as 0.5
		{head, -2.4, -1.2, "−3 to ½ stop"},
		{cut, 0, 4, "0 to 5 %"},
		{cut, 20, 51, "0 to 100 %"},
		{&All[6], 3, 30, "0 to 50 arcmin a frame"},
	} {
		foot, top := c.st.Scale(c.lo, c.hi)
		if got := c.st.ScaleWords(foot, top, true); got != c.want {
			t.Errorf("%s, %g to %g: %q, want %q", c.st.Name, c.lo, c.hi, got, c.want)
		}
	}
	for v := .0; v < 20; v += .07 {
		_, top := head.Scale(0, v)
		if v > top+.05 || top > .5 && top > 2.01*math.Max(v, .25)+.1 {
			t.Errorf("%g on a scale to %g", v, top)
		}
	}
	if _, top := All[6].Scale(0, 1e6); top != 2000 {
		t.Errorf("more than there is: %g", top)
	}
}

// flightOf is a report of two legs of two moments each, which see this much of everything.
func flightOf(effects [4]float64, sky [4]bool, glare ...plan.Range) *plan.Report {
	r := &plan.Report{Path: make([]shot.Moment, 4), Measures: make([]plan.Measure, 4), Legs: make([]plan.LegReport, len(glare))}
	for i := range 4 {
		r.Path[i].Leg = i / 2
		m := &r.Measures[i]
		m.Effect, m.Unevenness, m.Strength, m.HeadroomEV, m.StepArcmin, m.SkyOK = effects[i], -effects[i], -2*effects[i], 3, math.Inf(1), sky[i]
	}
	for i := range glare {
		r.Legs[i].GlareCut = glare[i]
	}
	return r
}

// What is read off a strip at a moment and over the flight: nothing where nothing was measured, never a zero.
func TestWhatAStripShows(t *testing.T) {
	r := flightOf([4]float64{-.2, -1.26, -.9, 5}, [4]bool{true, true, true, false},
		plan.Range{Min: .2, Max: .4, OK: true}, plan.Range{})
	for _, c := range []struct {
		name   string
		values [4]string
		span   string
		steady bool
	}{
		{"sky effect", [4]string{"−0.2", "−1.3", "−0.9", "-"}, "−0.2 to −1.3", false}, // told from the small end
		{"unevenness", [4]string{"0.2", "1.3", "0.9", "-"}, "0.2 to 1.3", false},
		{"headroom", [4]string{"3.0", "3.0", "3.0", "3.0"}, "3.0", true},
		{"glare cut", [4]string{"30", "30", "-", "-"}, "30", true}, // the middle of a leg's range
		{"strength", [4]string{"0.4", "2.5", "1.8", "-"}, "0.4 to 2.5", false},
		{"haze cut", [4]string{"-", "-", "-", "-"}, "", true},
		{"motion", [4]string{"-", "-", "-", "-"}, "", true}, // what has no end is not shown
	} {
		at := slices.IndexFunc(All, func(st Strip) bool { return st.Name == c.name })
		st := &All[at]
		for i, want := range c.values {
			if got := st.Value(r, i); got != want {
				t.Errorf("%s at %d: %q, want %q", c.name, i, got, want)
			}
		}
		lo, hi, ok := st.Ends(r)
		if ok != (c.span != "") || ok && st.Span(lo, hi) != c.span {
			t.Errorf("%s: %q, %v; want %q", c.name, st.Span(lo, hi), ok, c.span)
		}
		if st.Steady(r) != c.steady {
			t.Errorf("%s: steady is %v", c.name, st.Steady(r))
		}
	}
	if got := All[0].Value(r, -1); got != "-" {
		t.Errorf("before the flight: %q", got)
	}
	if got := All[3].Value(flightOf([4]float64{}, [4]bool{}), 0); got != "-" {
		t.Errorf("a leg that is not in the report: %q", got)
	}
	if got := All[0].Figure(-.04); got != "0.0" {
		t.Errorf("almost nothing: %q", got)
	}
	if got := All[0].ScaleWords(0, -2, false); got != "0 to −2" {
		t.Errorf("without its unit: %q", got)
	}
}
