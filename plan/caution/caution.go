// Package caution says what a pilot should mind on a flight: facts of the plan, worded after the usual rules, each with a
// pointer to those of the place. It knows no filter: plan adds what the glass asks for.
package caution

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// What the cautions are worded against: 14 CFR 107.51 (400 ft above the ground) and 107.29 (civil
// twilight and night), Commission Implementing Regulation (EU) 2019/947, UAS.OPEN.010 (120 m from
// the closest point of the surface); both ask for unaided sight of the aircraft. The program plans
// pictures and knows no place's rules: a caution names a fact and sends the pilot to the rules.
const defaultHeightCautionM = 120

// Thresholds of the other cautions (ours).
const (
	farM           = 500 // over the ground from take-off, where a small drone is hard to see
	fastMS         = 8   // over the ground; faster than this,
	lowM           = 10  // and lower than this above it, there is no time to look up from the screen
	coldMattersPct = 10  // of a battery's endurance lost, from where the figure is worth saying
)

const checkRules = "Check the rules, airspace and permissions for your place and date; this program does not know them."

// PowerOff goes with every flight (common practice, no source).
const PowerOff = "Power off before changing filters."

// caution is one thing to mind.
type caution struct {
	text  string // sentences; "" where there is nothing to mind
	short string // a few words for a list in the hand; "" where a pilot knows it without
	rules bool   // local rules have a say in it
	first bool   // packed for, or watched on every flight: first where there is room for little
}

// InShort says what the pilot should mind in a few words each: "2 batteries", "home with 25 % left", then the rest,
// the weightiest first. Landings are those on the way, to change filters.
func InShort(s *shot.Shot, path []shot.Moment, landings int) []string {
	var first, rest []string
	for _, c := range cautions(s, path, landings) {
		switch {
		case c.short == "":
		case c.first:
			first = append(first, c.short)
		default:
			rest = append(rest, c.short)
		}
	}
	return append(first, rest...)
}

// cautions lists them for a flight with so many landings on the way, to change filters.
func cautions(s *shot.Shot, path []shot.Moment, landings int) []caution {
	var out []caution
	for _, of := range []func(*shot.Shot, []shot.Moment) caution{
		zoneCaution, heightCaution, darkCaution, sightCaution, lowCaution,
		func(s *shot.Shot, _ []shot.Moment) caution { return batteryCaution(s, landings) },
		coldCaution, windCaution, homeCaution, gimbalCaution, targetCaution, propellerCaution, blindCaution,
		downCaution, sunCaution,
	} {
		if c := of(s, path); c.text != "" {
			out = append(out, c)
		}
	}
	return out
}

// Of says what the pilot should mind on a flight with so many landings on the way, the weightiest first. The path is
// the shot's own; heights and pitches are judged at its moments. All of it defers to local rules: they are pointed to by
// the first caution that they have a say in, or on their own where there is none. To power off stands last. A caution
// never stops a plan.
func Of(s *shot.Shot, path []shot.Moment, landings int) []string {
	var out []string
	pointed := false
	for _, c := range cautions(s, path, landings) {
		if c.rules && !pointed {
			c.text += " " + checkRules
			pointed = true
		}
		out = append(out, c.text)
	}
	if !pointed {
		out = append(out, checkRules)
	}
	return append(out, PowerOff)
}

// legsWhere names the legs that have a moment for which a test holds: "leg 2", "legs 1 and 3".
func legsWhere(path []shot.Moment, test func(m shot.Moment) bool) string {
	var numbers []string
	last := -1
	for _, m := range path {
		if m.Leg != last && test(m) {
			numbers = append(numbers, strconv.Itoa(m.Leg+1))
			last = m.Leg
		}
	}
	return words.Legs(numbers)
}

// verb picks the form that fits "leg 1" or "legs 1 and 2".
func verb(legs, one, many string) string {
	if strings.HasPrefix(legs, "legs") {
		return many
	}
	return one
}

func heightCaution(s *shot.Shot, path []shot.Moment) caution {
	limit := s.Settings.HeightCautionM
	if limit <= 0 {
		limit = defaultHeightCautionM
	}
	highest := math.Inf(-1)
	for _, m := range path {
		highest = math.Max(highest, m.AboveM)
	}
	if highest <= limit+1e-9 {
		return caution{}
	}
	that := "that many countries allow"
	if limit != defaultHeightCautionM {
		that = "of your settings"
	}
	// Rounded up, so that a height just above never reads as the limit itself.
	height := field.Figure(math.Ceil(highest*10)/10, 3)
	return caution{
		text:  fmt.Sprintf("Planned height %s m is above the %s m %s.", height, field.Figure(limit, 3), that),
		short: height + " m high: check the rules",
		rules: true,
	}
}

