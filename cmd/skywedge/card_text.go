package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// callLine says what to set, in the pilot's units.
func callLine(r *plan.Report) string {
	line := settingsLine(&r.Call)
	if len(r.Legs) > 0 && advice.Short(r, 0) != "" && !advice.ShortOfOther(&r.Legs[0]) {
		line = advice.Mount(&r.Call) + " · leg 1 cannot be exposed"
	} else if f := r.FlightOf(0); f != nil && !sameLock(r, f.Legs) {
		line += " on leg 1"
	}
	return line + " · " + words.SureShort(r.Call.Confidence, r.Call.ConfidenceWhy)
}

// sameLock tells whether legs share one exposure.
func sameLock(r *plan.Report, legs []int) bool {
	for _, i := range legs {
		if advice.Lock(&r.Legs[i]) != advice.Lock(&r.Legs[legs[0]]) {
			return false
		}
	}
	return true
}

// settingsLine is the same with the first leg's exposure.
func settingsLine(c *plan.Call) string {
	return strings.Join([]string{advice.Mount(c), exposure.FormatShutter(c.ShutterS), "ISO " + exposure.FormatISO(c.ISO),
		fmt.Sprintf("f/%g", c.Aperture), fmt.Sprintf("%.0f K", c.WBK)}, " · ")
}

// briefText is the call in six lines, and in the first of them the bag.
func briefText(r *plan.Report, bag bagUse) string {
	first, rest, _ := strings.Cut(advice.Brief(r), "\n")
	return first + " · bag " + bag.String() + "\n" + rest
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func cardText(r *plan.Report, bag bagUse) string {
	s, c := r.Shot, r.Call
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%.4f, %.4f · take-off %s · %s\n", s.Name, s.LatDeg, s.LonDeg, s.TakeOff.Format("Mon 2 Jan 2006 15:04 -07:00"), s.Camera.Name)
	if len(r.Path) > 0 {
		p := r.Path[0].Sun[0]
		fmt.Fprintf(&b, "sun %s° at %.0f° (%s)%s on the first take · light %s over the flight · %s\n", whole(p.AltitudeDeg), p.AzimuthDeg, shot.Compass(p.AzimuthDeg), s.BehindWords(p), changeWords(r.LightChangeStops), advice.CleanLight(r))
	}
	fmt.Fprintf(&b, "\n%s\n", callLine(r))
	if c.Confidence != "close" && c.ConfidenceWhy != "" { // a toss-up has said it all
		fmt.Fprintf(&b, "  %s\n", c.SureWords())
	}
	b.WriteString(whyText(r))
	listing(&b, "flights", flightLines(r))
	b.WriteString("\n" + legsText(r))
	listing(&b, "what to expect", expectLines(r))
	var lines []string
	for _, k := range r.RunnersUp(4) {
		lines = append(lines, strings.TrimSuffix(words.FilterTitle(k.Filter, k.SettingStops)+ringWords(k)+": "+k.WhyNot, ": "))
	}
	listing(&b, "runners-up", lines)
	listing(&b, "if the meter disagrees", c.Ladder)
	if r.Sure != nil {
		listing(&b, "with any one thing a little off", r.Sure.Words)
	}
	listing(&b, "the ring", c.RingHelp)
	listing(&b, "cautions", c.Cautions)
	fmt.Fprintf(&b, "\nflight %.0f min, %s\nbag %s\n", r.FlightMin, count(r.Batteries, "battery", "batteries"), bag)
	return b.String()
}

// flightLines says what to set on each flight, where there are several.
func flightLines(r *plan.Report) []string {
	if len(r.Flights) < 2 {
		return nil
	}
	var lines []string
	for _, f := range r.Flights {
		legs := fmt.Sprintf("leg %d", f.Legs[0]+1)
		if n := len(f.Legs); n > 1 {
			legs = fmt.Sprintf("legs %d to %d", f.Legs[0]+1, f.Legs[n-1]+1)
		}
		line := legs + ": " + settingsLine(&f.Set)
		if f.Change != "" {
			line = "land, " + f.Change + "; " + line
		}
		lines = append(lines, line)
	}
	return lines
}

// whyText lists the reasons, what speaks for the call before what it costs.
func whyText(r *plan.Report) string {
	var pros, costs strings.Builder
	for _, s := range r.Call.ReasonsSigned {
		if s.Sign < 0 {
			fmt.Fprintf(&costs, "  - %s\n", s.Text)
		} else {
			fmt.Fprintf(&pros, "  + %s\n", s.Text)
		}
	}
	if pros.Len()+costs.Len() == 0 {
		return ""
	}
	return "\nwhy\n" + pros.String() + costs.String()
}

// expectLines says what each leg will look like, and first what cannot be.
func expectLines(r *plan.Report) []string {
	var lines []string
	for i, l := range r.Legs {
		var parts []string
		if short := advice.Short(r, i); short != "" {
			parts = append(parts, short)
		}
		if parts = append(parts, l.Notes...); len(parts) > 0 {
			lines = append(lines, fmt.Sprintf("leg %d: %s", i+1, strings.Join(parts, "; ")))
		}
	}
	return lines
}

func ringWords(k plan.Candidate) string {
	if !k.HasRing {
		return ""
	}
	return ", mark at " + kit.Clock(k.RingDeg)
}

func changeWords(stops float64) string {
	switch {
	case math.Abs(stops) < .15:
		return "steady"
	case stops < 0:
		return fmt.Sprintf("falls %.1f stops", -stops)
	}
	return fmt.Sprintf("rises %.1f stops", stops)
}

// legsText is one row a leg.
func legsText(r *plan.Report) string {
	var b strings.Builder
	row := func(cells ...any) {
		fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("%-3v %-7v %-8v %-10v %-14v %-11v %-11v %-8v %-8v %-5v %-6v %-5v %v", cells...), " "))
	}
	row("leg", "move", "seconds", "heading", "sun", "sky effect", "unevenness", "motion", "shutter", "ISO", "kelvin", "meter", "drift")
	for i, l := range r.Legs {
		shutter, iso, kelvin, meter, drift := "-", "-", "-", "-", "-"
		if l.Shutter.OK && l.ISO.OK {
			shutter, iso = exposure.FormatShutter(l.Shutter.Min), exposure.FormatISO(l.ISO.Min)
			kelvin = fmt.Sprintf("%.0f", l.WBK)
			meter, drift = words.Signed(l.MeterStops), strings.TrimPrefix(words.Signed(l.DriftStops), "+")
		}
		if advice.Short(r, i) != "" && !advice.ShortOfOther(&l) {
			shutter, iso, meter = "none", "none", "-"
		}
		heading, side := span("%.0f", l.Heading)+"°", sunSide(l.SunRelative)
		if math.Abs(r.Shot.Legs[i].Heading.By) >= 360 { // its ends say nothing of what lies between
			heading, side = fmt.Sprintf("%.0f→%.0f°", l.Heading[0], l.Heading[1]), "all round"
		}
		row(i+1, l.Move, fmt.Sprintf("%.0f-%.0f", l.FromS, l.ToS), heading, side,
			rangeText(l.Effect, "%+.1f"), evenWords(l.Unevenness), l.Band, shutter, iso, kelvin, meter, drift)
	}
	return b.String()
}

