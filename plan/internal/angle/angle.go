// Package angle brings angles in degrees to one turn.
//
// The one hard idea is that a direction and an axis are different things: a heading comes back after
// 360°, the pass axis of a polariser or the E of polarised light after 180°, because its two ends are
// the same. Which of the three functions is right depends on that alone, not on the size of the number.
package angle

import "math"

// Wrap360 returns a direction as 0 ≤ a < 360 degrees.
func Wrap360(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // −1e−20 + 360 rounds to 360
		return 0
	}
	return d
}

// Wrap180 returns a direction, or the difference of two, as −180 ≤ a < 180 degrees: the shorter way
// round.
func Wrap180(deg float64) float64 { return Wrap360(deg+180) - 180 }

// Axis180 returns an axis as 0 ≤ a < 180 degrees.
func Axis180(deg float64) float64 { return math.Mod(Wrap360(deg), 180) }
