package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
)

// glass is what stands before the lens: a filter at a setting and a ring, or nothing.
type glass struct {
	filter        *kit.Filter // nil: bare
	setting, ring float64
}

func (g glass) bare() bool { return g.filter == nil }

func (g glass) options(second float64, w, h int) plan.FrameOptions {
	o := plan.FrameOptions{Second: second, Filter: "none", W: w, H: h}
	if !g.bare() {
		o.Filter, o.Setting, o.Ring = g.filter.Name, g.setting, g.ring
	}
	return o
}

// glass finds the filter that the command line asks for. What it leaves open is as the call has it,
// or, for another filter than the call's, as that filter does best on this flight.
func (q *frameWish) glass(r *plan.Report) (glass, error) {
	name := q.filter
	if name == "" {
		name = q.call(r).Filter
	}
	if q.bare || name == "none" {
		if q.hasRing || q.hasSetting {
			return glass{}, fmt.Errorf("without a filter there is no ring and no setting: name one of the bag's with --filter: %s", filterNames(r.Bag))
		}
		return glass{}, nil
	}
	f, ok := r.Bag.FilterByName(name)
	if !ok {
		return glass{}, fmt.Errorf("there is no filter %q in the bag: give none or one of %s", name, filterNames(r.Bag))
	}
	g := glass{filter: &f, setting: f.Settings()[0], ring: f.FixedDeg}
	if q.hasSetting {
		if err := usable(f, q.setting); err != nil {
			return glass{}, err
		}
		g.setting = q.setting
	}
	if q.hasRing {
		if err := turnable(f, q.ring); err != nil {
			return glass{}, err
		}
	}
	g.asOnThisFlight(q, r)
	return g, nil
}

// call returns what is set on the flight of that second.
func (q *frameWish) call(r *plan.Report) *plan.Call {
	if f := r.FlightOf(r.Shot.MomentAt(q.second).Leg); f != nil {
		return &f.Set
	}
	return &r.Call
}

// asOnThisFlight fills in the setting and the ring that were not given.
func (g *glass) asOnThisFlight(q *frameWish, r *plan.Report) {
	ring, found := 0.0, false
	if c := q.call(r); c.Filter == g.filter.Name && (!q.hasSetting || c.SettingStops == g.setting) {
		ring, found = c.RingDeg, true
		if g.filter.Kind == kit.Variable && !q.hasSetting {
			g.setting = c.SettingStops
		}
	}
	// the candidates come best first; of a variable the one at the setting asked for is preferred
	for _, exact := range []bool{true, false} {
		for _, k := range r.Candidates {
			if found || k.Filter != g.filter.Name || exact && q.hasSetting && k.SettingStops != g.setting {
				continue
			}
			ring, found = k.RingDeg, true
			if g.filter.Kind == kit.Variable && !q.hasSetting {
				g.setting = k.SettingStops
			}
		}
	}
	switch {
	case !g.filter.Polarises():
		g.ring = 0
	case g.filter.Ring == kit.RingFixed:
		g.ring = g.filter.FixedDeg
	case q.hasRing:
		g.ring = halfTurn(q.ring)
	case !r.Shot.RingAuto:
		g.ring = r.Shot.RingDeg
	default:
		g.ring = ring
	}
}

// halfTurn brings a ring into 0 ≤ ring < 180.
func halfTurn(deg float64) float64 {
	a := math.Mod(deg, 180)
	if a < 0 {
		a += 180
	}
	return math.Mod(a, 180)
}

// usable tells whether a filter can be set to so many stops. A variable stops at its marks and at its
// two ends; between them only when it has no marks, or when its owner says so.
func usable(f kit.Filter, setting float64) error {
	const near = 1e-6
	if f.Kind != kit.Variable {
		return fmt.Errorf("%s has no setting: it is not a variable filter", f.Name)
	}
	if f.Between || len(f.Marks) == 0 {
		if setting >= f.FromStops-near && setting <= f.ToStops+near {
			return nil
		}
		return fmt.Errorf("%s cannot be set to %g stops: give %g to %g", f.Name, setting, f.FromStops, f.ToStops)
	}
	for _, s := range append(f.Settings(), f.FromStops, f.ToStops) {
		if math.Abs(s-setting) < near {
			return nil
		}
	}
	var words []string
	for _, s := range f.Settings() {
		words = append(words, strconv.FormatFloat(s, 'g', -1, 64))
	}
	return fmt.Errorf("%s cannot be set to %g stops: its marks are %s (between: true in the bag allows what lies between them)",
		f.Name, setting, strings.Join(words, ", "))
}

// turnable tells whether a filter's mark can stand at an angle.
func turnable(f kit.Filter, ring float64) error {
	off := func(a, period float64) bool { return math.Abs(math.Remainder(a, period)) > 1e-6 }
	switch {
	case !f.Polarises():
		return fmt.Errorf("%s has no ring that changes the picture: leave --ring out", f.Name)
	case f.Ring == kit.RingFixed && off(ring-f.FixedDeg, 180):
		return fmt.Errorf("the ring of %s is fixed with its mark at %g°: leave --ring out", f.Name, f.FixedDeg)
	case f.Ring == kit.RingClicks && f.ClickDeg > 0 && off(halfTurn(ring), f.ClickDeg):
		return fmt.Errorf("the ring of %s clicks every %g°: %g° lies between two clicks", f.Name, f.ClickDeg, ring)
	}
	return nil
}

func filterNames(b *kit.Bag) string {
	var names []string
	for _, f := range b.Filters {
		names = append(names, strconv.Quote(f.Name))
	}
	return strings.Join(names, ", ")
}
