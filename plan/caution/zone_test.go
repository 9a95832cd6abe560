package caution

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// A zone is doubted by its offset on the day, whatever its name: Iceland keeps UTC all year, Galicia is an hour ahead
// of Portugal, and British summer time ends on the last Sunday of October (25 October 2026).
func TestTheZoneIsDoubted(t *testing.T) {
	hold := shot.Leg{Move: shot.Hold, Purpose: shot.Video, Mode: plantest.Camera().Modes[0], Seconds: 10, Height: plantest.Level(40)}
	summer := time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		lat, lon float64
		zone     string
		at       time.Time
		says     string
	}{
		{43.3672, -8.4604, "Europe/Madrid", summer, ""},
		{43.3672, -8.4604, "Europe/Berlin", summer, ""},
		{43.3672, -8.4604, "America/New_York", summer, "Zone America/New_York is at -04:00 at take-off; Europe/Madrid, the nearest place with a zone"},
		{64.0484, -16.1794, "Europe/Madrid", summer, "Zone Europe/Madrid is at +02:00 at take-off; Atlantic/Reykjavik, the nearest place with a zone"},
		{64.0484, -16.1794, "Atlantic/Reykjavik", summer, ""},
		{51.5, -0.1, "UTC", time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC), "Zone UTC is at +00:00"},
		{51.5, -0.1, "UTC", time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC), ""},
	} {
		s := calmShot(hold)
		s.LatDeg, s.LonDeg, s.TakeOff = c.lat, c.lon, c.at
		s.Zone, _ = shot.LoadZone(c.zone)
		list := Of(s, shot.Path(s, 3), 0)
		text := strings.Join(list, "\n")
		short := strings.Join(InShort(s, shot.Path(s, 3), 0), "\n")
		doubted := strings.Contains(text, "Check the zone")
		if got := Zone(s); doubted != (c.says != "") || (got != "") != doubted || strings.Contains(short, "wrong zone?") != doubted {
			t.Errorf("%s at %v, %v: %q, %q, %q", c.zone, c.lat, c.lon, got, text, short)
		} else if c.says != "" && (!strings.HasPrefix(got, c.says) || list[0] != got) {
			t.Errorf("%s at %v, %v: %q, want %q first in %q", c.zone, c.lat, c.lon, got, c.says, list)
		}
	}
	if s := calmShot(hold); true {
		s.Zone = nil
		if got := Zone(s); got != "" {
			t.Errorf("a shot without a zone: %q", got)
		}
	}
}
