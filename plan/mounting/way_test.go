package mounting

import (
	"slices"
	"testing"

	"example.org/skywedge/kit"
)

// A ring's places go half way round, where the same begin again; one that clicks finely is tried in steps of several.
func TestRings(t *testing.T) {
	for _, c := range []struct {
		f    kit.Filter
		want []float64
	}{
		{kit.Filter{Kind: kit.Density}, []float64{0}},
		{kit.Filter{Kind: kit.Polariser}, []float64{0, 15, 30, 45, 60, 75, 90, 105, 120, 135, 150, 165}},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingFixed, FixedDeg: 40}, []float64{40}},
		{kit.Filter{Kind: kit.Hybrid, Ring: kit.RingClicks, ClickDeg: 30}, []float64{0, 30, 60, 90, 120, 150}},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingClicks, ClickDeg: 6}, []float64{0, 12, 24, 36, 48, 60, 72, 84, 96, 108, 120, 132, 144, 156, 168}},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingClicks, ClickDeg: 50}, []float64{0, 50, 100, 150}},
	} {
		if got := Rings(&c.f); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %v, want %v", c.f, got, c.want)
		}
	}
}

// The meter reads alike through what lets the same light in, and is asked anew through everything else.
func TestMeterKeys(t *testing.T) {
	nd, other := &kit.Filter{Name: "a", Kind: kit.Density, Stops: 4}, &kit.Filter{Name: "b", Kind: kit.Density, Stops: 4}
	cpl, pair := &kit.Filter{Name: "c", Kind: kit.Polariser, LossStops: 1.5}, &kit.Filter{Name: "d", Kind: kit.Variable, FromStops: 2, ToStops: 5}
	ways := []Way{{}, {Filter: nd}, {Filter: other}, {Filter: cpl}, {Filter: cpl, Ring: 15}, {Filter: pair, Setting: 2}, {Filter: pair, Setting: 3}, {Filter: pair, Setting: 3, Ring: 15}}
	for i, a := range ways {
		for k, b := range ways {
			if (a.MeterKey() == b.MeterKey()) != (i == k) {
				t.Errorf("%s at %g, ring %g, and %s at %g, ring %g: one key %v", a.Name(), a.Setting, a.Ring, b.Name(), b.Setting, b.Ring, i != k)
			}
		}
	}
	for _, same := range [][2]Way{{{Filter: nd}, {Filter: nd, Ring: 90}}, {{Filter: cpl}, {Filter: cpl, Ring: 180}}} {
		if same[0].MeterKey() != same[1].MeterKey() {
			t.Errorf("%s is read twice", same[0].Name())
		}
	}
}
