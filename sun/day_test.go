package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/sixdouglas/suncalc"
)

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Skipf("no zone data on this machine: %v", err)
	}
	return z
}

// Against a reference ephemeris (testdata/README.md): events, noon, and the kind of day.
func TestDayAgainstEphemeris(t *testing.T) {
	kinds := map[string]DayKind{"normal": RisesAndSets, "sun_up_all_day": UpAllDay, "sun_down_all_day": DownAllDay}
	table := rows(t, "sun_events.csv")
	if len(table) < 30 {
		t.Fatalf("only %d rows", len(table))
	}
	worst, worstGrazing, events := 0.0, 0.0, 0
	for _, r := range table {
		date := utc(t, r["local_date"]+"T00:00:00Z")
		zone := time.FixedZone("", int(number(t, r["utc_offset_h"])*3600))
		lat, lon := number(t, r["lat_deg"]), number(t, r["lon_deg_east"])
		d := DayOf(date.Year(), date.Month(), date.Day(), zone, lat, lon)
		near(t, "noon altitude", d.NoonAltitudeDeg, number(t, r["alt_noon_deg"]), 0.02)
		if want, ok := kinds[r["day_kind"]]; !ok || d.Kind != want {
			t.Errorf("%s lat %g: kind %v, want %s", r["local_date"], lat, d.Kind, r["day_kind"])
		}
		// Half the turn of the stars before noon, the altitude is the one the table lists.
		before := At(d.Noon.Add(-43082*time.Second), lat, lon)
		near(t, "altitude 43,082 s before noon", before.GeometricDeg, number(t, r["alt_prev_midnight_deg"]), 0.02)
		for name, got := range map[string]time.Time{
			"nautical_dawn_utc": d.NauticalDawn, "civil_dawn_utc": d.CivilDawn, "sunrise_utc": d.Sunrise,
			"low_morning_end_utc": d.LowMorningEnd, "solar_noon_utc": d.Noon, "low_evening_start_utc": d.LowEveningStart,
			"sunset_utc": d.Sunset, "civil_dusk_utc": d.CivilDusk, "nautical_dusk_utc": d.NauticalDusk,
		} {
			if r[name] == "none" {
				if !got.IsZero() {
					t.Errorf("%s lat %g: %s at %v, want none", r["local_date"], lat, name, got)
				}
				continue
			}
			if got.IsZero() {
				t.Errorf("%s lat %g: no %s", r["local_date"], lat, name)
				continue
			}
			off := math.Abs(got.Sub(utc(t, r[name])).Seconds())
			events++
			// Grazing: the sun needs more than a minute for a tenth of a degree.
			slope := math.Abs(At(got.Add(time.Minute), lat, lon).GeometricDeg - At(got, lat, lon).GeometricDeg)
			limit := 10.0
			if grazing := slope < 0.1 && name != "solar_noon_utc"; grazing {
				limit = 30
				worstGrazing = max(worstGrazing, off)
			} else {
				worst = max(worst, off)
			}
			if off > limit {
				t.Errorf("%s lat %g: %s off by %.0f s", r["local_date"], lat, name, off)
			}
		}
	}
	t.Logf("worst of %d events: %.0f s; grazing %.0f s", events, worst, worstGrazing)
}

// The independent opinion below latitude 60: 300 s. It answers for the noon nearest to the instant
// it is given, so it gets local noon.
func TestDayAgainstSuncalc(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	worst, n := 0.0, 0
	for range 500 {
		lat, lon := rng.Float64()*118-59, rng.Float64()*358-179
		zone := time.FixedZone("", int(math.Round(lon/15))*3600)
		date := time.Date(2020+rng.IntN(20), 1, 1+rng.IntN(365), 12, 0, 0, 0, zone)
		d := DayOf(date.Year(), date.Month(), date.Day(), zone, lat, lon)
		o := suncalc.GetTimesWithObserver(date, suncalc.Observer{Latitude: lat, Longitude: lon, Location: zone})
		for name, got := range map[suncalc.DayTimeName]time.Time{
			suncalc.Sunrise: d.Sunrise, suncalc.Sunset: d.Sunset, suncalc.SolarNoon: d.Noon,
			suncalc.Dawn: d.CivilDawn, suncalc.Dusk: d.CivilDusk,
		} {
			want := o[name].Value
			if want.IsZero() || want.Unix() == 0 || got.IsZero() {
				continue // their missing event differs from machine to machine
			}
			off := math.Abs(got.Sub(want).Seconds())
			worst = max(worst, off)
			n++
			if off > 300 {
				t.Errorf("%s lat %.2f lon %.2f: %s off by %.0f s", date.Format(time.DateOnly), lat, lon, name, off)
			}
		}
	}
	if n < 2000 {
		t.Fatalf("only %d events compared", n)
	}
	t.Logf("worst of %d: %.0f s", n, worst)
}

