package advice

import (
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
)

// A variable's front sheet has its marks listed, the one to set full; a setting between two marks stands between them.
func TestFrontSheet(t *testing.T) {
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, c := range []struct {
		filter  string
		setting float64
		want    string
	}{
		{"variable light", 3, "○ 2  ● 3  ○ 4"}, {"variable light", 2.5, "○ 2  ● 2.5  ○ 3  ○ 4"}, {"CPL", 0, ""}, {"none", 0, ""},
	} {
		if got := Front(&plan.Call{Filter: c.filter, SettingStops: c.setting}, bag); got != c.want {
			t.Errorf("%s at %g: %q, want %q", c.filter, c.setting, got, c.want)
		}
	}
	if got := strings.Join(Beside(&plan.Call{Filter: "CPL", RingDeg: 105}, bag), "; "); got != "mark 9:30; or 3:30; facing the lens" {
		t.Errorf("%q", got)
	}
	if got := strings.Join(Beside(&plan.Call{Filter: "variable light", RingDeg: 15}, bag), "; "); got != "mark 12:30; or 6:30; rear sheet, facing the lens" {
		t.Errorf("%q", got)
	}
	if got := Front(&plan.Call{Filter: "variable light", SettingStops: 3}, nil); got != "" {
		t.Errorf("without a bag: %q", got)
	}
}

// A filter that cannot be turned is mounted, not turned; a variable one without marks has those of its ends.
func TestMarksOfOtherFilters(t *testing.T) {
	bag := &kit.Bag{Filters: []kit.Filter{{Name: "clip-on", Kind: kit.Polariser, Ring: kit.RingFixed}, {Name: "two sheets", Kind: kit.Variable, FromStops: 2, ToStops: 5}}}
	if got := Beside(&plan.Call{Filter: "clip-on", RingDeg: 90}, bag); got[2] != "fixed: mount it as it is" {
		t.Errorf("%q", got)
	}
	if got := Front(&plan.Call{Filter: "two sheets", SettingStops: 3.5}, bag); got != "○ 2  ● 3.5  ○ 5" {
		t.Errorf("%q", got)
	}
}
