package shot

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // one static binary knows every zone, wherever it runs
)

// LoadZone returns the zone of an IANA name such as Europe/Madrid. "Local" is refused: a card means
// the same on every machine.
func LoadZone(name string) (*time.Location, error) {
	if name == "" || strings.EqualFold(name, "local") {
		return nil, fmt.Errorf("the name of a time zone, such as Europe/Madrid or UTC")
	}
	z, err := time.LoadLocation(name)
	if err != nil {
		return nil, fmt.Errorf("the name of a time zone, such as Europe/Madrid or UTC")
	}
	return z, nil
}

// The years for which a take-off is accepted; the sun's position is held to its accuracy there.
const firstYear, lastYear = 1950, 2100

// takeOffForm takes a date and a time of day, local unless an offset from UTC follows.
var takeOffForm = regexp.MustCompile(`^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}))?(Z|[+-]\d{2}:\d{2})?$`)

const takeOffAllowed = "a date and time such as 2026-09-18T19:40, local to the place, or with an offset as 2026-09-18T19:40+02:00"

// ParseTakeOff reads the moment of take-off as the command line takes it: "now", "now+10" or
// "now-5" (minutes), or what [parseTakeOffTime] reads. The result is in the zone.
func ParseTakeOff(text string, now time.Time, zone *time.Location) (time.Time, error) {
	if rest, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(text)), "now"); ok {
		if rest == "" {
			return now.In(zone).Truncate(time.Second), nil
		}
		n, err := strconv.Atoi(strings.TrimPrefix(rest, "+"))
		if err != nil || (rest[0] != '+' && rest[0] != '-') || n < -1440 || n > 1440 {
			return time.Time{}, fmt.Errorf("now, or now+10 for ten minutes from now (at most a day)")
		}
		return now.In(zone).Truncate(time.Second).Add(time.Duration(n) * time.Minute), nil
	}
	return parseTakeOffTime(text, zone)
}

// parseTakeOffTime reads a date and time of day, as a card has it. Without an offset it is local
// to the zone. A time that the clocks skip in spring is refused, and so is one that comes twice in
// autumn: the two lie an hour of light apart, and only its author knows which is meant. An offset
// names one of them.
func parseTakeOffTime(text string, zone *time.Location) (time.Time, error) {
	m := takeOffForm.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return time.Time{}, fmt.Errorf("%s", takeOffAllowed)
	}
	var n [6]int
	for i := range n {
		n[i], _ = strconv.Atoi(m[i+1]) // digits by the form; absent seconds are 0
	}
	utc := time.Date(n[0], time.Month(n[1]), n[2], n[3], n[4], n[5], 0, time.UTC)
	if utc.Year() != n[0] || int(utc.Month()) != n[1] || utc.Day() != n[2] || utc.Hour() != n[3] || utc.Minute() != n[4] || utc.Second() != n[5] {
		return time.Time{}, fmt.Errorf("a day and time that the calendar has")
	}
	if n[0] < firstYear || n[0] > lastYear {
		return time.Time{}, fmt.Errorf("a year from %d to %d", firstYear, lastYear)
	}
	switch off := m[7]; {
	case off == "Z":
		return utc.In(zone), nil
	case off != "":
		h, _ := strconv.Atoi(off[1:3])
		mi, _ := strconv.Atoi(off[4:])
		if h > 14 || mi > 59 {
			return time.Time{}, fmt.Errorf("an offset from -14:00 to +14:00")
		}
		d := time.Duration(h)*time.Hour + time.Duration(mi)*time.Minute
		if off[0] == '-' {
			d = -d
		}
		return utc.Add(-d).In(zone), nil
	}
	first, second, err := localTimes(utc, zone)
	if err == nil && !second.Equal(first) {
		err = &twiceError{first, second}
	}
	return first, err
}

// twiceError refuses a time of day that clocks show twice, and offers both.
type twiceError struct{ first, second time.Time }

func (e *twiceError) Error() string {
	layout := "2006-01-02T15:04-07:00"
	if e.first.Second() != 0 {
		layout = "2006-01-02T15:04:05-07:00"
	}
	return fmt.Sprintf("one of two, because clocks in %s show %s twice on that day: %s or, later, %s",
		e.first.Location(), e.first.Format("15:04"), e.first.Format(layout), e.second.Format(layout))
}

// LocalTime returns the first instant at which clocks in the zone show what wall shows in UTC.
func LocalTime(wall time.Time, zone *time.Location) (time.Time, error) {
	first, _, err := localTimes(wall, zone)
	return first, err
}

// localTimes returns the instants at which clocks in the zone show what wall shows in UTC: twice the same
// one, except where they are set back over it. The offsets a day before and a day after are taken for the
// only two that can hold: clocks change at most once in that time.
func localTimes(wall time.Time, zone *time.Location) (first, second time.Time, err error) {
	_, before := wall.Add(-24 * time.Hour).In(zone).Zone()
	_, after := wall.Add(24 * time.Hour).In(zone).Zone()
	for _, off := range []int{before, after} {
		t := wall.Add(-time.Duration(off) * time.Second).In(zone)
		if _, is := t.Zone(); is != off {
			continue
		}
		if first.IsZero() || t.Before(first) {
			first = t
		}
		if t.After(second) {
			second = t
		}
	}
	if first.IsZero() {
		err = fmt.Errorf("a time that exists: clocks in %s skip %s on that day", zone, wall.Format("15:04"))
	}
	return first, second, err
}

// FormatTakeOff writes an instant as a card has it: local to the zone, with the offset only when
// the clocks show the same twice.
func FormatTakeOff(t time.Time, zone *time.Location) string {
	t = t.In(zone)
	text := t.Format("2006-01-02T15:04:05")
	if back, err := parseTakeOffTime(text, zone); err == nil && back.Equal(t.Truncate(time.Second)) {
		return text
	}
	return t.Format("2006-01-02T15:04:05-07:00")
}

// Local returns a time in the place's zone.
func (s *Shot) Local(t time.Time) time.Time {
	if s.Zone == nil {
		return t
	}
	return t.In(s.Zone)
}

// OnTheClock returns a time on the place's clock, the last whole minute.
func (s *Shot) OnTheClock(t time.Time) string { return s.Local(t).Format("15:04") }

// ClockAt returns the time on the place's clock so many minutes from take-off.
func (s *Shot) ClockAt(minutes float64) string {
	return s.OnTheClock(s.TakeOff.Add(time.Duration(minutes * float64(time.Minute))))
}
