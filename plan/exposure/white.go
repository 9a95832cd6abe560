package exposure

import "math"

// Mired is the reciprocal megakelvin, the scale on which a colour cast is the same at any colour
// temperature: 10⁶/K.
func Mired(kelvin float64) float64 { return 1e6 / kelvin }

// WhiteBalanceK returns the white balance to lock, in kelvin rounded to 50 K, for a scene's colour
// temperature and a filter's cast in mired (positive is warmer). 5600 K under +12 mired: 5250 K.
func WhiteBalanceK(sceneK, castMired float64) float64 {
	return 50 * math.Round(1e6/(Mired(sceneK)+castMired)/50)
}

// The colour temperatures of daylight below, in kelvin, are a rough table: common practice, no
// source. They are a starting point to set before take-off and correct by eye, not a measurement.
const (
	HighSunK     = 5600.0 // sun and sky together, sun above 20°
	lowSunK      = 5000.0 // at +6°
	horizonK     = 3500.0 // facing or lit by a sun on the horizon
	shadeK       = 7000.0 // lit by a clear sky alone
	overcastK    = 6500.0 // lit by a covered sky
	duskK        = 7500.0 // clear sky a little after sunset, −3°
	lateDuskK    = 9000.0 // end of civil twilight, −6°, and below
	coveredDuskK = 7500.0 // covered sky at −6° and below
)

// clearSunK is the sunlit scene under a clear sky by the sun's altitude. When the sun has gone the
// sky is left alone: the step between 0 and −1.5° is quick but not a jump.
var clearSunK = [][2]float64{
	{-6, lateDuskK}, {-3, duskK}, {-1.5, 6000}, {-0.5, 4200}, {0, horizonK}, {3, 4300}, {6, lowSunK}, {20, HighSunK},
}

// SceneK returns a rough colour temperature of daylight in kelvin from the sun's altitude in degrees,
// the cloud cover (0..1) and whether the sun shines on the scene. Between its anchors it is linear
// in mired. See the constants for what it is worth.
func SceneK(sunAltDeg, cloud float64, shining bool) float64 {
	cloud = min(max(cloud, 0), 1)
	covered := overcastK
	if sunAltDeg < 0 {
		covered = blendK(overcastK, coveredDuskK, min(-sunAltDeg/6, 1))
	}
	open := alongK(clearSunK, sunAltDeg)
	if !shining {
		// A ridge or a passing cloud leaves the blue sky as the only light, before and after sunset.
		open = max(open, shadeK)
	}
	return blendK(open, covered, cloud)
}

// blendK mixes two colour temperatures in mired; w 0 is a, 1 is b.
func blendK(a, b, w float64) float64 { return 1e6 / (Mired(a)*(1-w) + Mired(b)*w) }

func alongK(table [][2]float64, x float64) float64 {
	if x <= table[0][0] {
		return table[0][1]
	}
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; x <= b[0] {
			return blendK(a[1], b[1], (x-a[0])/(b[0]-a[0]))
		}
	}
	return table[len(table)-1][1]
}
