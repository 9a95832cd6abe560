package compass

import (
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// SunPoint is the sun at one time of the day.
type SunPoint struct {
	Time   time.Time // in the place's zone
	Pos    sun.Position
	Hour   bool // a full hour of the local clock
	Behind bool // the skyline of the card hides it
}

// Bearing returns where the sun stands.
func (p *SunPoint) Bearing() Bearing { return Bearing{p.Pos.AzimuthDeg, p.Pos.AltitudeDeg} }

// SunTrack is the way of the sun over one calendar day, as far as it is above the horizon, and the part
// of it that belongs to the flight.
type SunTrack struct {
	Points []SunPoint // every trackStep of the day that the sun is up; may have gaps near a pole
	// Start and End are the sun at the first take's start and at the last take's end.
	Start, End SunPoint
	// SweptDeg is by how much its bearing turns between the two, clockwise positive: from
	// Start.Pos.AzimuthDeg on. South of the sun's own latitude, or under it, it can be negative.
	SweptDeg float64
}

// trackStep lies close enough for a drawn line (the bearing of a sun below 60° turns by less than 3°)
// and divides the hour.
const trackStep = 5 * time.Minute

// sweepStep is how far apart the bearings are that a sweep is summed from: under a sun in the zenith a
// bearing turns fast.
const sweepStep = 15 * time.Second

// SunTrackOf returns the sun's way on the date of the take-off, by the calendar of the place. The report must
// have a path.
func SunTrackOf(r *plan.Report) SunTrack {
	return sunTrack(r.Shot, r.Path[0].Time[0], r.Path[len(r.Path)-1].Time[1])
}

func sunTrack(s *shot.Shot, from, to time.Time) SunTrack {
	zone := s.Zone
	if zone == nil {
		zone = time.UTC
	}
	y, mo, d := s.TakeOff.In(zone).Date()
	first, next := hours.Midnight(y, mo, d, zone), hours.Midnight(y, mo, d+1, zone)
	var t SunTrack
	for at := first; at.Before(next); at = at.Add(trackStep) {
		if p := sunPoint(s, at.In(zone)); p.Pos.AltitudeDeg > 0 {
			t.Points = append(t.Points, p)
		}
	}
	t.Start, t.End = sunPoint(s, from.In(zone)), sunPoint(s, to.In(zone))
	last := t.Start.Pos.AzimuthDeg
	for at := from; at.Before(to); {
		if at = at.Add(sweepStep); at.After(to) {
			at = to
		}
		az := sun.At(at, s.LatDeg, s.LonDeg).AzimuthDeg
		t.SweptDeg += angle.Wrap180(az - last)
		last = az
	}
	return t
}

func sunPoint(s *shot.Shot, at time.Time) SunPoint {
	p := sun.At(at, s.LatDeg, s.LonDeg)
	return SunPoint{Time: at, Pos: p, Hour: at.Minute() == 0 && at.Second() == 0, Behind: s.SunBehindSkyline(p)}
}
