package mounting

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
)

// BrewsterDownDeg is how far below level the glare off level water is fully polarised: 90° less
// Brewster's angle of 53.1° for water (n 1.333). A glossy floor is near enough.
const BrewsterDownDeg = 37

// clicks counts the clicks of a ring: "1 click", "3 clicks".
func clicks(n float64) string {
	if n == 1 {
		return "1 click"
	}
	return fmt.Sprintf("%.0f clicks", n)
}

// RingHelp says how to set a filter's ring to a mark, how to find a mark that the maker does not explain,
// and how to check it, for somebody who stands before the drone. Nothing for a filter without a ring to
// set. What a mark stands for is not standard (common practice, no source).
func RingHelp(f *kit.Filter, ringDeg float64) []string {
	if f == nil || !f.Polarises() {
		return nil
	}
	ring, mark := "the ring", f.MarkDeg
	if f.Kind == kit.Variable {
		ring, mark = "the rear sheet", f.RearDeg
	}
	var list []string
	switch {
	case f.Ring == kit.RingFixed:
		list = append(list, "The ring of this filter is fixed: mount it as it is.")
	default:
		list = append(list, "Power off. Stand before the drone, look into the lens and bring the mark on "+ring+" to "+kit.Clock(ringDeg)+
			"; 12 o'clock is the top of the camera's housing, not of a gimbal that hangs skewed.")
	}
	if f.Ring == kit.RingClicks && f.ClickDeg > 0 {
		if n := math.Round(ringDeg / f.ClickDeg); n > 0 {
			list = append(list, fmt.Sprintf("From 12 o'clock that is %s clockwise.", clicks(n)))
		}
	}
	if f.Kind == kit.Variable {
		list = append(list, "Then turn the front sheet alone to its setting and see that the rear one stays.")
	}
	upright := kit.Clock(kit.RingFor(0, mark))
	return append(list,
		fmt.Sprintf("To find a mark: look through the filter at the glare on water or a glossy floor, about %d° below the level, and turn it until the glare is least. The pass axis then stands upright: what is on top of the ring is where the mark belongs. If it is elsewhere, the bag's mark_deg says how far.", BrewsterDownDeg),
		fmt.Sprintf("To check it: with the mark at %s the glare on a glossy floor in the live picture, camera tipped about %d° down, must be at its least, and a quarter turn on at its most.", upright, BrewsterDownDeg))
}
