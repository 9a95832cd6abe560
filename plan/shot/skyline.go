package shot

import (
	"strings"
	"time"

	"example.org/skywedge/kit/field"
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
		in := clockwise(az - p[0])
		if in == 0 {
			return p[1]
		}
		next := s.Skyline[(i+1)%n]
		if gap := clockwise(next[0] - p[0]); gap > 0 && gap <= openGapDeg && in < gap {
			return p[1] + (next[1]-p[1])*in/gap
		}
	}
	return 0
}

// clockwise is a turn from 0 to 360°. A worked-out skyline has hundreds of points, and a division for each would be felt.
func clockwise(deg float64) float64 {
	switch {
	case deg >= 0 && deg < 360:
		return deg
	case deg < 0 && deg >= -360:
		return angle.Wrap360(deg + 360)
	}
	return angle.Wrap360(deg)
}

// SunBehindSkyline tells whether the ridge hides the sun's centre, as seen from take-off.
func (s *Shot) SunBehindSkyline(p sun.Position) bool {
	return len(s.Skyline) > 0 && p.AltitudeDeg < s.SkylineDeg(p.AzimuthDeg)
}

// BehindWords says behind where a sun stands that has risen and is not seen: ", behind the ridge", or nothing.
func (s *Shot) BehindWords(p sun.Position) string {
	if p.AltitudeDeg > 0 && s.SunBehindSkyline(p) {
		return ", behind the ridge"
	}
	return ""
}

// SunSpan is a stretch of a day over which the sun is seen.
type SunSpan struct{ From, To time.Time }

// SunSpans returns when the sun's centre stands above the skyline on the day of a time, by the place's calendar; without a
// skyline, above the level horizon. What is hidden, or seen, for less than a minute may be passed over.
func (s *Shot) SunSpans(day time.Time) []SunSpan {
	y, m, d := s.Local(day).Date()
	begin, end := time.Date(y, m, d, 0, 0, 0, 0, s.Zone), time.Date(y, m, d+1, 0, 0, 0, 0, s.Zone)
	var list []SunSpan
	up := false
	for t := begin; t.Before(end); {
		next := t.Add(time.Minute)
		switch now := s.seesSun(t); {
		case now && !up:
			list, up = append(list, SunSpan{From: t, To: end}), true
			if t.After(begin) {
				list[len(list)-1].From = s.sunEdge(t.Add(-time.Minute), t)
			}
		case !now && up:
			list[len(list)-1].To, up = s.sunEdge(t.Add(-time.Minute), t), false
		}
		t = next
	}
	return list
}

// SunTurn returns when the ridge hides the sun next, or lets it appear, within a span after a time. ok is false without a
// skyline, where nothing of that kind happens, and where the sun only sets or rises on a horizon that is level or lower.
func (s *Shot) SunTurn(after time.Time, within time.Duration) (at time.Time, hides, ok bool) {
	if len(s.Skyline) == 0 {
		return time.Time{}, false, false
	}
	first := s.seesSun(after)
	for d := time.Minute; d <= within; d += time.Minute {
		if t := after.Add(d); s.seesSun(t) != first {
			at = s.sunEdge(t.Add(-time.Minute), t)
			return at, first, sun.At(at, s.LatDeg, s.LonDeg).AltitudeDeg > 0
		}
	}
	return time.Time{}, false, false
}

// turnWithin is how long after a take-off it is worth a word that the ridge hides the sun, or lets it appear (ours).
const turnWithin = 3 * time.Hour

// SunTurnWords says that: "the ridge hides the sun from 18:42"; "" where it is far off, or never.
func (s *Shot) SunTurnWords(after time.Time) string {
	switch at, hides, ok := s.SunTurn(after, turnWithin); {
	case !ok:
		return ""
	case hides:
		return "the ridge hides the sun from " + s.OnTheClock(at)
	default:
		return "the sun comes over the ridge at " + s.OnTheClock(at)
	}
}

func (s *Shot) seesSun(t time.Time) bool {
	p := sun.At(t, s.LatDeg, s.LonDeg)
	if len(s.Skyline) == 0 {
		return p.AltitudeDeg > 0
	}
	return !s.SunBehindSkyline(p)
}

// sunEdge finds the instant between two times at which the sun comes or goes, to a second.
func (s *Shot) sunEdge(a, b time.Time) time.Time {
	first := s.seesSun(a)
	for b.Sub(a) > time.Second {
		if middle := a.Add(b.Sub(a) / 2); s.seesSun(middle) == first {
			a = middle
		} else {
			b = middle
		}
	}
	return b
}

// SkylineText is a skyline as a card has it: "[250, 4], [290, 9]".
func SkylineText(line [][2]float64) string {
	var parts []string
	for _, p := range line {
		parts = append(parts, "["+field.Figure(p[0], 3)+", "+field.Figure(p[1], 3)+"]")
	}
	return strings.Join(parts, ", ")
}
