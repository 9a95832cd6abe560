package mounting

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
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

// Whatever of a filter changes what it does to polarisation changes its key: one field after the other is changed, all that
// there are, and the answer along a slanted ray compared. What takes from all light alike does not count.
func TestKeysTellFiltersApart(t *testing.T) {
	ray := r3.Unit(r3.Vec{X: .5, Y: .3, Z: 1})
	answer := func(m Way) (v [5]float64) {
		mount := m.Filter.Mount(m.Ring, m.Setting)
		a := mount.Answer(ray)
		if m.Kind() == kit.Variable { // how its loss changes off the axis follows the angle between its sheets
			v[0] = a.T * math.Exp2(m.Loss())
		}
		v[1], v[2], v[3], v[4] = a.D, a.Pass.X, a.Pass.Y, a.Pass.Z
		return v
	}
	for _, c := range []struct {
		f    kit.Filter
		told string // by which fields, in the order of the alphabet
	}{
		{kit.Filter{Kind: kit.Polariser, LossStops: 1.5}, "MarkDeg"},
		{kit.Filter{Kind: kit.Hybrid, Stops: 4, LossStops: 1.4, MarkDeg: 30}, "MarkDeg"},
		{kit.Filter{Kind: kit.Variable, FromStops: 2, ToStops: 5, RearDeg: 20}, "FixedStops Measured OpensCW RearDeg"},
		{kit.Filter{Kind: kit.Variable, FromStops: .6, ToStops: 5}, "FromStops Measured OpensCW RearDeg"}, // its sheets are clearer, by as much as a density in the mount takes
		{kit.Filter{Kind: kit.Variable, FromStops: 6, ToStops: 9, FixedStops: 4, OpensCW: true, Measured: [][2]float64{{6, 6.2}, {9, 9.1}}},
			"FixedStops Measured OpensCW RearDeg"},
	} {
		f := c.f
		told := map[string]bool{}
		for i := range reflect.TypeFor[kit.Filter]().NumField() {
			changed := f
			switch v := reflect.ValueOf(&changed).Elem().Field(i); v.Interface().(type) {
			case float64:
				v.SetFloat(v.Float() + 1)
			case bool:
				v.SetBool(!v.Bool())
			case [][2]float64:
				v.Set(reflect.ValueOf([][2]float64{{6, 7}}))
			case string:
				v.SetString("1/2") // a grade, or any name
			case []float64, kit.RingKind: // which places and settings there are, not what they do
			case kit.Kind:
				continue
			default:
				t.Fatalf("a field of another type: %s", v.Type())
			}
			setting := (f.FromStops + f.ToStops) / 2
			a, b := Way{&f, setting, 15}, Way{&changed, setting, 15}
			name := reflect.TypeFor[kit.Filter]().Field(i).Name
			before, after := answer(a), answer(b)
			if slices.ContainsFunc([]int{0, 1, 2, 3, 4}, func(k int) bool { return math.Abs(before[k]-after[k]) > 1e-9 }) {
				told[name] = true
				if a.Key() == b.Key() {
					t.Errorf("%s: two that differ by %s have one key", f.Kind, name)
				}
			}
		}
		if got := slices.Sorted(maps.Keys(told)); !slices.Equal(got, strings.Fields(c.told)) {
			t.Errorf("%s: what it does changes with %q, want %q", f.Kind, got, c.told)
		}
	}
}
