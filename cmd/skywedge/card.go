package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/words"
)

// cardPerLeg is the count of moments a leg is judged at outside the workbench.
const cardPerLeg = 32

func cardCommand(e *env, args []string) int {
	f := newFlags("card")
	asJSON := f.Bool("json", false, "")
	brief := f.Bool("brief", false, "")
	bagPath := f.String("bag", "", "")
	takeOff := f.String("take-off", "", "")
	rest, code, ok := parsed(e, f, args)
	if !ok {
		return code
	}
	if len(rest) == 0 {
		return usageError(e, `card: name a card, or - for standard input`)
	}
	answers := []any{}
	for i, path := range rest {
		r, err := solveFile(e, path, *bagPath, *takeOff)
		if len(rest) == 1 && err != nil || errors.As(err, new(badValue)) {
			return failure(e, err)
		}
		switch {
		case err != nil:
			answers = append(answers, e.leaveOut(path, err))
			continue
		case *asJSON:
			answers = append(answers, cardToJSON(r))
			continue
		case i > e.left:
			fmt.Fprintln(e.out)
		}
		if *brief {
			fmt.Fprint(e.out, briefText(r))
		} else {
			fmt.Fprint(e.out, cardText(r))
		}
	}
	switch {
	case *asJSON && len(rest) == 1:
		writeJSON(e, answers[0])
	case *asJSON:
		writeJSON(e, answers)
	}
	if e.left > 0 {
		return exitInvalid
	}
	return exitDone
}

// solveFile reads a card and its bag and works the shot out.
func solveFile(e *env, path, bagPath, takeOff string) (*plan.Report, error) {
	shot, bag, err := shotFile(e, path, bagPath, takeOff)
	if err != nil {
		return nil, err
	}
	return solved(shot, bag), nil
}

// shotFile reads a card and its bag. The error holds all that is wrong with both.
func shotFile(e *env, path, bagPath, takeOff string) (*shot.Shot, *kit.Bag, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, nil, err
	}
	if isBag(data) {
		return nil, nil, bagForCard(name)
	}
	bag, err := findBag(e, bagPath, path)
	if err != nil {
		_, faults := shot.ReadCard(name, data)
		return nil, nil, withBag(faults, err)
	}
	shot, err := shotOf(e, name, data, bag, takeOff)
	return shot, bag, err
}

// withBag adds what is wrong with a bag to the faults of a card's text.
func withBag(faults field.Faults, err error) error {
	var bag field.Faults
	switch {
	case errors.As(err, &bag):
		return append(faults, bag...)
	case len(faults) > 0:
		return &bothWrong{faults, err}
	}
	return err
}

// shotOf checks a card. A take-off on the command line wins over the card's.
func shotOf(e *env, name string, data []byte, bag *kit.Bag, takeOff string) (*shot.Shot, error) {
	card, faults := shot.ReadCard(name, data)
	if card == nil {
		return nil, faults
	}
	s0, faults := card.Shot(bag, e.now())
	if len(faults) > 0 {
		return nil, faults
	}
	if takeOff == "" {
		return s0, nil
	}
	t, err := shot.ParseTakeOff(takeOff, e.now(), s0.Zone)
	if err != nil {
		return nil, badValue{fmt.Errorf("--take-off %q: give %w", takeOff, err)}
	}
	if s0, err = s0.At(t); err != nil {
		return nil, fmt.Errorf("--take-off: the card does not fit together then: %w", err)
	}
	return s0, nil
}

func solve(e *env, name string, data []byte, bag *kit.Bag, takeOff string) (*plan.Report, error) {
	shot, err := shotOf(e, name, data, bag, takeOff)
	if err != nil {
		return nil, err
	}
	return solved(shot, bag), nil
}

func solved(shot *shot.Shot, bag *kit.Bag) *plan.Report {
	return plan.Solve(shot, bag, plan.Options{PerLeg: cardPerLeg, Fine: true})
}

// findBag looks for the bag: the one named, bag.yaml in the card's folder, the one in the user's
// configuration folder, or the generic one that is built in.
func findBag(e *env, named, card string) (*kit.Bag, error) {
	bag, _, err := bagAndFile(e, named, card)
	return bag, err
}

// bagAndFile returns the file that the bag was read from too, "" where it has none to be saved to.
func bagAndFile(e *env, named, card string) (*kit.Bag, string, error) {
	if named == "" {
		if card == "-" {
			card = ""
		}
		p, ok := store.FindBag(card)
		if !ok {
			return kit.Generic(), "", nil
		}
		named = p
	}
	bag, err := readBag(e, named)
	if named == "-" {
		named = ""
	}
	return bag, named, err
}

func readBag(e *env, path string) (*kit.Bag, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, err
	}
	bag, faults := kit.ReadBag(name, data)
	if len(faults) > 0 {
		return nil, faults
	}
	return bag, nil
}

// callLine says what to set, in the pilot's units.
func callLine(r *plan.Report) string { return settingsLine(&r.Call) + " · " + r.Call.Confidence }

