package measure

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

var forward = r3.Vec{Z: 1}

func pow2(x float64) float64 { return math.Exp2(x) }

const bagText = `skywedge_bag: 1
cameras:
  - {name: c, sensor_mm: [12, 8], pixels: [4800, 3200], focal_mm: 8, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}}
filters: # mine
  - {name: pol, kind: polariser, measured_stops: 1.6, measured_on: 2025-01-01}
  - {name: nd, kind: density, stops: 3} # old
  - {name: both, kind: hybrid, stops: 4, loss_stops: 1.4}
  - {name: turn, kind: variable, from_stops: 2, to_stops: 5, marks: [2, 3, 4], measured: [[2, 2.2], [4, 4.4]], measured_on: 2025-01-01}
  - {name: soft, kind: diffusion, grade: 1/4}
  - {name: soft pol, kind: polariser, grade: 1/4}
`

func bag(t *testing.T) *kit.Bag {
	t.Helper()
	b, faults := kit.ReadBag("bag.yaml", []byte(bagText))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

// What is measured stands in the field of its kind, and from then on the filter takes just that.
func TestIntoTheBag(t *testing.T) {
	result := func(f kit.Filter, stops float64) *Result {
		return &Result{Filter: f, ColourKnown: true, Groups: []Group{{SettingStops: 3, Stops: stops, StopsError: 0.06, CastMired: 12.4, CastError: 4, Tint: -3.2}}}
	}
	for name, tt := range map[string]struct {
		stops float64
		has   []string
		takes float64
	}{
		"pol":      {1.42, []string{"loss_stops: 1.42", "measured_on: 2026-09-18"}, 1.42},
		"nd":       {3.24, []string{"measured_stops: 3.24", "stops: 3,", "# old"}, 3.24},
		"both":     {5.7, []string{"stops: 4.3", "loss_stops: 1.4"}, 5.7},
		"turn":     {3.31, []string{"measured: [[2, 2.2], [3, 3.31], [4, 4.4]]"}, 3.31},
		"soft":     {0.2, []string{"measured_stops: 0.2"}, 0.2},
		"soft pol": {1.6, []string{"loss_stops: 1.5"}, 1.6},
	} {
		b := bag(t)
		f, _ := b.FilterByName(name)
		edits, faults := Edits(b, name, result(f, tt.stops), nil, "2026-09-18")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		next, faults := Write(b, name, edits)
		if len(faults) > 0 {
			t.Errorf("%s: %v", name, faults)
			continue
		}
		line := ""
		for l := range strings.Lines(string(next.Doc.Bytes())) {
			if strings.Contains(l, "name: "+name+",") {
				line = l
			}
		}
		for _, want := range append(tt.has, "measured_error_stops: 0.06", "cast_mired: 12", "cast_error_mired: 4", "tint: -3") {
			if !strings.Contains(line, want) {
				t.Errorf("%s has no %s: %s", name, want, line)
			}
		}
		f, _ = next.FilterByName(name)
		near(t, name+" takes", f.TotalStops(3), tt.takes, 1e-9)
		m := f.Mount(0, 3)
		passed, _, _ := m.Parts(forward)
		near(t, name+" on the lens", passed, 1/pow2(tt.takes), 1e-3)
		for i, other := range next.Filters {
			if other.Name != name && other.TotalStops(3) != b.Filters[i].TotalStops(3) {
				t.Errorf("%s changed %s", name, other.Name)
			}
		}
		if again, _ := Edits(next, name, result(f, tt.stops), nil, "2026-09-18"); len(again) > 0 {
			t.Errorf("%s: written twice: %v", name, again)
		}
	}
}

// The mark alone, without the colour of an automatic white balance, and what no filter can be.
func TestEdits(t *testing.T) {
	b := bag(t)
	edits, _ := Edits(b, "both", nil, &Mark{Deg: 179.7, ErrorDeg: 2.6}, "2026-09-18")
	next, faults := Write(b, "both", edits)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if f, _ := next.FilterByName("both"); f.MarkDeg != 0 || len(edits) != 3 {
		t.Errorf("%v, %g", edits, f.MarkDeg)
	}
	f, _ := b.FilterByName("pol")
	edits, _ = Edits(b, "pol", &Result{Filter: f, Groups: []Group{{Stops: 2.6}}}, nil, "2026-09-18")
	for _, e := range edits {
		if strings.HasPrefix(e.Key, "cast") || e.Key == "tint" {
			t.Errorf("the colour of an automatic white balance: %v", e)
		}
	}
	if next, faults = Write(b, "pol", edits); next != nil || len(faults) == 0 || !strings.Contains(faults.Error(), "loss_stops") {
		t.Errorf("a polariser of 2.6 stops: %v", faults)
	}
	if _, faults = Edits(b, "other", nil, nil, "2026-09-18"); len(faults) == 0 {
		t.Error("a filter that is not there")
	}
}
