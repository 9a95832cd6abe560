package caution

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/zone"
)

// Zone doubts the zone of a shot: "" where one of the nearest places of the zone database keeps its offset at
// take-off, or where the shot has none.
func Zone(s *shot.Shot) string { return zoneCaution(s, nil).text }

func zoneCaution(s *shot.Shot, _ []shot.Moment) caution {
	if s.Zone == nil {
		return caution{}
	}
	near := zone.Nearest(place.Point{LatDeg: s.LatDeg, LonDeg: s.LonDeg}, s.TakeOff)
	if zone.Fits(near, s.Zone, s.TakeOff) {
		return caution{}
	}
	ours := zone.Sign(zone.OffsetOf(s.Zone, s.TakeOff))
	return caution{
		text: fmt.Sprintf("Zone %s is at %s at take-off; %s, the nearest place with a zone (%s km), is at %s. Check the zone: every time hangs on it.",
			s.Zone, ours, near[0].Zone, wholeKm(near[0].Km), zone.Sign(near[0].Offset)),
		short: fmt.Sprintf("wrong zone? %s, near here %s", ours, zone.Sign(near[0].Offset)),
		first: true,
	}
}

func wholeKm(km float64) string { return fmt.Sprintf("%.0f", math.Ceil(km)) }
