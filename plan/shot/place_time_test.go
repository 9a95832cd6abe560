package shot

import (
	"strings"
	"testing"
	"time"
)

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := LoadZone(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestLoadZone(t *testing.T) {
	for _, name := range []string{"Europe/Madrid", "UTC", "Asia/Kathmandu", "America/St_Johns", "Antarctica/Troll"} {
		if _, err := LoadZone(name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"", "Local", "local", "Europe/Madird", "../etc/passwd", "+01:00"} {
		if _, err := LoadZone(name); err == nil {
			t.Errorf("%q is taken for a zone", name)
		}
	}
}

func TestTakeOff(t *testing.T) {
	now := time.Date(2026, 9, 18, 15, 7, 31, 5e8, time.UTC)
	for _, c := range []struct{ text, zone, want string }{
		{"2026-09-18T19:40:00", "Europe/Madrid", "2026-09-18T17:40:00Z"},
		{"2026-09-18T19:40", "Europe/Madrid", "2026-09-18T17:40:00Z"},
		{"2026-09-18 19:40:05", "Europe/Madrid", "2026-09-18T17:40:05Z"},
		{"2026-01-18T19:40", "Europe/Madrid", "2026-01-18T18:40:00Z"},
		{"2026-09-18T19:40Z", "Europe/Madrid", "2026-09-18T19:40:00Z"},
		{"2026-09-18T19:40:00+05:45", "Europe/Madrid", "2026-09-18T13:55:00Z"},
		{"2026-09-18T19:40:00-02:30", "Europe/Madrid", "2026-09-18T22:10:00Z"},
		{"2026-06-18T19:40", "Australia/Lord_Howe", "2026-06-18T09:10:00Z"},
		{"now", "Europe/Madrid", "2026-09-18T15:07:31Z"},
		{"now+10", "Europe/Madrid", "2026-09-18T15:17:31Z"},
		{" Now-5 ", "Europe/Madrid", "2026-09-18T15:02:31Z"},
		// Clocks go back at 03:00 on 25 October 2026: 02:30 comes twice, an offset says which.
		{"2026-10-25T02:30+02:00", "Europe/Madrid", "2026-10-25T00:30:00Z"},
		{"2026-10-25T02:30+01:00", "Europe/Madrid", "2026-10-25T01:30:00Z"},
		{"2026-10-25T01:59", "Europe/Madrid", "2026-10-24T23:59:00Z"},
		{"2026-10-25T03:00", "Europe/Madrid", "2026-10-25T02:00:00Z"},
		{"2026-11-01T01:30-05:00", "America/New_York", "2026-11-01T06:30:00Z"},
		// Around the hour that clocks skip on 29 March 2026.
		{"2026-03-29T01:59:59", "Europe/Madrid", "2026-03-29T00:59:59Z"},
		{"2026-03-29T03:00:00", "Europe/Madrid", "2026-03-29T01:00:00Z"},
		{"2026-03-29T02:30:00Z", "Europe/Madrid", "2026-03-29T02:30:00Z"},
	} {
		got, err := ParseTakeOff(c.text, now, zoneOf(t, c.zone))
		if err != nil || got.UTC().Format(time.RFC3339) != c.want {
			t.Errorf("%q in %s: %v, %v; want %s", c.text, c.zone, got.UTC(), err, c.want)
		}
		if err == nil && got.Location().String() != c.zone {
			t.Errorf("%q: in %v", c.text, got.Location())
		}
	}
	for _, c := range []struct{ text, zone string }{
		{"2026-03-29T02:30", "Europe/Madrid"}, {"2026-03-08T02:00", "America/New_York"}, // skipped
		{"2011-12-30T12:00", "Pacific/Apia"}, // a whole day skipped
		{"2026-02-30T12:00", "UTC"}, {"2026-13-01T12:00", "UTC"}, {"2026-01-01T24:00", "UTC"}, {"2026-01-01T12:60", "UTC"}, {"2026-01-01T12:00:60", "UTC"},
		{"1066-10-14T09:00", "UTC"}, {"2500-01-01T09:00", "UTC"}, {"", "UTC"}, {"2026-09-18", "UTC"}, {"19:40", "UTC"}, {"2026-9-18T19:40", "UTC"},
		{"2026-09-18T19:40+99:00", "UTC"}, {"now10", "UTC"}, {"now+", "UTC"}, {"now+1e3", "UTC"}, {"now+9999", "UTC"}, {"tomorrow", "UTC"},
	} {
		if got, err := ParseTakeOff(c.text, now, zoneOf(t, c.zone)); err == nil {
			t.Errorf("%q in %s is read as %v", c.text, c.zone, got)
		}
	}
	for _, c := range []struct{ text, zone, first, second string }{ // shown twice: both are offered
		{"2026-10-25T02:30", "Europe/Madrid", "2026-10-25T02:30+02:00", "2026-10-25T02:30+01:00"},
		{"2026-10-25T02:00:00", "Europe/Madrid", "2026-10-25T02:00+02:00", "2026-10-25T02:00+01:00"},
		{"2026-11-01 01:30:07", "America/New_York", "2026-11-01T01:30:07-04:00", "2026-11-01T01:30:07-05:00"},
		{"2026-04-05T01:45", "Australia/Lord_Howe", "2026-04-05T01:45+11:00", "2026-04-05T01:45+10:30"},
	} {
		z := zoneOf(t, c.zone)
		got, err := ParseTakeOff(c.text, now, z)
		if err == nil || !strings.Contains(err.Error(), c.first) || !strings.Contains(err.Error(), c.second) {
			t.Fatalf("%q in %s: %v, %v", c.text, c.zone, got, err)
		}
		a, err1 := ParseTakeOff(c.first, now, z)
		b, err2 := ParseTakeOff(c.second, now, z)
		if err1 != nil || err2 != nil || !a.Before(b) || a.In(z).Format("15:04:05") != b.In(z).Format("15:04:05") {
			t.Errorf("%q in %s offers %v and %v", c.text, c.zone, a, b)
		}
	}
	if _, err := parseTakeOffTime("now", time.UTC); err == nil {
		t.Error("a card may say now")
	}
}

// Every hour of a year in zones that change their clocks comes back from what is written.
func TestFormatTakeOffReadsBack(t *testing.T) {
	for _, name := range []string{"Europe/Madrid", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kolkata"} {
		z := zoneOf(t, name)
		for at := time.Date(2026, 1, 1, 0, 20, 0, 0, time.UTC); at.Year() == 2026; at = at.Add(30 * time.Minute) {
			text := FormatTakeOff(at, z)
			if back, err := parseTakeOffTime(text, z); err != nil || !back.Equal(at) {
				t.Fatalf("%s in %s writes %s, read as %v, %v", at, name, text, back, err)
			}
		}
	}
}

func FuzzTakeOff(f *testing.F) {
	for _, s := range []string{"2026-09-18T19:40", "now+10", "2026-10-25T02:30+01:00"} {
		f.Add(s)
	}
	z := zoneOf(f, "Europe/Madrid")
	f.Fuzz(func(t *testing.T, text string) {
		at, err := ParseTakeOff(text, testNow, z)
		if err != nil {
			return
		}
		if back, err := parseTakeOffTime(FormatTakeOff(at, z), z); err != nil || !back.Equal(at) {
			t.Fatalf("%q is %v, which reads back as %v, %v", text, at, back, err)
		}
	})
}