// crossingsBetween returns the passages of an altitude between two instants, in order.
func crossingsBetween(from, to time.Time, lat, lon, level float64) []crossing {
	var list []crossing
	for a, b := secondsOf(from), secondsOf(to); a < b; a += daySeconds {
		c := courseOf(newSite(lat, lon), a, min(b, a+daySeconds))
		list = c.crossings(list, level)
	}
	return list
}

// scan finds passages the slow way, for comparison.
func scan(from, to time.Time, step time.Duration, lat, lon, level float64) (out []crossing) {
	up := At(from, lat, lon).GeometricDeg >= level
	for t := from.Add(step); !t.After(to); t = t.Add(step) {
		if now := At(t, lat, lon).GeometricDeg >= level; now != up {
			up = now
			out = append(out, crossing{t, up})
		}
	}
	return out
}

// Where polar day and night begin and end the sun grazes the horizon: nothing may be missed that a
// scan in steps of twenty seconds sees.
func TestCrossingsFindAllThatAScanFinds(t *testing.T) {
	for _, c := range []struct {
		lat, level float64
		month      time.Month
		days       int
	}{
		{69.65, HorizonDeg, 5, 24}, {69.65, HorizonDeg, 7, 30}, {69.65, HorizonDeg, 11, 30}, {-66.9, HorizonDeg, 12, 30},
		{60.7, CivilDeg, 5, 30}, {89.9, HorizonDeg, 3, 24}, {90, HorizonDeg, 3, 24}, {60, LowSunDeg, 12, 30}, {0, 66.56, 6, 20},
	} {
		from := time.Date(2026, c.month, 1, 0, 0, 0, 0, time.UTC)
		to := from.AddDate(0, 0, c.days)
		want := scan(from, to, 20*time.Second, c.lat, 18.96, c.level)
		got := crossingsBetween(from, to, c.lat, 18.96, c.level)
		if len(got) < len(want) { // the scan may step over a pair less than 20 s apart
			t.Errorf("lat %g level %g: %d passages, the scan has %d", c.lat, c.level, len(got), len(want))
			continue
		}
		for _, w := range want {
			found := false
			for _, g := range got {
				found = found || g.Rising == w.Rising && w.Time.Sub(g.Time) >= -time.Second && w.Time.Sub(g.Time) <= 21*time.Second
			}
			if !found {
				t.Errorf("lat %g level %g: the scan passes at %v, rising %v; not found", c.lat, c.level, w.Time, w.Rising)
			}
		}
	}
}

// A year above the arctic circle: the kinds follow each other as seasons do, and agree with a scan.
func TestKindsOfAPolarYear(t *testing.T) {
	const lat, lon = 69.65, 18.96
	zone := time.FixedZone("", 3600)
	var runs []DayKind
	for date := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); date.Year() == 2026; date = date.AddDate(0, 0, 1) {
		d := DayOf(2026, date.Month(), date.Day(), zone, lat, lon)
		if len(runs) == 0 || runs[len(runs)-1] != d.Kind {
			runs = append(runs, d.Kind)
		}
		rising := scan(d.Noon.Add(-12*time.Hour), d.Noon, 20*time.Second, lat, lon, HorizonDeg)
		rises := len(rising) > 0 && rising[len(rising)-1].Rising
		setting := scan(d.Noon, d.Noon.Add(12*time.Hour), 20*time.Second, lat, lon, HorizonDeg)
		sets := len(setting) > 0 && !setting[0].Rising
		if rises != !d.Sunrise.IsZero() || sets != !d.Sunset.IsZero() {
			t.Errorf("%s: %v, scan rises %v sets %v", date.Format(time.DateOnly), d.Kind, rises, sets)
		}
		if (d.Kind != RisesAndSets) && d.Note == "" {
			t.Errorf("%s: %v without a note", date.Format(time.DateOnly), d.Kind)
		}
	}
	// Down, sun again, one day that only rises, up, one that only sets, and back.
	want := []DayKind{DownAllDay, RisesAndSets, RisesOnly, UpAllDay, SetsOnly, RisesAndSets, DownAllDay}
	if len(runs) != len(want) {
		t.Fatalf("the year runs %v, want %v", runs, want)
	}
	for i := range want {
		if runs[i] != want[i] {
			t.Fatalf("the year runs %v, want %v", runs, want)
		}
	}
}

