package zone

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/place"
)

// Every row is read, lies on the earth, and names a zone whose offsets are known.
func TestTheTable(t *testing.T) {
	rows := 0
	for row := range strings.Lines(table) {
		if !strings.HasPrefix(row, "#") {
			rows++
		}
	}
	if rows < 400 || len(Towns()) != rows {
		t.Fatalf("%d rows, %d read", rows, len(Towns()))
	}
	for _, town := range Towns() {
		if _, err := time.LoadLocation(town.Zone); err != nil {
			t.Errorf("%s: %v", town.Zone, err)
		}
	}
}

// The table is that of the system where the system's database is of the same release: its own file says which it is.
func TestTheTableIsOfItsRelease(t *testing.T) {
	dir := "/usr/share/zoneinfo/"
	head, err := os.ReadFile(dir + "tzdata.zi")
	if err != nil || !strings.HasPrefix(string(head), "# version "+Release+"\n") {
		t.Skip("the system has another release")
	}
	system, err := os.ReadFile(dir + "zone.tab")
	if err != nil || string(system) != table {
		t.Errorf("zone.tab differs from the system's, %v", err)
	}
}

// Offsets by law, as they are printed in an almanac's table of standard times: Iceland keeps UTC all year, Galicia
// the time of central Europe, Portugal that of western Europe, Nepal 5:45.
func TestNearestAndOffsets(t *testing.T) {
	summer, winter := time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC), time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		at   place.Point
		when time.Time
		zone string
		want string
	}{
		{place.Point{LatDeg: 64.0484, LonDeg: -16.1794}, summer, "Atlantic/Reykjavik", "+00:00"},
		{place.Point{LatDeg: 64.0484, LonDeg: -16.1794}, winter, "Atlantic/Reykjavik", "+00:00"},
		{place.Point{LatDeg: 40.4, LonDeg: -3.7}, summer, "Europe/Madrid", "+02:00"},
		{place.Point{LatDeg: 40.4, LonDeg: -3.7}, winter, "Europe/Madrid", "+01:00"},
		{place.Point{LatDeg: 38.7, LonDeg: -9.1}, summer, "Europe/Lisbon", "+01:00"},
		{place.Point{LatDeg: 27.7, LonDeg: 85.3}, winter, "Asia/Kathmandu", "+05:45"},
		{place.Point{LatDeg: 47.6, LonDeg: -52.7}, winter, "America/St_Johns", "-03:30"},
		{place.Point{LatDeg: -16.8, LonDeg: -179.99}, winter, "Pacific/Fiji", "+12:00"}, // across the 180th meridian
	} {
		near := Nearest(c.at, c.when)
		if len(near) != Asked || near[0].Zone != c.zone || Sign(near[0].Offset) != c.want {
			t.Errorf("%v: %+v, want %s %s", c.at, near, c.zone, c.want)
		}
		for i := 1; i < len(near); i++ {
			if near[i].Km < near[i-1].Km {
				t.Errorf("%v: not the nearest first", c.at)
			}
		}
	}
}

// A zone fits by its offset, whatever its name, and only at the moment that is asked about.
func TestFits(t *testing.T) {
	iceland, galicia := place.Point{LatDeg: 64.0484, LonDeg: -16.1794}, place.Point{LatDeg: 43.3672, LonDeg: -8.4604}
	summer, winter := time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC), time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		at   place.Point
		zone string
		when time.Time
		want bool
	}{
		{galicia, "Europe/Madrid", summer, true}, {galicia, "Europe/Paris", summer, true}, {galicia, "Asia/Tokyo", summer, false},
		{iceland, "Atlantic/Reykjavik", summer, true}, {iceland, "UTC", summer, true}, {iceland, "Europe/Madrid", summer, false},
		{iceland, "Europe/London", winter, true},
	} {
		in, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		if got := Fits(Nearest(c.at, c.when), in, c.when); got != c.want {
			t.Errorf("%s at %v in %v: %v", c.zone, c.at, c.when.Month(), got)
		}
	}
}

func BenchmarkNearest(b *testing.B) {
	for b.Loop() {
		Nearest(place.Point{LatDeg: 64.0484, LonDeg: -16.1794}, time.Unix(0, 0))
	}
}

// The table's own notation is read as everywhere else: every row of it.
func TestTheTableIsReadAsAnyPlace(t *testing.T) {
	rows := 0
	for row := range strings.Lines(table) {
		cols := strings.Split(strings.TrimRight(row, "\r\n"), "\t")
		if strings.HasPrefix(row, "#") || len(cols) < 3 {
			continue
		}
		rows++
		want, err := place.Parse(cols[1])
		got, ok := packed(cols[1])
		if err != nil || !ok || math.Abs(got.LatDeg-want.LatDeg) > 1e-12 || math.Abs(got.LonDeg-want.LonDeg) > 1e-12 {
			t.Errorf("%s: %v %v, as any place %v %v", cols[1], got, ok, want, err)
		}
	}
	if rows < 400 || len(Towns()) != rows {
		t.Errorf("%d rows, %d towns", rows, len(Towns()))
	}
	for _, wrong := range []string{"", "+", "4230+00131", "+4230", "+423+00131", "+4230+0013", "+4230+001311", "+42x0+00131", "+423015+0013115+"} {
		if p, ok := packed(wrong); ok {
			t.Errorf("%q is %v", wrong, p)
		}
	}
}
