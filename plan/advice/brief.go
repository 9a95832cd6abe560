package advice

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/words"
)

// Mount says what goes on the lens and where its mark stands.
func Mount(c *plan.Call) string {
	line := words.FilterTitle(c.Filter, c.SettingStops)
	switch {
	case c.HasRing:
		line += " · mark at " + kit.Clock(c.RingDeg)
	case c.AsDensity:
		line += " as a plain density, ring anywhere"
	}
	return line
}

// Brief is the call in six lines, for a message or a slip of paper.
func Brief(r *plan.Report) string {
	s, c := r.Shot, r.Call
	var b strings.Builder
	fmt.Fprintf(&b, "%s · take-off %s · flight %.0f min, %s\n", s.Name, s.TakeOff.Format("2 Jan 2006 15:04"), r.FlightMin, batteries(r.Batteries))
	var mounts []string
	for i := range r.Flights {
		mounts = append(mounts, Mount(&r.Flights[i].Set))
	}
	if len(mounts) == 0 {
		mounts = []string{Mount(&c)}
	}
	fmt.Fprintf(&b, "%s · %s\n", strings.Join(mounts, ", then "), words.SureShort(c.Confidence, c.ConfidenceWhy))
	fmt.Fprintln(&b, lockLine(r))
	fmt.Fprintln(&b, firstOr(c.Reasons, "nothing speaks for a filter"))
	ladder := c.Ladder
	if i := slices.IndexFunc(ladder, func(l string) bool { return strings.HasPrefix(l, "meter ") }); i > 0 {
		ladder = ladder[i:] // what the meter will show stands with the settings
	}
	fmt.Fprintf(&b, "ladder: %s; %s\n", firstOr(ladder, "none needed"), CleanLight(r))
	fmt.Fprintln(&b, "caution: "+firstOr(c.Cautions, "power off before changing filters"))
	return b.String()
}

// lockLine says what to lock on each leg.
func lockLine(r *plan.Report) string {
	var parts []string
	for _, l := range Locks(r) {
		text := l.Notes
		if l.Set != "" {
			text = l.Set + ", " + l.Notes
		}
		parts = append(parts, l.Name()+": "+text)
	}
	if len(parts) == 0 {
		return "no leg yet"
	}
	return strings.Join(parts, "; ")
}

func firstOr(list []string, otherwise string) string {
	if len(list) > 0 {
		return list[0]
	}
	return otherwise
}

func batteries(n int) string {
	if n == 1 {
		return "1 battery"
	}
	return fmt.Sprintf("%d batteries", n)
}
