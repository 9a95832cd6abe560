package light

import (
	"math"

	"example.org/skywedge/plan/exposure"
)

// NoonK is the white balance at which the channels as they are show noon's light as white.
const NoonK = exposure.HighSunK

// How much red and blue change against green for each mired that daylight is warmer, natural
// logarithm: along the CIE's daylight locus in linear BT.709 between 4000 and 9000 K, where it varies
// by a fortieth (CIE 15:2004, from memory). A filter's cast is taken to do the same.
const (
	redPerMired  = 0.0041
	bluePerMired = -0.0065
	// greenPerTint is the part of green that a unit of tint takes (ours: there is no agreed unit).
	greenPerTint = 0.0025
)

// CastGains returns what a filter's cast (mired, positive warmer) and tint (positive magenta) do to red,
// green and blue. Grey keeps its luminance: what the filter takes is in its stops.
func CastGains(mired, tint float64) RGB {
	return RGB{
		math.Exp(redPerMired * mired),
		math.Exp(-greenPerTint * tint),
		math.Exp(bluePerMired * mired),
	}.at(1)
}

// WhiteGains returns what a camera does that is told its light has so many kelvin. 0 is noon's daylight.
func WhiteGains(kelvin float64) RGB {
	if !(kelvin > 0) {
		return RGB{1, 1, 1}
	}
	return CastGains(exposure.Mired(NoonK)-exposure.Mired(kelvin), 0)
}
