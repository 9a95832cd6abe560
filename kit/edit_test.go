package kit

import (
	"bytes"
	"strings"
	"testing"
)

// editBag has a filter of every kind, comments, and fields that depend on each other.
const editBag = `skywedge_bag: 1
# what fits in the tin
cameras:
  - {name: c, sensor_mm: [13.0, 8.7], pixels: [5400, 3600], focal_mm: 8.6, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}}
filters:
  - {name: P, kind: polariser, loss_stops: 1.6, ring: clicks, click_deg: 15}   # scratched
  - {name: N, kind: density, stops: 3, measured_stops: 3.2, measured_on: 2026-05-01}
  # the good one
  - {name: H, kind: hybrid, stops: 4, loss_stops: 1.5, mark_deg: 5}
  - {name: V, kind: variable, from_stops: 2, to_stops: 5, marks: [2, 3, 4, 5]}
  - {name: S, kind: diffusion, grade: 1/4}
`

func bagOf(t *testing.T, text string) *Bag {
	t.Helper()
	b, faults := ReadBag("bag.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

// Any kind can be made of any other in one step, and the result is a bag that can be read.
func TestEveryKindBecomesEveryOther(t *testing.T) {
	b := bagOf(t, editBag)
	for i, from := range b.Filters {
		for _, to := range []Kind{Polariser, Density, Hybrid, Variable, Diffusion} {
			next, faults := b.SetFilter(i, "kind", string(to))
			if len(faults) > 0 {
				t.Errorf("%s to %s: %v", from.Kind, to, faults)
				continue
			}
			if got := next.Filters[i]; got.Kind != to || got.Name != from.Name || len(next.Filters) != len(b.Filters) {
				t.Errorf("%s to %s gives %+v", from.Kind, to, got)
			}
			again, faults := ReadBag("bag.yaml", next.Doc.Bytes())
			if len(faults) > 0 || to != Diffusion && again.Filters[i].TotalStops(again.Filters[i].Settings()[0]) <= 0 {
				t.Errorf("%s to %s does not come back: %v", from.Kind, to, faults)
			}
			for _, comment := range []string{"# what fits in the tin", "# the good one"} {
				if !bytes.Contains(next.Doc.Bytes(), []byte(comment)) {
					t.Errorf("%s to %s loses %q", from.Kind, to, comment)
				}
			}
		}
	}
	if !bytes.Equal(b.Doc.Bytes(), []byte(editBag)) {
		t.Error("the first bag was changed")
	}
}

func TestFieldsThatDependOnEachOther(t *testing.T) {
	b := bagOf(t, editBag)
	set := func(b *Bag, i int, key, text string) *Bag {
		t.Helper()
		next, faults := b.SetFilter(i, key, text)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", key, faults)
		}
		return next
	}
	if f := set(b, 0, "ring", "fixed").Filters[0]; f.Ring != RingFixed || f.ClickDeg != 0 {
		t.Errorf("fixed: %+v", f)
	}
	if f := set(b, 0, "ring", "").Filters[0]; f.Ring != RingTurns {
		t.Errorf("back to the default: %+v", f)
	}
	if f := set(b, 2, "ring", "clicks").Filters[2]; f.ClickDeg != 15 {
		t.Errorf("clicks: %+v", f)
	}
	if f := set(b, 1, "measured_stops", "").Filters[1]; f.MeasuredStops != 0 || f.MeasuredOn != "" {
		t.Errorf("the date stays without its measurement: %+v", f)
	}
	if f := set(b, 2, "stops", "4.3").Filters[2]; f.Stops != 4.3 {
		t.Errorf("%+v", f)
	}
}

// A filter that is made another kind is another filter: what was learned of the one before goes with it.
func TestANewKindForgetsItsOffset(t *testing.T) {
	b, faults := bagOf(t, editBag).SetOffset(false, bagOf(t, editBag).Filters[1].Name, 0.5, "2026-09-18")
	if len(faults) > 0 || b.Filters[1].OffsetStops != 0.5 {
		t.Fatalf("%v %+v", faults, b)
	}
	next, faults := b.SetFilter(1, "kind", string(Polariser))
	if len(faults) > 0 || next.Filters[1].OffsetStops != 0 || next.Filters[1].OffsetOn != "" {
		t.Errorf("%v %+v", faults, next)
	}
}

// What cannot stand there is refused with its reason, and the bag stays as it was.
func TestWrongEditsAreRefused(t *testing.T) {
	b := bagOf(t, editBag)
	for _, c := range [][3]string{
		{"1", "stops", "99"}, {"1", "stops", "many"}, {"1", "stops", ""}, {"1", "loss_stops", "1.5"}, {"0", "name", "N"}, {"0", "name", "auto"},
		{"3", "from_stops", "6"}, {"3", "to_stops", "30"}, {"4", "grade", "3/4"}, {"1", "measured_on", "soon"}, {"1", "nothing", "1"}, {"9", "name", ""},
	} {
		i := int(c[0][0] - '0')
		next, faults := b.SetFilter(i, c[1], c[2])
		if next != nil || len(faults) == 0 {
			t.Errorf("filter %d: %s: %q is taken", i, c[1], c[2])
			continue
		}
		if faults[0].Allowed == "" || faults[0].Found == "" {
			t.Errorf("filter %d: %s: %q: %v", i, c[1], c[2], faults)
		}
	}
}

func TestFiltersComeAndGo(t *testing.T) {
	b := bagOf(t, editBag)
	add, faults := b.AddFilter(len(b.Filters))
	if len(faults) > 0 || add.Filters[5].Name != "new filter" || add.Filters[5].Kind != Density {
		t.Fatalf("%v %+v", faults, add)
	}
	if add, faults = add.AddFilter(0); len(faults) > 0 || add.Filters[0].Name != "new filter 2" {
		t.Errorf("%v", faults)
	}
	double, _, faults := b.Duplicate(FilterPath(2, ""))
	if len(faults) > 0 || double.Filters[3].Name != "H 2" || double.Filters[3].Stops != b.Filters[2].Stops || double.Filters[4].Name != "V" {
		t.Fatalf("%v %+v", faults, double)
	}
	for i := range b.Filters {
		less, faults := b.Remove(FilterPath(i, ""))
		if len(faults) > 0 || len(less.Filters) != 4 {
			t.Errorf("without %d: %v", i, faults)
		}
	}
	for len(b.Filters) > 0 { // to the last, and from nothing again
		if b, faults = b.Remove(FilterPath(0, "")); len(faults) > 0 {
			t.Fatal(faults)
		}
	}
	if b, faults = b.AddFilter(0); len(faults) > 0 || len(b.Filters) != 1 || !strings.Contains(string(b.Doc.Bytes()), "tin") {
		t.Errorf("%v", faults)
	}
	bare := bagOf(t, strings.Split(editBag, "filters:")[0])
	if bare, faults = bare.AddFilter(0); len(faults) > 0 || len(bare.Filters) != 1 {
		t.Errorf("a bag without the word filters: %v", faults)
	}
	if _, faults := b.Remove(FilterPath(7, "")); len(faults) == 0 {
		t.Error("there is no filter 7")
	}
	if _, _, faults := b.Duplicate(FilterPath(7, "")); len(faults) == 0 {
		t.Error("there is no filter 7")
	}
}

func TestFieldsOfAKind(t *testing.T) {
	keys := func(k Kind) string {
		var s []string
		for _, f := range FilterFields(k) {
			s = append(s, f.Key)
		}
		return strings.Join(s, " ")
	}
	for k, c := range map[Kind][2]string{
		Density: {"name kind stops grade", "loss_stops"}, Polariser: {"loss_stops mark_deg", "from_stops"},
		Variable: {"from_stops to_stops marks", "mark_deg"}, Diffusion: {"grade", "ring"}, Hybrid: {"stops loss_stops mark_deg", "rear_deg"},
	} {
		if got := keys(k); !strings.Contains(got, c[0]) || strings.Contains(got, c[1]) || !strings.Contains(got, "cast_mired") {
			t.Errorf("%s has %s", k, got)
		}
	}
}

// Several fields at once are looked at together; what was measured of a variable rises; a date goes with the last that it
// dates.
func TestSetFields(t *testing.T) {
	b := bagOf(t, editBag)
	next, faults := b.SetFields(3, [][2]string{{"measured_on", "2026-09-18"}, {"measured", "[[2, 2.2], [4, 4.4]]"}, {"cast_error_mired", "4"}})
	if len(faults) > 0 || next.Filters[3].MeasuredOn != "2026-09-18" || len(next.Filters[3].Measured) != 2 {
		t.Fatal(faults)
	}
	for _, wrong := range []string{"[[4, 4.4], [2, 2.2]]", "[[2, 3], [4, 3]]", "[[2, 0]]", "[[20, 3]]", "2"} {
		if next, faults := b.SetFields(3, [][2]string{{"measured", wrong}}); next != nil || len(faults) == 0 {
			t.Errorf("%s is taken", wrong)
		}
	}
	if _, faults := b.SetFields(0, [][2]string{{"measured", "[[2, 2.2]]"}}); len(faults) == 0 {
		t.Error("a polariser has settings")
	}
	next, faults = b.SetFields(2, [][2]string{{"measured_on", "2026-09-18"}, {"mark_error_deg", "3"}, {"mark_deg", "40"}})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if next, faults = next.SetFilter(2, "mark_error_deg", ""); len(faults) > 0 || next.Filters[2].MeasuredOn != "" || next.Filters[2].MarkDeg != 40 {
		t.Errorf("%v", faults)
	}
}
