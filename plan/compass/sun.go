package compass

import (
	"slices"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// SunPoint is the sun at one time of the flight.
type SunPoint struct {
	Time   time.Time // in the place's zone
	Pos    sun.Position
	Leg    int  // the leg whose first take begins then, −1 for none
	Behind bool // the skyline of the card hides it
}

// Bearing returns where the sun stands.
func (p *SunPoint) Bearing() Bearing { return Bearing{p.Pos.AzimuthDeg, p.Pos.AltitudeDeg} }

// SunTrack is the piece of the sun's way that falls in the flight.
type SunTrack struct {
	// Points run from the start of the first take to the end of the last, no further apart than trackStep. A point
	// stands at the start of every leg; all are kept when the sun is down.
	Points []SunPoint
	// SweptDeg is by how much its bearing turns between the two ends, clockwise positive: from the first point's
	// azimuth on. South of the sun's own latitude, or under it, it can be negative.
	SweptDeg float64
}

// trackStep lies close enough for a drawn line: the bearing of a sun below 60° turns by less than 3° in it.
const trackStep = 5 * time.Minute

// sweepStep is how far apart the bearings are that a sweep is summed from: under a sun in the zenith a
// bearing turns fast.
const sweepStep = 15 * time.Second

// Start returns the sun at the first take's start.
func (t *SunTrack) Start() *SunPoint { return &t.Points[0] }

// End returns the sun at the last take's end.
func (t *SunTrack) End() *SunPoint { return &t.Points[len(t.Points)-1] }

// SunTrackOf returns the sun's way during a flight. The report must have a path.
func SunTrackOf(r *plan.Report) SunTrack {
	s := r.Shot
	zone := s.Zone
	if zone == nil {
		zone = time.UTC
	}
	var t SunTrack
	add := func(at time.Time, leg int) {
		p := sun.At(at, s.LatDeg, s.LonDeg)
		t.Points = append(t.Points, SunPoint{Time: at.In(zone), Pos: p, Leg: leg, Behind: s.SunBehindSkyline(p)})
	}
	from, to := r.Path[0].Time[0], r.Path[len(r.Path)-1].Time[1]
	for i := range r.Path {
		if m := &r.Path[i]; i == 0 || m.Leg != r.Path[i-1].Leg {
			add(m.Time[0], m.Leg)
		}
	}
	for at := from.Add(trackStep); at.Before(to); at = at.Add(trackStep) {
		add(at, -1)
	}
	add(to, -1)
	slices.SortStableFunc(t.Points, func(a, b SunPoint) int { return a.Time.Compare(b.Time) })
	t.SweptDeg = swept(s, from, to)
	return t
}

func swept(s *shot.Shot, from, to time.Time) (deg float64) {
	last := sun.At(from, s.LatDeg, s.LonDeg).AzimuthDeg
	for at := from; at.Before(to); {
		if at = at.Add(sweepStep); at.After(to) {
			at = to
		}
		az := sun.At(at, s.LatDeg, s.LonDeg).AzimuthDeg
		deg += angle.Wrap180(az - last)
		last = az
	}
	return deg
}
