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
