// Package angle brings angles back into one turn. All angles are in degrees; a result never is the
// upper end of its range, also where rounding would make it so.
package angle

import "math"

// Wrap360 brings a direction into 0 <= a < 360.
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

// Wrap180 brings a difference of directions into −180 <= a < 180.
func Wrap180(deg float64) float64 { return Wrap360(deg+180) - 180 }

// Axis180 brings an axis, which has no front and back, into 0 <= a < 180.
func Axis180(deg float64) float64 { return math.Mod(Wrap360(deg), 180) }
