package shot

import (
	"testing"
	"time"
)

// Clock changes by the time zone database: Europe/Madrid 2026-03-29 02:00→03:00 and 2026-10-25
// 03:00→02:00, America/New_York 2026-03-08 and 2026-11-01, Australia/Lord_Howe by half an hour.
func TestNudgeTime(t *testing.T) {
	const madrid = "Europe/Madrid"
	for _, c := range []struct {
		zone, text string
		n          int
		want       string
	}{
		{madrid, "2026-09-18T19:40:00", 5, "2026-09-18T20:05:00"},
		{madrid, "2026-09-18T19:40", -1, "2026-09-18T19:35"},
		{madrid, "2026-09-18 19:40:05", 1, "2026-09-18 19:45:05"},
		{madrid, "2026-12-31T23:55", 1, "2027-01-01T00:00"},
		{"UTC", "2028-02-29T00:00", -1, "2028-02-28T23:55"},

		{madrid, "2026-03-29T01:55", 1, "2026-03-29T03:00"}, // the hour from 02:00 is skipped
		{madrid, "2026-03-29T03:00", -1, "2026-03-29T01:55"},
		{madrid, "2026-03-29T01:59:59", 1, "2026-03-29T03:04:59"},
		{madrid, "2026-03-29T01:30", 12, "2026-03-29T03:30"},
		{"America/New_York", "2026-03-08T01:58", 1, "2026-03-08T03:03"},

		{madrid, "2026-10-25T02:55", 1, "2026-10-25T02:00+01:00"}, // the hour from 02:00 comes twice
		{madrid, "2026-10-25T02:00+01:00", -1, "2026-10-25T02:55+02:00"},
		{madrid, "2026-10-25T02:55+02:00", 1, "2026-10-25T02:00+01:00"},
		{madrid, "2026-10-25T02:00+02:00", -1, "2026-10-25T01:55"},
		{madrid, "2026-10-25T02:30:00+01:00", 1, "2026-10-25T02:35:00+01:00"},
		{madrid, "2026-10-25T02:30:00+01:00", -1, "2026-10-25T02:25:00+01:00"},
		{madrid, "2026-10-25T02:55:00+01:00", 1, "2026-10-25T03:00:00"},
		{madrid, "2026-10-25T03:00:00", -1, "2026-10-25T02:55:00+01:00"},
		{madrid, "2026-10-25T02:30", 12, "2026-10-25T02:30+01:00"},
		{"America/New_York", "2026-11-01T01:57", 1, "2026-11-01T01:02-05:00"},
		{"Australia/Lord_Howe", "2026-04-05T01:55", 1, "2026-04-05T01:30+10:30"}, // by half an hour

		{madrid, "2026-09-18T19:40+02:00", 1, "2026-09-18T19:45"}, // what the zone says anyway
		{madrid, "2026-09-18T19:40Z", 1, "2026-09-18T19:45Z"},
		{madrid, "2026-09-18T19:40-03:30", -1, "2026-09-18T19:35-03:30"},

		{madrid, "now", 2, "now+10"},
		{madrid, "now+10", 1, "now+15"},
		{madrid, "now+5", -2, "now"},
		{madrid, "now-10", 1, "now-5"},
		{madrid, "now-10", -1, "now-10"},
		{madrid, " Now-5 ", 1, "now"},
		{madrid, "now+1438", 1, "now+1440"},
	} {
		if got, moved := nudgeTime(c.text, c.n, zoneOf(t, c.zone)); got != c.want || !moved {
			t.Errorf("%s in %s by %d: %q (%v), want %q", c.text, c.zone, c.n, got, moved, c.want)
		}
	}
	for _, text := range []string{"", "tomorrow", "19:40", "now+", "now10", "now+9999", "2026-03-29T02:30", "2100-12-31T23:55"} {
		if got, moved := nudgeTime(text, 1, zoneOf(t, madrid)); moved {
			t.Errorf("%q moves to %q", text, got)
		}
	}
}

// One step on and one back is the same instant, all around the clock changes of a year, and each step is
// five minutes of real time.
func TestNudgeTimeBack(t *testing.T) {
	for _, name := range []string{"Europe/Madrid", "America/St_Johns", "Australia/Lord_Howe", "Africa/Casablanca", "Antarctica/Troll"} {
		z, changes := zoneOf(t, name), 0
		for day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2026; day = day.Add(24 * time.Hour) {
			if sameOffset(day, z, time.FixedZone("", offsetAt(day.Add(24*time.Hour), z))) {
				continue
			}
			changes++
			for at := day.Add(-4*time.Hour + 2*time.Minute); at.Before(day.Add(28 * time.Hour)); at = at.Add(10 * time.Minute) {
				nudgeThereAndBack(t, FormatTakeOff(at, z), at, z)
			}
		}
		if changes != 2 {
			t.Errorf("%s changes its clocks %d times", name, changes)
		}
	}
}

func offsetAt(at time.Time, z *time.Location) int {
	_, seconds := at.In(z).Zone()
	return seconds
}

func nudgeThereAndBack(t *testing.T, text string, at time.Time, z *time.Location) {
	t.Helper()
	for _, n := range []int{1, -1, 7} {
		there, ok := nudgeTime(text, n, z)
		mid, err := parseTakeOffTime(there, z)
		if !ok || err != nil || !mid.Equal(at.Add(time.Duration(n)*5*time.Minute)) {
			t.Fatalf("%s in %s by %d: %q, %v", text, z, n, there, err)
		}
		if back, ok := nudgeTime(there, -n, z); !ok || back != text {
			t.Fatalf("%s in %s by %d and back: %q, %q", text, z, n, there, back)
		}
	}
}

func FuzzNudgeTime(f *testing.F) {
	for _, s := range []string{"2026-09-18T19:40", "now+10", "2026-10-25T02:30+01:00", "2026-03-29 01:55:01", "2050-01-01T00:00Z"} {
		f.Add(s, "Europe/Madrid", 1)
	}
	f.Add("1971-05-01T10:00", "Africa/Monrovia", -3) // an offset with seconds: -00:44:30
	f.Fuzz(func(t *testing.T, text, zone string, n int) {
		z, err := LoadZone(zone)
		if err != nil {
			return
		}
		n %= 1000
		next, moved := nudgeTime(text, n, z)
		if !moved {
			return
		}
		was, _ := ParseTakeOff(text, testNow, z)
		is, err := ParseTakeOff(next, testNow, z)
		if err != nil {
			t.Fatalf("%q in %s by %d is %q: %v", text, zone, n, next, err)
		}
		if text[0] >= '0' && text[0] <= '9' && is.Sub(was) != time.Duration(n)*5*time.Minute {
			t.Fatalf("%q in %s by %d is %q, %v on", text, zone, n, next, is.Sub(was))
		}
	})
}
