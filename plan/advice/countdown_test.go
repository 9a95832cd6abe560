package advice

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
)

// The words at each minute around a take-off at 19:40 whose light lasts for a start until 20:07.
func TestCountdown(t *testing.T) {
	day := func(clock string) time.Time {
		at, err := time.Parse("2006-01-02 15:04:05", "2026-09-18 "+clock)
		if err != nil {
			t.Fatal(err)
		}
		return at
	}
	report := func(latest, left float64) *plan.Report {
		return &plan.Report{
			Shot: &shot.Shot{TakeOff: day("19:40:00"), Zone: time.UTC}, FlightMin: 14, LatestStartMin: latest,
			Flights: []plan.Flight{{LightLeftMin: left}},
		}
	}
	open, endless, past, planned := report(27.5, 41), report(math.Inf(1), math.Inf(1)), report(-13, 0), report(-10, 4)
	for _, c := range []struct {
		of          *plan.Report
		now         string
		kept        int // −1 for not
		long, short string
		late        bool
	}{
		{open, "16:39:59", -1, "", "", false}, // more than three hours
		{open, "16:40:00", -1, "take off in 3 h", "off in 3 h", false},
		{open, "18:26:00", -1, "take off in 1 h 14 min, at the latest in 1 h 41", "off in 1 h 14, latest in 1 h 41", false},
		{open, "19:26:00", -1, "take off in 14 min, at the latest in 41", "off in 14 min, latest in 41", false},
		{open, "19:26:59", -1, "take off in 14 min, at the latest in 41", "off in 14 min, latest in 41", false},
		{open, "19:40:30", -1, "take off now, at the latest in 27", "off now, latest in 27", false},
		{open, "19:45:00", -1, "5 min past take-off, at the latest in 22", "5 min past, latest in 22", false},
		{open, "20:07:40", -1, "27 min past take-off, at the latest now", "27 min past, latest now", false},
		{open, "20:10:00", -1, "3 min too late for clean light", "3 min too late", true},
		{open, "20:37:00", -1, "30 min too late for clean light", "30 min too late", true},
		{open, "20:38:00", -1, "", "", false}, // it is another evening's
		{endless, "19:26:00", -1, "take off in 14 min", "off in 14 min", false},
		{endless, "19:54:00", -1, "14 min past take-off", "14 min past", false},
		{endless, "19:55:00", -1, "", "", false},
		{past, "19:26:00", -1, "take off in 14 min", "off in 14 min", false}, // when it was is not known
		{planned, "19:20:00", -1, "take off in 10 min at the latest", "latest off in 10", false},
		{planned, "19:30:00", -1, "take off now at the latest", "latest off now", false},
		{planned, "19:32:00", -1, "2 min too late for clean light", "2 min too late", true},
		{open, "19:35:00", 5, "take-off kept at now + 5 min, at the latest in 32", "off 19:40, now + 5, latest in 32", false},
		{open, "19:40:00", 0, "take-off kept at now, at the latest in 27", "off 19:40, now, latest in 27", false},
		{open, "15:40:00", 0, "take-off kept at now", "off 19:40, now", false},
		{open, "20:00:00", 15, "take-off kept at now + 15 min: 8 min too late", "off 19:40, now + 15: 8 too late", true},
	} {
		s := Start{Now: day(c.now), Kept: c.kept >= 0, FromNow: c.kept}
		got := Count(c.of, s)
		if got.Long != c.long || got.Short != c.short || got.Late != c.late || got.Late != (got.News != "") {
			t.Errorf("%s, kept %d: %+v; want %q, %q", c.now, c.kept, got, c.long, c.short)
		}
		s.Flying = true
		if got := Count(c.of, s); got.Late || !s.Kept && got.Long != "" || s.Kept && got.Long != "take-off kept at 19:40, not written" {
			t.Errorf("%s: on the flight: %+v", c.now, got)
		}
	}
	if news := Count(open, Start{Now: day("20:10:00")}).News; news != "too late since 20:07: no clean light for the last take" {
		t.Error(news)
	}
}
