package compass

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// trackOf is the track of a shot whose path is as the card says.
func trackOf(s *shot.Shot) SunTrack {
	return SunTrackOf((&plan.Report{Shot: s, Path: shot.Path(s, 2)}))
}

// Reda & Andreas 2004 (NREL/TP-560-34302), the worked example: 17 October 2003, 12:30:30 at UTC−7,
// azimuth 194.34024°, zenith distance 50.11162°.
func TestTrackStartsAtThePublishedSun(t *testing.T) {
	zone := time.FixedZone("", -7*3600)
	s := plantest.Flight(0, 0, plantest.Push(200, 4, 30))
	s.LatDeg, s.LonDeg, s.Zone, s.TransitS = 39.742476, -105.1786, zone, 0
	s.TakeOff = time.Date(2003, 10, 17, 12, 30, 30, 0, zone)
	tr := trackOf(s)
	if p := tr.Start.Pos; math.Abs(p.AzimuthDeg-194.34024) > 0.02 || math.Abs(p.AltitudeDeg-(90-50.11162)) > 0.02 {
		t.Errorf("the sun at the start: %+v", p)
	}
	if want := tr.End.Pos.AzimuthDeg - tr.Start.Pos.AzimuthDeg; math.Abs(tr.SweptDeg-want) > 1e-9 || want <= 0 {
		t.Errorf("swept %g°, want %g°", tr.SweptDeg, want)
	}
	if !tr.Start.Time.Equal(s.TakeOff) || !tr.End.Time.Equal(s.TakeOff.Add(25*time.Second)) {
		t.Errorf("from %v to %v", tr.Start.Time, tr.End.Time)
	}
}

// The track begins with the sunrise and ends with the sunset of the almanac, goes from east over south
// to west at 45° north, and marks every full hour between.
func TestTrackOfADay(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30))
	day := sun.DayOf(2026, 3, 20, time.UTC, s.LatDeg, s.LonDeg)
	tr := trackOf(s)
	first, last := tr.Points[0], tr.Points[len(tr.Points)-1]
	// The disc's upper edge rises some two minutes before its centre, and the track has a point every five.
	if d := first.Time.Sub(day.Sunrise); d < 0 || d > 9*time.Minute {
		t.Errorf("begins %v after sunrise", d)
	}
	if d := day.Sunset.Sub(last.Time); d < 0 || d > 9*time.Minute {
		t.Errorf("ends %v before sunset", d)
	}
	hours := 0
	for i, p := range tr.Points {
		if p.Hour != (p.Time.Minute() == 0) {
			t.Fatalf("%v: full hour %v", p.Time, p.Hour)
		}
		if p.Hour {
			hours++
		}
		if i > 0 && (angle.Wrap180(p.Pos.AzimuthDeg-tr.Points[i-1].Pos.AzimuthDeg) <= 0 || p.Time.Sub(tr.Points[i-1].Time) != trackStep) {
			t.Fatalf("from %v to %v the sun goes back", tr.Points[i-1], p)
		}
	}
	if hours != 12 {
		t.Errorf("%d full hours in the day of the equinox", hours)
	}
}

// Polar days and nights, the south, and the sun that passes overhead.
func TestTrackElsewhere(t *testing.T) {
	at := func(lat float64, month time.Month, day, hour int) *shot.Shot {
		s := plantest.Flight(0, 0, plantest.Push(200, 4, 30))
		s.LatDeg, s.TakeOff = lat, time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
		return s
	}
	if n := len(trackOf(at(78, time.June, 21, 12)).Points); n != 24*12 {
		t.Errorf("polar day: %d points, want all of the day", n)
	}
	night := trackOf(at(78, time.December, 21, 12))
	if len(night.Points) != 0 || night.Start.Pos.AltitudeDeg > 0 {
		t.Errorf("polar night: %d points", len(night.Points))
	}
	if south := trackOf(at(-40, time.December, 21, 15)); south.SweptDeg >= 0 {
		t.Errorf("in the south the sun goes by north to the left: swept %g°", south.SweptDeg)
	}
	// On the equator at the equinox the sun goes from the east over the zenith to the west.
	s := at(0, time.March, 20, 10)
	s.Legs[0].Seconds = 4 * 3600
	tr := trackOf(s)
	if off := angle.Wrap180(tr.Start.Pos.AzimuthDeg + tr.SweptDeg - tr.End.Pos.AzimuthDeg); math.Abs(off) > 1e-6 {
		t.Errorf("the sweep ends %g° beside the sun", off)
	}
	if a := math.Abs(tr.SweptDeg); a < 150 || a > 210 {
		t.Errorf("swept %g° under the zenith", tr.SweptDeg)
	}
}

// A day of the clock's change is as long as it is, and a skyline hides what is behind it.
func TestTrackClockAndSkyline(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		t.Fatal(err)
	}
	s := plantest.Flight(0, 0, plantest.Push(200, 4, 30))
	s.Zone, s.LatDeg, s.LonDeg = zone, 78, 15
	s.TakeOff = time.Date(2026, 6, 21, 12, 0, 0, 0, zone)
	s.Skyline = [][2]float64{{80, 90}, {100, 90}}
	var behind int
	for _, p := range trackOf(s).Points {
		inside := p.Pos.AzimuthDeg > 80 && p.Pos.AzimuthDeg < 100
		if p.Behind != inside {
			t.Fatalf("sun at %g° behind a ridge from 80 to 100: %v", p.Pos.AzimuthDeg, p.Behind)
		}
		if p.Behind {
			behind++
		}
		if p.Time.Location() != zone {
			t.Fatal("not in the place's zone")
		}
	}
	if behind < 10 {
		t.Errorf("%d points behind the ridge", behind)
	}
	s.TakeOff = time.Date(2026, 10, 25, 12, 0, 0, 0, zone) // 25 hours
	s.LatDeg, s.Skyline = -85, nil
	if n := len(trackOf(s).Points); n != 25*12 {
		t.Errorf("%d points on a day of 25 hours", n)
	}
}