// darkCaution counts the whole flight, from take-off to landing.
func darkCaution(s *shot.Shot, path []shot.Moment) caution {
	times := s.Times()
	start, end := sun.At(times.TakeOff, s.LatDeg, s.LonDeg), sun.At(times.Landing, s.LatDeg, s.LonDeg)
	low := math.Min(start.GeometricDeg, end.GeometricDeg)
	for _, m := range path {
		low = math.Min(low, math.Min(m.Sun[0].GeometricDeg, m.Sun[1].GeometricDeg))
	}
	const set, civil = -0.8333, -6
	when, short := "in twilight", "twilight"
	switch {
	case low >= set:
		return caution{}
	case low < civil:
		when, short = "at night", "night"
	}
	return caution{
		text:  fmt.Sprintf("Part of this flight is %s: many places ask for lights on the aircraft or a permission.", when),
		short: short + ": check the rules",
		rules: true,
	}
}

func sightCaution(_ *shot.Shot, path []shot.Moment) caution {
	var farthest float64
	for _, m := range path {
		farthest = math.Max(farthest, math.Hypot(m.Pos.X, m.Pos.Y))
	}
	if farthest <= farM {
		return caution{}
	}
	legs := legsWhere(path, func(m shot.Moment) bool { return math.Hypot(m.Pos.X, m.Pos.Y) > farM })
	away := field.Figure(math.Round(farthest/10)*10, 3)
	return caution{
		text:  fmt.Sprintf("The flight goes %s m away (%s): keep the aircraft in unaided sight.", away, legs),
		short: away + " m away: keep it in sight",
		rules: true,
	}
}

// lowCaution speaks where the aircraft is fast and low at once. Speed is over the ground.
func lowCaution(s *shot.Shot, path []shot.Moment) caution {
	low := func(m shot.Moment) bool {
		return math.Hypot(m.Velocity.X, m.Velocity.Y) > fastMS+1e-9 && m.AboveM < lowM-1e-9
	}
	legs := legsWhere(path, low)
	if legs == "" {
		return caution{}
	}
	mind := "Look ahead, not at the screen, and keep the propellers clear of what stands up."
	if slices.ContainsFunc(path, func(m shot.Moment) bool { return low(m) && s.Legs[m.Leg].Ground == shot.Water }) {
		mind = "Look ahead, not at the screen; keep the propellers clear of waves and masts, and the lens of spray."
	}
	return caution{
		text:  fmt.Sprintf("%s %s fast and low, over %d m/s under %d m. %s", words.Sentence(legs), verb(legs, "is", "are"), fastMS, lowM, mind),
		short: legs + " fast and low: look ahead",
	}
}

// batteryCaution counts the batteries. Every landing on the way costs the way out and home again.
func batteryCaution(s *shot.Shot, landings int) caution {
	t := s.Times()
	out := s.TransitS / 60
	if landings > 0 {
		t.Minutes += float64(landings) * out
		t.Batteries = shot.BatteriesFor(t.Minutes, out, t.BatteryMin)
	}
	c := caution{text: "Keep a reserve of battery for the way home.", short: "keep a reserve", first: true}
	if pct := field.Figure(s.Settings.ReservePct, 3); s.Settings.ReservePct > 0 {
		c.text, c.short = fmt.Sprintf("Turn for home while %s %% of the battery is left.", pct), fmt.Sprintf("home with %s %% left", pct)
	}
	switch {
	case t.BatteryMin <= 0 || t.Batteries == 1:
	case t.Batteries == 0:
		c.text = fmt.Sprintf("Out and home alone takes %s minutes, and a battery lasts %s with its reserve. %s",
			minutes(out), minutes(t.BatteryMin), c.text)
		c.short = "too far for a battery · " + c.short
	default:
		c.text = fmt.Sprintf("The flight takes %s minutes with all takes, and a battery lasts %s with its reserve: take %d batteries, or fewer takes. %s",
			minutes(t.Minutes), minutes(t.BatteryMin), t.Batteries, c.text)
		c.short = fmt.Sprintf("%d batteries · %s", t.Batteries, c.short)
	}
	return c
}

func minutes(m float64) string { return field.Figure(math.Round(m*10)/10, 3) }

// coldCaution says a figure only where it matters, and rounds it: what cold takes differs from battery to battery.
func coldCaution(s *shot.Shot, _ []shot.Moment) caution {
	if s.Light.AirC >= shot.ColdBelowC {
		return caution{}
	}
	shorter := "a shorter flight"
	if pct := 100 * (1 - shot.ColdShare(s.Light.AirC)); pct >= coldMattersPct-1e-9 {
		shorter = fmt.Sprintf("a flight about %.0f %% shorter", 5*math.Round(pct/5))
	}
	return caution{
		text:  fmt.Sprintf("Cold, %s °C: plan for %s, and warm the battery before take-off.", field.Figure(s.Light.AirC, 3), shorter),
		short: "cold: " + shorter,
	}
}
