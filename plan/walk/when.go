package walk

import (
	"fmt"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// during returns when on a leg something holds, in seconds from its start, for the end of a sentence: ""
// all along, ", until 12 s", ", from 12 s on", ", 8 to 12 s in"; several stretches count as one. ok is
// false where it never does.
func during(r *plan.Report, leg int, holds func(i int) bool) (words string, ok bool) {
	first, last, start, end := -1, -1, -1, -1
	for i := range r.Path {
		if r.Path[i].Leg != leg {
			continue
		}
		if start < 0 {
			start = i
		}
		end = i
		if holds(i) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return "", false
	}
	second := func(i int) float64 { return math.Round(r.Path[i].FlightS - r.Path[start].FlightS) }
	switch {
	case first == start && last == end:
		return "", true
	case first == start:
		return fmt.Sprintf(", until %.0f s", second(last)), true
	case last == end:
		return fmt.Sprintf(", from %.0f s on", second(first)), true
	case second(first) == second(last):
		return fmt.Sprintf(", at %.0f s", second(first)), true
	}
	return fmt.Sprintf(", %.0f to %.0f s in", second(first), second(last)), true
}

// bandWords says when the sky shows a band; "" where it never does.
func bandWords(r *plan.Report, leg int) string {
	l := &r.Legs[leg]
	if !l.Unevenness.OK || l.Unevenness.Max < words.BandedFrom {
		return ""
	}
	when, _ := during(r, leg, func(i int) bool {
		return i < len(r.Measures) && r.Measures[i].SkyOK && r.Measures[i].Unevenness >= words.BandedFrom
	})
	return "a band in the sky" + when
}

// sunWords says when the sun, or on water its glitter, is in the frame on the first take or the last.
// The glitter is said where level water would mirror the sun.
func sunWords(r *plan.Report, leg int) []string {
	l := &r.Shot.Legs[leg]
	if !light.AirAt(r.Shot, 0, l.Ground).Shines() {
		return nil
	}
	in := func(i int, up float64) bool {
		m := &r.Path[i]
		v := shot.NewView(r.Shot.Camera, l.Mode, l.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
		for _, p := range m.Sun {
			if p.AltitudeDeg <= 0 || r.Shot.SunBehindSkyline(p) {
				continue
			}
			d := p.Direction()
			d.Z *= up
			if _, _, in := v.Frames(d); in {
				return true
			}
		}
		return false
	}
	var out []string
	if when, ok := during(r, leg, func(i int) bool { return in(i, 1) }); ok {
		out = append(out, "the sun is in the frame"+when)
	}
	if l.Ground == shot.Water {
		if when, ok := during(r, leg, func(i int) bool { return in(i, -1) }); ok {
			out = append(out, "the sun glitters on the water"+when)
		}
	}
	return out
}
