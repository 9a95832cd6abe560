package advice

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
)

// Spoken returns the place of the mark that is said first: "9:30".
func Spoken(ringDeg float64) string {
	first, _, _ := strings.Cut(kit.Clock(ringDeg), " or ")
	return first
}

// Same returns the other place, which does the same: "3:30".
func Same(ringDeg float64) string {
	_, second, _ := strings.Cut(kit.Clock(ringDeg), " or ")
	return second
}

// Beside returns what is said beside a drawn ring, a line each: what the hand has to know.
func Beside(c *plan.Call, bag *kit.Bag) []string {
	f, known := filterOf(c, bag)
	list := []string{"mark " + Spoken(c.RingDeg), "or " + Same(c.RingDeg)}
	switch {
	case known && f.Ring == kit.RingFixed:
		list = append(list, "fixed: mount it as it is")
	case known && f.Kind == kit.Variable:
		list = append(list, "rear sheet, facing the lens")
	default:
		list = append(list, "facing the lens")
	}
	return list
}

// Front says where the front sheet of a variable goes, with the marks that are engraved on it: full the one to set,
// hollow the others: "○ 2  ● 3  ○ 4". It is "" for any other filter. At which angle they stand is each maker's own
// affair, so they are listed and not drawn on the ring.
func Front(c *plan.Call, bag *kit.Bag) string {
	f, known := filterOf(c, bag)
	if !known || f.Kind != kit.Variable || c.SettingStops <= 0 {
		return ""
	}
	marks := slices.Clone(f.Marks)
	if len(marks) == 0 {
		marks = []float64{f.FromStops, f.ToStops}
	}
	if !slices.Contains(marks, c.SettingStops) { // between two marks
		marks = append(marks, c.SettingStops)
	}
	slices.Sort(marks)
	var list []string
	for _, m := range marks {
		sign := "○"
		if m == c.SettingStops {
			sign = "●"
		}
		list = append(list, fmt.Sprintf("%s %g", sign, m))
	}
	return strings.Join(list, "  ")
}

func filterOf(c *plan.Call, bag *kit.Bag) (kit.Filter, bool) {
	if bag == nil {
		return kit.Filter{}, false
	}
	return bag.FilterByName(c.Filter)
}
