package advice

import (
	"example.org/skywedge/plan/shot"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
)

// The brief is six lines, each of which says something of a call that has nothing to say, too.
func TestBriefHasSixLines(t *testing.T) {
	with := func(change func(r *plan.Report)) *plan.Report {
		r := &plan.Report{Shot: plantest.Flight(12, 0, plantest.Push(0, 8, 20)), FlightMin: 12.4, Batteries: 1}
		r.Call.Filter = "none"
		change(r)
		return r
	}
	for name, c := range map[string]struct {
		r    *plan.Report
		want map[int]string // parts of lines
	}{
		"bare": {with(func(r *plan.Report) {}), map[int]string{
			0: "flight 12 min, 1 battery", 1: "bare · ", 2: "no leg yet", 3: "nothing speaks for a filter", 4: "ladder: none needed; ", 5: "caution: power off before changing filters"}},
		"a call": {with(func(r *plan.Report) {
			r.Batteries = 3
			r.Call = plan.Call{Filter: "ND16/PL", HasRing: true, RingDeg: 45, Reasons: []string{"why"}, Ladder: []string{"expect the meter at +⅓", "meter a stop over: 1/100"}, Cautions: []string{"mind"}}
		}), map[int]string{0: ", 3 batteries", 1: "ND16/PL · mark at 1:30", 3: "why", 4: "ladder: meter a stop over: 1/100; ", 5: "caution: mind"}},
		"two flights": {with(func(r *plan.Report) {
			r.Flights = []plan.Flight{{Set: plan.Call{Filter: "variable", SettingStops: 4, AsDensity: true}}, {Set: plan.Call{Filter: "none"}}}
		}), map[int]string{1: " as a plain density, ring anywhere, then bare"}},
	} {
		lines := strings.Split(strings.TrimSuffix(Brief(c.r), "\n"), "\n")
		if len(lines) != 6 {
			t.Fatalf("%s: %d lines\n%s", name, len(lines), strings.Join(lines, "\n"))
		}
		for i, part := range c.want {
			if !strings.Contains(lines[i], part) {
				t.Errorf("%s: line %d is %q, want %q in it", name, i, lines[i], part)
			}
		}
	}
}

// Each leg is told with what to lock; legs in a row that are locked alike are told once, and one that cannot be exposed by
// how much it falls short.
func TestTheBriefLocksEachLeg(t *testing.T) {
	leg := func(shutter float64, feasible bool) plan.LegReport {
		return plan.LegReport{Shutter: one(shutter), ISO: one(100), WBK: 5500, Feasible: feasible, ShortStops: 2}
	}
	legs := []shot.Leg{plantest.Push(0, 8, 20), plantest.Push(0, 8, 20), plantest.Push(0, 8, 20), plantest.Push(0, 8, 20)}
	r := &plan.Report{Shot: plantest.Flight(12, 0, legs...), FlightMin: 12.4, Batteries: 1,
		Legs: []plan.LegReport{leg(.02, true), leg(.02, true), leg(.01, true), leg(.02, false)}}
	r.Call.Filter = "none"
	const want = "legs 1 and 2: 1/50, ISO 100, 5500 K, meter at 0; leg 3: 1/100, ISO 100, 5500 K, meter at 0; leg 4: cannot be exposed: 2 stops short at ISO 6400 and 1/50"
	if got := strings.Split(Brief(r), "\n")[2]; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	var numbers []string
	for _, l := range Locks(r) {
		numbers = append(numbers, l.Numbers())
	}
	if got := strings.Join(numbers, " "); got != "1-2 3 4" {
		t.Errorf("%q", got)
	}
}
