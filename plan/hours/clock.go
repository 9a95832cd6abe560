package hours

import (
	"math"
	"time"

	"example.org/skywedge/plan/shot"
)

// Span is how far the hours of a shot reach.
type Span int

// The spans.
const (
	OverDay  Span = iota // the calendar day of the take-off, in steps of ten minutes
	OverYear             // the calendar year of the take-off, the same day of every week, by full hours
)

func (o Span) String() string {
	if o == OverYear {
		return "year"
	}
	return "day"
}

// Step is the step of a day.
const Step = 10 * time.Minute

// stepsPerColumn is the count of steps in a column of a day: an hour.
const stepsPerColumn = 6

// takeOffsOfYear is the count of rows of a year.
const takeOffsOfYear = 24

// Grid lays out the take-offs of a span, column by column: cols columns of rows instants, the zero
// time where the clocks of the place skip one. Where an hour comes twice, a day has both and a year the
// first.
func Grid(s *shot.Shot, o Span) (cols, rows int, at []time.Time) {
	zone := s.Zone
	if zone == nil {
		zone = time.UTC
	}
	if o == OverYear {
		return yearOf(s.TakeOff.In(zone), zone)
	}
	return dayOf(s.TakeOff.In(zone), zone)
}

// dayOf returns the steps of one calendar day. A day on which the clocks change has 23 or 25 hours, or
// half an hour more or less; the steps are real time all the same.
func dayOf(t time.Time, zone *time.Location) (cols, rows int, at []time.Time) {
	y, m, d := t.Date()
	from, to := Midnight(y, m, d, zone), Midnight(y, m, d+1, zone)
	n := int(to.Sub(from) / Step)
	cols = (n + stepsPerColumn - 1) / stepsPerColumn
	at = make([]time.Time, cols*stepsPerColumn)
	for i := range n {
		at[i] = from.Add(time.Duration(i) * Step).In(zone)
	}
	return cols, stepsPerColumn, at
}

// Midnight returns the first instant of a calendar day. Where the clocks are put forward at midnight, the
// day begins at a later hour of the clock.
func Midnight(y int, m time.Month, d int, zone *time.Location) time.Time {
	day := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	for minute := 0; minute < 24*60; minute += 10 {
		if t, err := shot.LocalTime(day.Add(time.Duration(minute)*time.Minute), zone); err == nil {
			return t
		}
	}
	return Midnight(y, m, d+1, zone) // a day that a zone left out, when it crossed the date line: the next begins there
}

// yearOf returns the hours of the days that lie whole weeks from the take-off's, within its calendar year.
func yearOf(t time.Time, zone *time.Location) (cols, rows int, at []time.Time) {
	year := t.Year()
	for d := (t.YearDay()-1)%7 + 1; ; d += 7 {
		day := time.Date(year, time.January, d, 0, 0, 0, 0, time.UTC)
		if day.Year() != year {
			break
		}
		cols++
		for h := range takeOffsOfYear {
			c, err := shot.LocalTime(day.Add(time.Duration(h)*time.Hour), zone)
			if err != nil {
				c = time.Time{}
			}
			at = append(at, c)
		}
	}
	return cols, takeOffsOfYear, at
}

// Nearest returns the cell whose take-off is nearest to a time.
func Nearest(at []time.Time, t time.Time) int {
	best, far := 0, time.Duration(math.MaxInt64)
	for i, c := range at {
		if c.IsZero() {
			continue
		}
		if d := c.Sub(t).Abs(); d < far {
			best, far = i, d
		}
	}
	return best
}