// settingsLine is the same without how sure it is.
func settingsLine(c *plan.Call) string {
	parts := []string{words.FilterTitle(c.Filter, c.SettingStops)}
	if c.HasRing {
		parts = append(parts, "mark at "+kit.Clock(c.RingDeg))
	}
	parts = append(parts, exposure.FormatShutter(c.ShutterS), "ISO "+exposure.FormatISO(c.ISO), fmt.Sprintf("f/%g", c.Aperture), fmt.Sprintf("%.0f K", c.WBK))
	return strings.Join(parts, " · ")
}

// briefText is the call in six lines.
func briefText(r *plan.Report) string {
	s, c := r.Shot, r.Call
	var b strings.Builder
	fmt.Fprintf(&b, "%s · take-off %s\n", s.Name, s.TakeOff.Format("2 Jan 2006 15:04"))
	fmt.Fprintln(&b, callLine(r))
	fmt.Fprintln(&b, firstOr(c.Reasons, "nothing speaks for a filter"))
	fmt.Fprintln(&b, "ladder: "+firstOr(c.Ladder, "none needed"))
	fmt.Fprintf(&b, "%s; flight %.0f min, %s\n", lightLeft(r), r.FlightMin, count(r.Batteries, "battery", "batteries"))
	fmt.Fprintln(&b, "caution: "+firstOr(c.Cautions, "power off before changing filters"))
	return b.String()
}

func firstOr(list []string, otherwise string) string {
	if len(list) > 0 {
		return list[0]
	}
	return otherwise
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func lightLeft(r *plan.Report) string {
	if math.IsInf(r.LightLeftMin, 1) {
		return "the light does not run out"
	}
	return fmt.Sprintf("light for %.0f minutes from take-off", math.Max(0, r.LightLeftMin))
}

func cardText(r *plan.Report) string {
	s, c := r.Shot, r.Call
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%.4f, %.4f · take-off %s · %s\n", s.Name, s.LatDeg, s.LonDeg, s.TakeOff.Format("Mon 2 Jan 2006 15:04 -07:00"), s.Camera.Name)
	if len(r.Path) > 0 {
		p := r.Path[0].Sun[0]
		fmt.Fprintf(&b, "sun %s° at %.0f° (%s) on the first take · light %s over the flight · %s\n", wholeDegrees(p.AltitudeDeg), p.AzimuthDeg, shot.Compass(p.AzimuthDeg), changeWords(r.LightChangeStops), lightLeft(r))
	}
	fmt.Fprintf(&b, "\n%s\n", callLine(r))
	if c.ConfidenceWhy != "" {
		fmt.Fprintf(&b, "  %s: %s\n", c.Confidence, c.ConfidenceWhy)
	}
	listing(&b, "why", c.Reasons)
	listing(&b, "flights", flightLines(r))
	b.WriteString("\n" + legsText(r))
	listing(&b, "what to expect", expectLines(r))
	if len(r.Candidates) > 1 {
		var lines []string
		for _, k := range r.Candidates {
			if k.WhyNot != "" {
				lines = append(lines, words.FilterTitle(k.Filter, k.SettingStops)+ringWords(k)+": "+k.WhyNot)
			}
		}
		listing(&b, "runners-up", lines[:min(4, len(lines))])
	}
	listing(&b, "if the meter disagrees", c.Ladder)
	if r.Sure != nil {
		listing(&b, "with any one thing a little off", r.Sure.Words)
	}
	listing(&b, "the ring", c.RingHelp)
	listing(&b, "cautions", c.Cautions)
	fmt.Fprintf(&b, "\nflight %.0f min, %s\n", r.FlightMin, count(r.Batteries, "battery", "batteries"))
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

// expectLines says what each leg will look like.
func expectLines(r *plan.Report) []string {
	var lines []string
	for i, l := range r.Legs {
		if len(l.Notes) > 0 {
			lines = append(lines, fmt.Sprintf("leg %d: %s", i+1, strings.Join(l.Notes, "; ")))
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
	fmt.Fprintf(&b, "%-3s %-7s %-9s %-11s %-14s %-13s %-14s %-8s %-12s %s\n",
		"leg", "move", "seconds", "heading", "sun", "sky effect", "unevenness", "motion", "shutter", "ISO")
	for i, l := range r.Legs {
		fmt.Fprintf(&b, "%-3d %-7s %-9s %-11s %-14s %-13s %-14s %-8s %-12s %s\n", i+1, l.Move,
			fmt.Sprintf("%.0f-%.0f", l.FromS, l.ToS), span("%.0f", l.Heading)+"°", sunSide(l.SunRelative),
			rangeText(l.Effect, "%+.1f"), evenWords(l.Unevenness), l.Band,
			shutterRange(l.Shutter), isoRange(l.ISO))
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

func shutterRange(r plan.Range) string {
	if !r.OK {
		return "-"
	}
	return fromTo(exposure.FormatShutter(r.Max), exposure.FormatShutter(r.Min))
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

func isoRange(r plan.Range) string {
	if !r.OK {
		return "-"
	}
	return fromTo(exposure.FormatISO(exposure.NearestISO(r.Min, 0, 0).Value), exposure.FormatISO(exposure.NearestISO(r.Max, 0, 0).Value))
}

// stamp formats a time for JSON.
func stamp(t time.Time) string { return t.Format(time.RFC3339) }
