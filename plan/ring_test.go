package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// evening is a time with the sun about 8° high in the west, and its azimuth.
func evening() (at time.Time, az float64) {
	at = time.Date(2026, 3, 20, 17, 20, 0, 0, time.UTC)
	return at, sun.At(at, 45, 0).AzimuthDeg
}

// Sun abeam and low: the sky wants the pass axis level, water from above wants it upright (common practice,
// no source), and the call says that one of them has to give way. Water far out is another matter: at a
// grazing view it mirrors the sky's own upright polarisation and wants the pass axis level like the sky.
func TestSkyAndWaterConflictWithTheSunAbeam(t *testing.T) {
	_, az := evening()
	l, down := plantest.Push(az+90, 5, 40), plantest.Push(az+90, 5, 40)
	l.Pitch, l.Aim = [2]float64{10, 10}, shot.AimSky
	down.Pitch, down.Aim, down.Ground = [2]float64{-45, -45}, shot.AimBalance, shot.Water
	s := plantest.Flight(17, 19, l, down)
	s.Filter = "CPL"
	bag := *kit.Generic()
	bag.Settings.Weights.Landing = 100
	r := Solve(s, &bag, Options{})
	var said string
	for _, w := range r.Call.Reasons {
		if strings.HasPrefix(w, "sky and water want different rings") {
			said = w
		}
	}
	if !strings.Contains(said, "pass axis upright") {
		t.Fatalf("%q", r.Call.Reasons)
	}
	y := newAnalysis(s, shot.Path(s, 4), everyMoment, newShared(s.Legs[0].Height[0]))
	f, _ := kit.Generic().FilterByName("CPL")
	var sky, water Range
	var skyAt, waterAt float64
	for ring := 0.0; ring < 180; ring += 15 {
		e, g, _, _ := y.overRings(mounting.Way{Filter: &f, Setting: 0, Ring: ring})
		if !sky.OK || e < sky.Min {
			skyAt = kit.PassAxisDeg(ring, 0)
		}
		if !water.OK || g > water.Max {
			waterAt = kit.PassAxisDeg(ring, 0)
		}
		sky.add(e)
		water.add(g)
	}
	if math.Abs(skyAt-90) > 20 || min(waterAt, 180-waterAt) > passUpright {
		t.Errorf("pass axis for the sky %g, for the water %g: want level and upright", skyAt, waterAt)
	}
	far := l
	far.Pitch, far.Ground = [2]float64{-8, -8}, shot.Water
	s = plantest.Flight(17, 19, far)
	y = newAnalysis(s, shot.Path(s, 4), everyMoment, newShared(s.Legs[0].Height[0]))
	_, level, _, _ := y.overRings(mounting.Way{Filter: &f, Ring: kit.RingFor(105, 0)})
	_, upright, _, _ := y.overRings(mounting.Way{Filter: &f, Ring: kit.RingFor(0, 0)})
	if level < 0.1 || upright > 0 {
		t.Errorf("far water: pass axis level takes %.2f of the glare, upright %.2f", level, upright)
	}
}

// With the strongest ring the sky of a wide lens would band: a softer one is taken and it is said why.
func TestSofterRingIsSaid(t *testing.T) {
	at := time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	l := plantest.Push(az+90, 5, 40)
	l.Pitch = [2]float64{6, 6}
	s := plantest.Flight(9, 0, l)
	s.Filter = "CPL"
	r := only(s, "CPL")
	all := strings.Join(r.Call.Reasons, "; ")
	if !strings.Contains(all, "darker but bands the sky") {
		t.Errorf("%q", all)
	}
	if r.Legs[0].Unevenness.Max > 0.9 || r.Legs[0].Effect.Max > -0.2 {
		t.Errorf("unevenness %v, effect %v", r.Legs[0].Unevenness, r.Legs[0].Effect)
	}
	s.RingAuto, s.RingDeg = false, 45
	if all := strings.Join(only(s, "CPL").Call.Reasons, "; "); strings.Contains(all, "but bands") {
		t.Errorf("the card's own ring: %q", all)
	}
}

// What a leg would get with the ring to itself is never less than with the ring in use, and where the legs
// agree nothing is missed.
func TestOwnBest(t *testing.T) {
	s := conflicting()
	bag := *kit.Generic()
	bag.Settings.Weights.Landing = 100 // one ring for all
	s.Filter = "CPL"
	r := Solve(s, &bag, Options{})
	var missed float64
	for i, l := range r.Legs {
		if l.OwnBest == nil || l.OwnBest.Missed < 0 || math.IsNaN(l.OwnBest.Effect) {
			t.Fatalf("leg %d: %+v", i+1, l.OwnBest)
		}
		if l.OwnBest.Missed > 0.01 && l.OwnBest.RingDeg == r.Call.RingDeg {
			t.Errorf("leg %d misses %.2f at the ring in use", i+1, l.OwnBest.Missed)
		}
		missed = max(missed, l.OwnBest.Missed)
	}
	if missed < missedLeg || !strings.Contains(strings.Join(append(r.Legs[0].Notes, r.Legs[2].Notes...), "; "), "alone this leg would want the mark at") {
		t.Errorf("missed %.2f: %q, %q", missed, r.Legs[0].Notes, r.Legs[2].Notes)
	}
	same := plantest.Flight(10, 30, conflicting().Legs[0], conflicting().Legs[1])
	same.Filter = "CPL"
	for _, l := range Solve(same, &bag, Options{}).Legs {
		if l.OwnBest.Missed > 0.02 {
			t.Errorf("equal legs: %+v", l.OwnBest)
		}
	}
	if l := only(same, "ND16").Legs[0]; l.OwnBest != nil {
		t.Errorf("a density: %+v", l.OwnBest)
	}
}