// At a pole the sun rises once a year and sets once, whatever the hour, and every other day has a
// plain kind.
func TestKindsAtThePoles(t *testing.T) {
	for _, lat := range []float64{90, -90, 89.999} {
		n := map[DayKind]int{}
		for date := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); date.Year() == 2026; date = date.AddDate(0, 0, 1) {
			d := DayOf(2026, date.Month(), date.Day(), time.UTC, lat, 0)
			n[d.Kind]++
			if d.Noon.IsZero() || math.IsNaN(d.NoonAltitudeDeg) {
				t.Fatalf("lat %g %v: no noon", lat, date)
			}
		}
		if n[RisesOnly] != 1 || n[SetsOnly] != 1 || n[RisesAndSets] != 0 || n[UpAllDay] < 180 || n[DownAllDay] < 170 {
			t.Errorf("lat %g: %v", lat, n)
		}
	}
}

// Every event stands where its altitude says, in its order, for zones with summer time, zones far
// from their meridian, and the date line.
func TestDayHoldsTogether(t *testing.T) {
	for _, c := range []struct {
		zone     string
		lat, lon float64
	}{
		{"Europe/Madrid", 43.39, -8.41}, {"America/New_York", 40.7, -74}, {"Pacific/Apia", -13.8, -171.8},
		{"Pacific/Kiritimati", 1.87, -157.4}, {"Asia/Shanghai", 39.5, 76}, {"Australia/Lord_Howe", -31.5, 159.1},
		{"Asia/Kathmandu", 27.7, 85.3}, {"America/Adak", 51.9, -176.6}, {"UTC", 10, 20},
	} {
		zone := zoneOf(t, c.zone)
		var last time.Time
		for date := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); date.Year() == 2026; date = date.AddDate(0, 0, 1) {
			d := DayOf(date.Year(), date.Month(), date.Day(), zone, c.lat, c.lon)
			if y, m, day := d.Noon.Date(); y != 2026 || m != date.Month() || day != date.Day() {
				t.Fatalf("%s %s: noon at %v", c.zone, date.Format(time.DateOnly), d.Noon)
			}
			if !last.IsZero() {
				near(t, c.zone+" from noon to noon", d.Noon.Sub(last).Seconds(), 86400, 32)
			}
			last = d.Noon
			order := []time.Time{d.NauticalDawn, d.CivilDawn, d.Sunrise, d.LowMorningEnd, d.Noon, d.LowEveningStart, d.Sunset, d.CivilDusk, d.NauticalDusk}
			level := []float64{NauticalDeg, CivilDeg, HorizonDeg, LowSunDeg, 0, LowSunDeg, HorizonDeg, CivilDeg, NauticalDeg}
			for i, at := range order {
				if at.IsZero() || at.Location() != zone {
					t.Fatalf("%s %v: event %d is %v", c.zone, date, i, at)
				}
				if i > 0 && !at.After(order[i-1]) {
					t.Fatalf("%s %v: event %d at %v is not after %v", c.zone, date, i, at, order[i-1])
				}
				if i != 4 {
					near(t, c.zone, At(at, c.lat, c.lon).GeometricDeg, level[i], 0.0025)
				}
			}
			if az := At(d.Noon, c.lat, c.lon).AzimuthDeg; math.Abs(math.Sin(az*rad))*math.Cos(d.NoonAltitudeDeg*rad) > 1e-4 {
				t.Errorf("%s %v: at noon the sun bears %.3f°", c.zone, date, az)
			}
			if d.Kind != RisesAndSets || d.Note != "" {
				t.Errorf("%s %v: %v %q", c.zone, date, d.Kind, d.Note)
			}
		}
	}
}

// Days that the clock makes 23 or 25 hours long, a nil zone, a date past the month's end, and a
// zone half a turn from its meridian.
func TestDayBoundaries(t *testing.T) {
	madrid := zoneOf(t, "Europe/Madrid")
	for _, day := range []int{28, 29, 30} { // clocks go forward on 29 March 2026
		d := DayOf(2026, 3, day, madrid, 40.4, -3.7)
		_, offset := d.Noon.Zone()
		want := 7200
		if day == 28 {
			want = 3600
		}
		if d.Noon.Day() != day || offset != want || d.Sunrise.Day() != day || d.Sunset.Day() != day {
			t.Errorf("March %d: noon %v, sunrise %v, sunset %v", day, d.Noon, d.Sunrise, d.Sunset)
		}
	}
	if a, b := DayOf(2026, 4, 31, nil, 50, 10), DayOf(2026, 5, 1, time.UTC, 50, 10); a != b {
		t.Errorf("31 April without a zone: %+v, want %+v", a, b)
	}
	// 180° east on universal time: noon falls around midnight, twice or never on some dates.
	missed := 0
	for date := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); date.Year() == 2026; date = date.AddDate(0, 0, 1) {
		d := DayOf(2026, date.Month(), date.Day(), time.UTC, 0, 180)
		if d.Noon.YearDay() != date.YearDay() {
			missed++
		}
		if off := d.Noon.Sub(date.Add(12 * time.Hour)); off.Abs() > 12*time.Hour+time.Minute {
			t.Errorf("%v: noon at %v", date, d.Noon)
		}
	}
	if missed > 2 {
		t.Errorf("%d dates without their own noon", missed)
	}
}

