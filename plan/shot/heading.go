package shot

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// writtenHeading is a direction over the ground as a person writes it: degrees clockwise from true north,
// a point of the compass, or an angle from the sun's azimuth ("sun+90": the sun stands 90° to the
// left of where the camera looks).
type writtenHeading struct {
	Deg float64 // true, 0 <= d < 360; with Sun: clockwise from the sun's azimuth, −360..360
	Sun bool
}

// points are the sixteen points of the compass, clockwise from north.
var points = [16]string{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"}

// parseHeading reads "285", "285.5", "NW", "sun", "sun+90" or "sun-45". Letters may be small or
// large. A number counts from −360 to 360; −90 is 270.
func parseHeading(text string) (writtenHeading, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if rest, ok := strings.CutPrefix(t, "sun"); ok {
		if rest == "" {
			return writtenHeading{Sun: true}, nil
		}
		sign := rest[0]
		off, err := plainNumber(rest[1:])
		if (sign != '+' && sign != '-') || err != nil || off < 0 || off > 360 {
			return writtenHeading{}, fmt.Errorf("degrees from the sun, as sun+90 or sun-45")
		}
		if sign == '-' {
			off = -off
		}
		return writtenHeading{Deg: off, Sun: true}, nil
	}
	d, err := parseBearing(text)
	if err != nil {
		return writtenHeading{}, fmt.Errorf("%w, or an angle from the sun (sun+90)", err)
	}
	return writtenHeading{Deg: d}, nil
}

// parseBearing reads a direction that does not depend on the sun: "285" or "NW". The result lies
// in 0 <= d < 360.
func parseBearing(text string) (float64, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	for i, p := range points {
		if t == p {
			return float64(i) * 22.5, nil
		}
	}
	d, err := plainNumber(t)
	if err != nil || d < -360 || d > 360 {
		return 0, fmt.Errorf("degrees from true north (0 to 360) or a compass point (NW)")
	}
	return angle.Wrap360(d), nil
}

// plainNumber reads a decimal number and nothing that only a compiler would take for one: no
// exponent, no hexadecimal, no infinity.
func plainNumber(t string) (float64, error) {
	if t == "" || strings.Trim(t, "0123456789.-+") != "" {
		return 0, strconv.ErrSyntax
	}
	return strconv.ParseFloat(t, 64)
}

// String writes the heading as [parseHeading] reads it.
func (h writtenHeading) String() string {
	n := strconv.FormatFloat(math.Round(math.Abs(h.Deg)*1000)/1000, 'f', -1, 64)
	switch {
	case !h.Sun && h.Deg < 0:
		return "-" + n
	case !h.Sun:
		return n
	case h.Deg < 0:
		return "sun-" + n
	}
	return "sun+" + n
}

// nudgeHeading turns a written heading by so many degrees clockwise and keeps its form where the
// form allows: "285" → "290", "sun-90" → "sun-85", "NW" → "320".
func nudgeHeading(text string, byDeg float64) (string, error) {
	h, err := parseHeading(text)
	if err != nil {
		return "", err
	}
	if h.Sun {
		if h.Deg = angle.Wrap180(h.Deg + byDeg); h.Deg == 0 {
			return "sun", nil
		}
	} else {
		h.Deg = angle.Wrap360(math.Round((h.Deg+byDeg)*1000) / 1000)
	}
	return h.String(), nil
}

// Compass returns the nearest of the sixteen points of the compass.
func Compass(bearingDeg float64) string {
	return points[int(math.Round(angle.Wrap360(bearingDeg)/22.5))%16]
}

// turnRule is what the card says about the way round.
type turnRule struct {
	way   string  // "", "cw" or "ccw"
	turns float64 // count of whole turns; 0 not written
	pair  bool    // two headings were written
}

// turnSlackDeg is how far `turns` and a heading pair may disagree: headings are written to the
// degree (ours).
const turnSlackDeg = 1.5

// sweepBy returns the signed turn, clockwise positive, that leads from one heading to another.
// Where found is not empty, it says in words what does not fit, and allowed what would.
func sweepBy(from, to float64, r turnRule) (by float64, found, allowed string) {
	gap := angle.Wrap180(to - from) // the shorter way
	if r.turns > 0 {
		size := 360 * r.turns
		cw, ccw := math.Abs(angle.Wrap180(from+size-to)), math.Abs(angle.Wrap180(from-size-to))
		if !r.pair {
			cw, ccw = 0, 0
		}
		switch {
		case r.way != "ccw" && cw <= turnSlackDeg:
			return size, "", ""
		case r.way != "cw" && ccw <= turnSlackDeg:
			return -size, "", ""
		}
		off, by := cw, size
		if r.way == "ccw" || (r.way == "" && ccw < cw) {
			off, by = ccw, -size
		}
		return by, fmt.Sprintf("turns: %s, which ends %s° away from the second heading", field.Figure(r.turns, 3), field.Figure(off, 3)),
			"turns that end at the second heading, or one heading with turns"
	}
	const exact = 1e-6
	switch {
	case r.way != "" && r.pair && math.Abs(gap) <= exact: // the same heading, the long way: a whole turn
		if r.way == "ccw" {
			return -360, "", ""
		}
		return 360, "", ""
	case r.way == "cw" && gap < -exact:
		return gap + 360, "", ""
	case r.way == "ccw" && gap > exact:
		return gap - 360, "", ""
	case r.way == "ccw" && gap <= -180+exact, r.way == "cw" && gap >= 180-exact:
		return gap, "", ""
	case r.way == "" && r.pair && math.Abs(math.Abs(gap)-180) < exact:
		return gap, "two headings exactly half a turn apart", "turn: cw or turn: ccw beside them, because neither way is shorter"
	}
	return gap, "", ""
}