// The help names the clock, both ways to read it, and no angle in degrees but the slope of the floor.
func TestRingHelp(t *testing.T) {
	for name, want := range map[string][]string{
		"CPL":            {"1:30 or 7:30", "37° below", "12:00 or 6:00"},
		"variable 1.6-5": {"rear sheet", "front sheet alone"},
	} {
		f, _ := kit.Generic().FilterByName(name)
		all := strings.Join(mounting.RingHelp(&f, 45), "\n")
		for _, w := range append(want, "Power off", "top of the camera's housing") {
			if !strings.Contains(all, w) {
				t.Errorf("%s: no %q in\n%s", name, w, all)
			}
		}
		if strings.Count(all, "°") != strings.Count(all, "37°") {
			t.Errorf("%s: %s", name, all)
		}
	}
	turned := kit.Filter{Name: "x", Kind: kit.Polariser, LossStops: 1.5, MarkDeg: 90, Ring: kit.RingClicks, ClickDeg: 15}
	all := strings.Join(mounting.RingHelp(&turned, 45), "\n")
	if !strings.Contains(all, "with the mark at 3:00 or 9:00") || !strings.Contains(all, "3 clicks clockwise") {
		t.Errorf("%s", all)
	}
	fixed := kit.Filter{Name: "x", Kind: kit.Polariser, Ring: kit.RingFixed, FixedDeg: 30}
	if all := strings.Join(mounting.RingHelp(&fixed, 30), "\n"); !strings.Contains(all, "is fixed") {
		t.Errorf("%s", all)
	}
	nd := kit.Filter{Name: "x", Kind: kit.Density}
	if mounting.RingHelp(nil, 0) != nil || mounting.RingHelp(&nd, 0) != nil {
		t.Error("nothing to set has help")
	}
}

// The check that is proposed is right: of the glare off a level mirror 37° below the horizon the ring it
// names for MarkDeg leaves the least, and a quarter turn on the most (Brewster's angle).
func TestRingHelpNamesTheLeastGlare(t *testing.T) {
	_, az := evening()
	for _, mark := range []float64{0, 30, 90} {
		f := kit.Filter{Name: "x", Kind: kit.Polariser, LossStops: 1.5, MarkDeg: mark}
		l := plantest.Push(az+180, 0, 20)
		l.Pitch, l.Ground, l.Aim = [2]float64{-mounting.BrewsterDownDeg, -mounting.BrewsterDownDeg}, shot.Town, shot.AimWater
		s := plantest.Flight(12, 0, l)
		s.Light.CloudPct = 100
		y := newAnalysis(s, shot.Path(s, 2), everyMoment, newShared(s.Legs[0].Height[0]))
		glare := func(ring float64) float64 {
			return y.opticsOf(y.legs[0], mounting.Way{Filter: &f, Setting: 0, Ring: ring}).glare
		}
		upright := kit.RingFor(0, mark)
		for ring := 0.0; ring < 180; ring += 15 {
			if g := glare(ring); g > glare(upright)+0.02 || g < glare(upright+90)-0.02 {
				t.Errorf("mark_deg %g: ring %g leaves %.2f, upright %.2f, level %.2f", mark, ring, g, glare(upright), glare(upright+90))
			}
		}
	}
}

// A ring that is searched in coarse steps is tried on both sides of the best of them: none is out of reach, and the last
// place is beside the first.
func TestNoRingIsOutOfReach(t *testing.T) {
	pair := &kit.Filter{Kind: kit.Variable, FromStops: 2, ToStops: 5}
	r := ringSearch{filter: pair, rings: mounting.Rings(pair)}
	coarse := r.coarse()
	reached := map[int]bool{}
	for _, r.at = range coarse {
		reached[r.at] = true
		for _, i := range r.beside() {
			if n := len(r.rings); (i-r.at+n)%n != 1 && (r.at-i+n)%n != 1 {
				t.Errorf("%d is tried beside %d", i, r.at)
			}
			reached[i] = true
		}
	}
	if len(coarse) > 4 || len(reached) != len(r.rings) {
		t.Errorf("of %d rings %v are tried first, and %d can be reached", len(r.rings), coarse, len(reached))
	}
}
