package shot

import (
	"time"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
)

// Later returns the same moment flown at another time.
func (m Moment) Later(s *Shot, by time.Duration) Moment {
	if by == 0 {
		return m
	}
	az := m.Sun[0].AzimuthDeg
	for i := range m.Time {
		m.Time[i] = m.Time[i].Add(by)
		m.Sun[i] = sun.At(m.Time[i], s.LatDeg, s.LonDeg)
	}
	if s.Legs[m.Leg].followsSun() {
		m.HeadingDeg = angle.Wrap360(m.HeadingDeg + m.Sun[0].AzimuthDeg - az)
	}
	return m
}
