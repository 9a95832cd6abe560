package shot

import (
	"fmt"
	"time"

	"example.org/skywedge/plan/internal/angle"
)

// At returns the same shot with another take-off. Headings that are written relative to the sun follow
// it, with the speed of an orbit and the course that derive from them; everything else stands as it is.
// The error says what no longer fits together then: an orbit from a fixed heading to one of the sun's
// can ask for half a turn at one hour and for more speed than a drone has at another.
func (s *Shot) At(takeOff time.Time) (*Shot, error) {
	z := *s
	z.TakeOff = s.Local(takeOff)
	if z.own.IsZero() {
		z.own = s.TakeOff
	}
	if !s.looksAtSun() {
		return &z, nil
	}
	z.Legs = append([]Leg(nil), s.Legs...)
	k := &track{s: &z, times: z.Times()}
	for i := range z.Legs {
		l := &z.Legs[i]
		if !l.HeadingSun[0] && !l.HeadingSun[1] {
			continue
		}
		az := [2]float64{k.sunAzimuth(i, 0), k.sunAzimuth(i, 1)}
		if l.wrote == nil {
			if l.followsSun() {
				by := l.HeadingOff[1] - l.HeadingOff[0] + angle.Wrap180(az[1]-az[0])
				l.Heading = Sweep{From: angle.Wrap360(az[0] + l.HeadingOff[0]), By: by}
			}
			continue
		}
		d, problems := l.wrote.derive(az)
		if len(problems) > 0 {
			p := problems[0]
			return nil, fmt.Errorf("leg %d: %s: %s", i+1, p.key, p.found)
		}
		l.Heading, l.HeadingOff = d.Heading, d.HeadingOff
		l.SpeedMS, l.CourseDeg = d.SpeedMS, d.CourseDeg
	}
	for i, m := range Path(&z, 2) {
		if l := &z.Legs[m.Leg]; l.PitchAuto {
			l.Pitch[i%2] = m.PitchDeg
		}
	}
	return &z, nil
}

// looksAtSun tells whether some heading is written relative to the sun.
func (s *Shot) looksAtSun() bool {
	for i := range s.Legs {
		if h := s.Legs[i].HeadingSun; h[0] || h[1] {
			return true
		}
	}
	return false
}
