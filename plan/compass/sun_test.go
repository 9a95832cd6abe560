package compass

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
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
	if p := tr.Start().Pos; math.Abs(p.AzimuthDeg-194.34024) > 0.02 || math.Abs(p.AltitudeDeg-(90-50.11162)) > 0.02 {
		t.Errorf("the sun at the start: %+v", p)
	}
	if want := tr.End().Pos.AzimuthDeg - tr.Start().Pos.AzimuthDeg; math.Abs(tr.SweptDeg-want) > 1e-9 || want <= 0 {
		t.Errorf("swept %g°, want %g°", tr.SweptDeg, want)
	}
	if !tr.Start().Time.Equal(s.TakeOff) || !tr.End().Time.Equal(s.TakeOff.Add(25*time.Second)) {
		t.Errorf("from %v to %v", tr.Start().Time, tr.End().Time)
	}
}

// Only the flight is there: the track begins and ends with it, has a point at the start of every leg, and none far from
// the next.
func TestTrackOfAFlight(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30), plantest.Turning(200, 60, 30), plantest.StillOf(300, 0, 30))
	s.Takes, s.ResetS, s.TransitS = 4, 240, 120
	path := shot.Path(s, 5)
	tr := SunTrackOf(&plan.Report{Shot: s, Path: path})
	if !tr.Start().Time.Equal(path[0].Time[0]) || !tr.End().Time.Equal(path[len(path)-1].Time[1]) {
		t.Errorf("from %v to %v, flown from %v to %v", tr.Start().Time, tr.End().Time, path[0].Time[0], path[len(path)-1].Time[1])
	}
	legs := 0
	for i := range tr.Points {
		p := &tr.Points[i]
		if p.Leg >= 0 {
			if p.Leg != legs || !p.Time.Equal(s.Times().Legs[legs].First) {
				t.Errorf("leg %d begins at %v", p.Leg, p.Time)
			}
			legs++
		}
		if i > 0 {
			if d := p.Time.Sub(tr.Points[i-1].Time); d < 0 || d > trackStep {
				t.Errorf("%v after the point before", d)
			}
		}
	}
	if legs != 3 {
		t.Errorf("%d legs", legs)
	}
}

// Polar nights, the south, and the sun that passes overhead.
func TestTrackElsewhere(t *testing.T) {
	at := func(lat float64, month time.Month, day, hour int) *shot.Shot {
		s := plantest.Flight(0, 0, plantest.Push(200, 4, 30))
		s.LatDeg, s.TakeOff = lat, time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
		return s
	}
	night := trackOf(at(78, time.December, 21, 12))
	if night.Start().Pos.AltitudeDeg > 0 || math.IsNaN(night.SweptDeg) {
		t.Errorf("polar night: the sun %g° up", night.Start().Pos.AltitudeDeg)
	}
	if south := trackOf(at(-40, time.December, 21, 15)); south.SweptDeg >= 0 {
		t.Errorf("in the south the sun goes by north to the left: swept %g°", south.SweptDeg)
	}
	// On the equator at the equinox the sun goes from the east over the zenith to the west.
	s := at(0, time.March, 20, 10)
	s.Legs[0].Seconds = 4 * 3600
	tr := trackOf(s)
	if off := angle.Wrap180(tr.Start().Pos.AzimuthDeg + tr.SweptDeg - tr.End().Pos.AzimuthDeg); math.Abs(off) > 1e-6 {
		t.Errorf("the sweep ends %g° beside the sun", off)
	}
	if a := math.Abs(tr.SweptDeg); a < 150 || a > 210 {
		t.Errorf("swept %g° under the zenith", tr.SweptDeg)
	}
}

// A skyline hides what is behind it, and the clock is the place's.
func TestTrackClockAndSkyline(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		t.Fatal(err)
	}
	s := plantest.Flight(0, 0, plantest.Push(200, 4, 30))
	s.Zone, s.LatDeg, s.LonDeg = zone, 78, 15
	s.TakeOff = time.Date(2026, 6, 21, 6, 0, 0, 0, zone)
	s.Legs[0].Seconds = 4 * 3600
	s.Skyline = [][2]float64{{80, 90}, {100, 90}}
	var behind, open int
	for _, p := range trackOf(s).Points {
		inside := p.Pos.AzimuthDeg > 80 && p.Pos.AzimuthDeg < 100
		if p.Behind != inside {
			t.Fatalf("sun at %g° behind a ridge from 80 to 100: %v", p.Pos.AzimuthDeg, p.Behind)
		}
		if p.Behind {
			behind++
		} else {
			open++
		}
		if p.Time.Location() != zone {
			t.Fatal("not in the place's zone")
		}
	}
	if behind < 10 || open < 10 {
		t.Errorf("%d points behind the ridge, %d not", behind, open)
	}
}

// Through noon the sun goes on, in the north by south and to the right, in the south by north and to the left: never back
// round the sky.
func TestTheSunSweepsThroughNoon(t *testing.T) {
	noon := time.Date(2026, 3, 20, 12, 7, 0, 0, time.UTC) // the equation of time: 7 min, from memory
	for lat, want := range map[float64]float64{50: 39, -50: -39} {
		// At an equinox the azimuth from the meridian has the tangent of the hour angle over the sine of the latitude: 15° make 19.3°.
		if got := swept(&shot.Shot{LatDeg: lat}, noon.Add(-time.Hour), noon.Add(time.Hour)); math.Abs(got-want) > 1 {
			t.Errorf("at %g° swept %.1f°, want %g°", lat, got, want)
		}
	}
}
