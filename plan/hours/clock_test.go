package hours

import (
	"testing"
	"time"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

func onDay(t *testing.T, zone string, y int, m time.Month, d int) *shot.Shot {
	t.Helper()
	z, err := shot.LoadZone(zone)
	if err != nil {
		t.Fatal(err)
	}
	s := plantest.Flight(12, 0, plantest.Push(0, 5, 40))
	s.Zone, s.TakeOff = z, time.Date(y, m, d, 12, 0, 0, 0, z)
	return s
}

// Clocks in Spain go forward at 2:00 on 29 March 2026 and back at 3:00 on 25 October; in Chile forward at
// midnight on 6 September; on Lord Howe Island by half an hour at 2:00 on 5 April and 4 October (IANA time
// zone database).
func TestDaysThatClocksChange(t *testing.T) {
	for _, c := range []struct {
		zone       string
		month      time.Month
		day        int
		steps      int
		first      string
		gone, twos string // a time that is not there, and one that is there twice
	}{
		{"Europe/Madrid", time.March, 28, 144, "00:00", "", ""},
		{"Europe/Madrid", time.March, 29, 138, "00:00", "02:30", ""},
		{"Europe/Madrid", time.October, 25, 150, "00:00", "", "02:30"},
		{"America/Santiago", time.September, 6, 138, "01:00", "00:30", ""},
		{"Australia/Lord_Howe", time.October, 4, 141, "00:00", "02:10", ""},
		{"Australia/Lord_Howe", time.April, 5, 147, "00:00", "", "01:40"},
	} {
		s := onDay(t, c.zone, 2026, c.month, c.day)
		cols, rows, at := Grid(s, OverDay)
		if len(at) != cols*rows || rows != 6 {
			t.Fatalf("%s: %d cells in %d × %d", c.zone, len(at), cols, rows)
		}
		seen := map[string]int{}
		steps := 0
		for i, x := range at {
			if x.IsZero() {
				if i < c.steps {
					t.Errorf("%s %v %d: step %d is not there", c.zone, c.month, c.day, i)
				}
				continue
			}
			steps++
			seen[x.Format("15:04")]++
			if x.Day() != c.day || x.Location() != s.Zone {
				t.Errorf("%s: step %d is %v", c.zone, i, x)
			}
			if i > 0 && x.Sub(at[i-1]) != Step {
				t.Errorf("%s: %v after %v", c.zone, x, at[i-1])
			}
		}
		if steps != c.steps || at[0].Format("15:04") != c.first || seen[c.gone] != 0 || c.twos != "" && seen[c.twos] != 2 {
			t.Errorf("%s %v %d: %d steps from %v, %q %d times, %q %d times", c.zone, c.month, c.day, steps, at[0], c.gone, seen[c.gone], c.twos, seen[c.twos])
		}
	}
}

// A year has the same day of every week, the card's own among them, and leaves out the hour that the
// clocks skip.
func TestYearClock(t *testing.T) {
	for _, c := range []struct{ year, month, day, cols, skipped int }{
		{2026, 3, 29, 52, 1}, {2026, 1, 1, 53, 0}, {2026, 12, 31, 53, 0}, {2024, 12, 30, 53, 0}, {2026, 10, 25, 52, 1},
	} {
		s := onDay(t, "Europe/Madrid", c.year, time.Month(c.month), c.day)
		cols, rows, at := Grid(s, OverYear)
		if cols != c.cols || rows != 24 || len(at) != cols*rows {
			t.Errorf("%v: %d × %d, %d cells", s.TakeOff, cols, rows, len(at))
		}
		skipped, own := 0, false
		for i, x := range at {
			if x.IsZero() {
				skipped++
				continue
			}
			own = own || x.Equal(s.TakeOff)
			if x.Year() != c.year || x.Weekday() != s.TakeOff.Weekday() || x.Hour() != i%24 || x.Minute() != 0 {
				t.Errorf("%v: cell %d is %v", s.TakeOff, i, x)
			}
		}
		if !own || skipped != c.skipped {
			t.Errorf("%v: own take-off there: %v; %d hours skipped, want %d", s.TakeOff, own, skipped, c.skipped)
		}
		if got := at[Nearest(at, s.TakeOff)]; !got.Equal(s.TakeOff) {
			t.Errorf("nearest to %v is %v", s.TakeOff, got)
		}
	}
}

// Samoa left out 30 December 2011, when it crossed the date line (IANA time zone database): asked for, that day begins with
// the next.
func TestADayThatIsNot(t *testing.T) {
	s := onDay(t, "Pacific/Apia", 2011, time.December, 29)
	gone := Midnight(2011, time.December, 30, s.Zone)
	if got := gone.Format("2006-01-02 15:04 -07:00"); got != "2011-12-31 00:00 +14:00" {
		t.Error(got)
	}
	if _, _, at := Grid(s, OverDay); len(at) != 144 {
		t.Errorf("the day before has %d steps", len(at))
	}
	s.Zone = nil
	if _, _, at := Grid(s, OverDay); at[0].Location() != time.UTC {
		t.Errorf("without a zone: %v", at[0])
	}
}
