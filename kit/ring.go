package kit

import (
	"fmt"
	"math"
)

// This file is the only place that turns a ring as the pilot sees it into an axis as the picture
// has it. Facing the lens, clockwise runs the other way than in the picture, so the sign of an
// angle changes; taking one for the other swaps half past one with half past ten and costs up to
// 2.8 stops of a polarised sky.

// halfHourDeg is half an hour on the ring's clock: as fine as a hand sets it in the field.
const halfHourDeg = 15

// PassAxisDeg returns the clock angle of the pass axis in the picture (seen from behind the camera),
// degrees clockwise from 12 o'clock, 0 ≤ ψ < 180. ringDeg is where the mark stands, clockwise from
// 12 o'clock facing the lens; markDeg is the angle from the mark to the pass axis, clockwise facing
// the lens.
func PassAxisDeg(ringDeg, markDeg float64) float64 { return axis180(180 - ringDeg - markDeg) }

// RingFor is the inverse of [PassAxisDeg]: where the mark must stand, facing the lens, degrees,
// 0 ≤ ring < 180, for the pass axis to stand at passAxisDeg in the picture.
func RingFor(passAxisDeg, markDeg float64) float64 { return axis180(180 - passAxisDeg - markDeg) }

// Clock returns a ring angle as the pilot reads it facing the lens, to the nearest half-hour, the
// upper of the two equal positions first: 45 is "1:30 or 7:30", 135 is "10:30 or 4:30".
func Clock(ringDeg float64) string {
	first, second := ClockDeg(ringDeg)
	return clockTime(first) + " or " + clockTime(second)
}

// ClockDeg returns the two equal positions of a mark that [Clock] names, in its order: degrees clockwise from 12 o'clock
// facing the lens, multiples of half an hour, 0 ≤ position < 360.
func ClockDeg(ringDeg float64) (first, second float64) {
	first = axis180(math.Round(axis180(ringDeg)/halfHourDeg) * halfHourDeg)
	second = first + 180
	if first > 90 {
		first, second = second, first
	}
	return first, second
}

// clockTime returns one position, a multiple of half an hour.
func clockTime(deg float64) string {
	half := int(math.Round(deg/halfHourDeg)) % 24
	hour := half / 2
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d:%02d", hour, half%2*30)
}

// axis180 brings an axis into 0 ≤ a < 180 degrees.
func axis180(deg float64) float64 {
	a := math.Mod(deg, 180)
	if a < 0 {
		a += 180
	}
	if a >= 180 { // a tiny negative angle rounds up to the whole half turn
		a = 0
	}
	return a
}