func span(format string, v [2]float64) string {
	a, b := fmt.Sprintf(format, v[0]), fmt.Sprintf(format, v[1])
	if a == b {
		return a
	}
	return a + "→" + b
}

// sunSide says where the sun stands from the camera's heading.
func sunSide(rel [2]float64) string {
	side := func(v float64) string {
		switch a := math.Abs(v); {
		case a < 20:
			return "ahead"
		case a > 160:
			return "behind"
		case v > 0:
			return fmt.Sprintf("%.0f°R", a)
		default:
			return fmt.Sprintf("%.0f°L", a)
		}
	}
	a, b := side(rel[0]), side(rel[1])
	if a == b {
		return a
	}
	return a + "→" + b
}

func rangeText(r plan.Range, format string) string {
	if !r.OK {
		return "no sky"
	}
	return fromTo(fmt.Sprintf(format, r.Min), fmt.Sprintf(format, r.Max))
}

// fromTo joins the ends of a range, and says equal ends once.
func fromTo(a, b string) string {
	if a == b {
		return a
	}
	return a + ".." + b
}

func evenWords(r plan.Range) string {
	if !r.OK {
		return "-"
	}
	word := "even"
	switch {
	case r.Max > 1:
		word = "banded"
	case r.Max >= .5:
		word = "graded"
	}
	return fmt.Sprintf("%s %.1f", word, r.Max)
}