func TestNotes(t *testing.T) {
	for _, c := range []struct {
		day  Day
		want string
	}{
		{DayOf(2026, 6, 21, nil, 75, 0), "The sun is up all day, stays above 6°."},
		{DayOf(2026, 6, 21, nil, 68, 0), "The sun is up all day."},
		{DayOf(2026, 12, 21, nil, 85, 0), "The sun is down all day, stays below −12°."},
		{DayOf(2026, 12, 21, nil, 70, 0), "The sun is down all day."},
		{DayOf(2026, 6, 21, nil, 58, 0), "The sun stays above −12°."},
		{DayOf(2026, 12, 21, nil, 64, 0), "The sun stays below 6°."},
		{DayOf(2026, 3, 20, nil, 40, 0), ""},
	} {
		if c.day.Note != c.want {
			t.Errorf("note %q, want %q (%+v)", c.day.Note, c.want, c.day)
		}
	}
}

// The rule of a polar day with its passages on the wrong side of noon: an early setting counts only if
// the sun rose before it, a late rising only if the sun sets after it.
func TestChoose(t *testing.T) {
	noon := time.Date(2026, 5, 18, 11, 0, 0, 0, time.UTC)
	at := func(hours float64) time.Time { return noon.Add(time.Duration(hours * float64(time.Hour))) }
	none := time.Time{}
	up := func(hours float64) crossing { return crossing{at(hours), true} }
	down := func(hours float64) crossing { return crossing{at(hours), false} }
	for _, c := range []struct {
		what      string
		all       []crossing
		rise, set time.Time
	}{
		{"an ordinary day", []crossing{up(-6), down(6)}, at(-6), at(6)},
		{"nothing happens", nil, none, none},
		{"the last rising and the first setting", []crossing{up(-9), down(-8), up(-6), down(6), up(8), down(9)}, at(-6), at(6)},
		{"sets before noon and rises again: up until the next day", []crossing{down(-8), up(-7)}, at(-7), none},
		{"peeps out before noon", []crossing{up(-2), down(-1)}, at(-2), at(-1)},
		{"rises after noon and stays up: the setting before it was yesterday's sun", []crossing{down(4), up(5)}, none, at(4)},
		{"peeps out after noon", []crossing{up(1), down(2)}, at(1), at(2)},
		{"only rises, after noon", []crossing{up(3)}, at(3), none},
		{"only sets, before noon", []crossing{down(-3)}, none, at(-3)},
		{"down around noon", []crossing{down(-3), up(3)}, none, none},
	} {
		if rise, set := choose(c.all, noon); !rise.Equal(c.rise) || !set.Equal(c.set) {
			t.Errorf("%s: rise %v, set %v; want %v, %v", c.what, rise, set, c.rise, c.set)
		}
	}
}

func FuzzDayOf(f *testing.F) {
	f.Add(2026, 6, 21, 69.65, 18.96, 3600)
	f.Add(2026, 3, 20, 90.0, 0.0, -43200)
	f.Add(-5000000, 20, -40, 1e30, -1e30, 50000)
	f.Fuzz(func(t *testing.T, y, m, d int, lat, lon float64, offset int) {
		if math.IsNaN(lat+lon) || math.IsInf(lat, 0) || math.IsInf(lon, 0) || offset < -86400 || offset > 86400 {
			return
		}
		day := DayOf(y, time.Month(m), d, time.FixedZone("", offset), lat, lon)
		if day.Noon.IsZero() || math.IsNaN(day.NoonAltitudeDeg) {
			t.Fatalf("%+v", day)
		}
		if (day.Kind == RisesAndSets) != (!day.Sunrise.IsZero() && !day.Sunset.IsZero()) {
			t.Fatalf("%v with %v and %v", day.Kind, day.Sunrise, day.Sunset)
		}
	})
}

func BenchmarkDayOf(b *testing.B) {
	for b.Loop() {
		sink += DayOf(2026, 9, 18, time.UTC, 43.4, -8.4).NoonAltitudeDeg
	}
}
