package sun

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Altitudes that define the events of a [Day], geometric, in degrees.
const (
	HorizonDeg  = -0.8333 // upper limb on a level horizon: refraction 34′ and semidiameter 16′
	CivilDeg    = -6.0
	NauticalDeg = -12.0
	LowSunDeg   = 6.0 // convention of photographers: warm and long-shadowed below it
)

// crossing is one passage of the sun through an altitude.
type crossing struct {
	Time   time.Time
	Rising bool
}

// DayOf returns the events of a calendar date at a place, in the place's own zone (nil counts as
// UTC). The day is built around the solar noon, the transit of the meridian, that falls on that
// date by the zone's clock: rising events are looked for in the twelve hours before it, falling ones
// in the twelve after, so near the edge of a zone or in high summer they may carry the date before
// or after. Where no noon falls on the date (a zone half a turn off its meridian), the nearest
// counts. Close to a pole, where height depends on the date more than on the hour, an event may
// fall on the other side of noon.
//
// Times are rounded to the second and right within 10 s, or 30 s where the sun crosses at a grazing
// angle. Real sunrise and sunset differ from these by minutes with hills, height and the weather's
// refraction.
func DayOf(year int, month time.Month, day int, zone *time.Location, latDeg, lonDeg float64) Day {
	if zone == nil {
		zone = time.UTC
	}
	p := newSite(latDeg, lonDeg)
	noon := p.noonOn(year, month, day, zone)
	c := courseOf(p, noon-daySeconds/2, noon+daySeconds/2)
	var room [pieces]crossing

	round := func(t time.Time) time.Time { return t.Round(time.Second).In(zone) }
	event := func(altDeg float64) (rise, set time.Time) {
		r, s := choose(c.crossings(room[:0], altDeg), instant(noon))
		if !r.IsZero() {
			rise = round(r)
		}
		if !s.IsZero() {
			set = round(s)
		}
		return rise, set
	}

	d := Day{Noon: round(instant(noon)), NoonAltitudeDeg: p.geometric(noon)}
	d.Sunrise, d.Sunset = event(HorizonDeg)
	d.CivilDawn, d.CivilDusk = event(CivilDeg)
	d.NauticalDawn, d.NauticalDusk = event(NauticalDeg)
	d.LowMorningEnd, d.LowEveningStart = event(LowSunDeg)
	switch rises, sets := !d.Sunrise.IsZero(), !d.Sunset.IsZero(); {
	case rises && sets:
		d.Kind = RisesAndSets
	case rises:
		d.Kind = RisesOnly
	case sets:
		d.Kind = SetsOnly
	case d.NoonAltitudeDeg >= HorizonDeg:
		d.Kind = UpAllDay
	default:
		d.Kind = DownAllDay
	}
	d.Note = d.note()
	return d
}

// choose picks the last rising before noon and the first setting after it. Where one of them is
// missing, a passage on the wrong side of noon stands in for it if the sun is up from the one to
// the other: a sun that peeps over the horizon a minute after the transit, or that rises for
// half a year at any hour.
func choose(all []crossing, noon time.Time) (rise, set time.Time) {
	var lateRise, earlySet time.Time
	for _, c := range all {
		switch before := c.Time.Before(noon); {
		case c.Rising && before:
			rise = c.Time
		case c.Rising && lateRise.IsZero():
			lateRise = c.Time
		case !c.Rising && before:
			earlySet = c.Time
		case !c.Rising && set.IsZero():
			set = c.Time
		}
	}
	switch {
	case rise.IsZero() && set.IsZero():
		if lateRise.IsZero() || earlySet.IsZero() {
			return lateRise, earlySet
		}
	case rise.IsZero() && lateRise.Before(set):
		return lateRise, set
	case set.IsZero() && earlySet.After(rise):
		return rise, earlySet
	}
	return rise, set
}

// noonOn finds the transit on a calendar date, in seconds after J2000.
func (p site) noonOn(year int, month time.Month, day int, zone *time.Location) float64 {
	date := time.Date(year, month, day, 0, 0, 0, 0, time.UTC) // 31 April becomes 1 May
	year, month, day = date.Date()
	middle := secondsOf(time.Date(year, month, day, 12, 0, 0, 0, zone))
	nearest := p.transitNear(middle)
	for _, days := range []float64{0, -1, 1} {
		t := p.transitNear(nearest + days*daySeconds)
		if y, m, d := instant(t).In(zone).Date(); y == year && m == month && d == day {
			return t
		}
	}
	return nearest
}

// transitNear finds the nearest instant of hour angle 0 by Newton's rule; the hour angle grows by
// 360° a day within 30 s, so each step gains three digits, and the one after a step of a second would be of a millisecond.
func (p site) transitNear(s float64) float64 {
	for range 4 {
		step := p.hourAngle(s) / 360 * daySeconds
		s -= step
		if math.Abs(step) < 1 {
			break
		}
	}
	return s
}

// note says in one sentence what does not happen.
func (d Day) note() string {
	var parts []string
	switch d.Kind {
	case UpAllDay:
		parts = append(parts, "is up all day")
	case DownAllDay:
		parts = append(parts, "is down all day")
	case RisesOnly:
		parts = append(parts, "rises and does not set again on this day")
	case SetsOnly:
		parts = append(parts, "sets and does not rise on this day")
	}
	// Of the altitudes not reached, only the one nearest to the sun is news.
	above, below := math.Inf(-1), math.Inf(1)
	for _, l := range []struct {
		altDeg    float64
		rise, set time.Time
	}{
		{LowSunDeg, d.LowMorningEnd, d.LowEveningStart},
		{CivilDeg, d.CivilDawn, d.CivilDusk},
		{NauticalDeg, d.NauticalDawn, d.NauticalDusk},
	} {
		switch noRise, noSet := l.rise.IsZero(), l.set.IsZero(); {
		case noRise && noSet && d.NoonAltitudeDeg < l.altDeg:
			below = min(below, l.altDeg)
		case noRise && noSet:
			above = max(above, l.altDeg)
		case noRise:
			parts = append(parts, fmt.Sprintf("passes %g° falling only", l.altDeg))
		case noSet:
			parts = append(parts, fmt.Sprintf("passes %g° rising only", l.altDeg))
		}
	}
	if !math.IsInf(above, 0) && (d.Kind != UpAllDay || above > HorizonDeg) {
		parts = append(parts, fmt.Sprintf("stays above %g°", above))
	}
	if !math.IsInf(below, 0) && (d.Kind != DownAllDay || below < HorizonDeg) {
		parts = append(parts, fmt.Sprintf("stays below %g°", below))
	}
	if len(parts) == 0 {
		return ""
	}
	return "The sun " + strings.ReplaceAll(strings.Join(parts, ", "), "-", "−") + "."
}
