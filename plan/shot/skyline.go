package shot

import (
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
)

// openGapDeg is the widest gap between two points of a skyline that the ridge is taken to run
// through; over a wider one the horizon is open (ours).
const openGapDeg = 90

// SkylineDeg returns the altitude of the skyline in a direction: straight lines between the points
// that the card lists, and 0 where it lists none.
func (s *Shot) SkylineDeg(azDeg float64) float64 {
	n := len(s.Skyline)
	az := angle.Wrap360(azDeg)
	for i, p := range s.Skyline {
		next := s.Skyline[(i+1)%n]
		gap := angle.Wrap360(next[0] - p[0])
		in := angle.Wrap360(az - p[0])
		switch {
		case in == 0:
			return p[1]
		case gap > 0 && gap <= openGapDeg && in < gap:
			return p[1] + (next[1]-p[1])*in/gap
		}
	}
	return 0
}

// SunBehindSkyline tells whether the ridge hides the sun's centre, as seen from take-off.
func (s *Shot) SunBehindSkyline(p sun.Position) bool {
	return len(s.Skyline) > 0 && p.AltitudeDeg < s.SkylineDeg(p.AzimuthDeg)
}
