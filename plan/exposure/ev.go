package exposure

import "math"

// Calibration constants of exposure meters, in the ranges of ISO 2720:1974.
const (
	Flat      = 250.0 // C of an incident meter with a flat receptor
	Dome      = 340.0 // C of an incident meter with a domed (cardioid) receptor
	reflected = 12.5  // K of a reflected-light meter
)

// GlowStops is how much brighter than the mean sky the sky near a sun on the horizon is. Ours,
// calibrated on the EV 12 that the exposure guide gives for the sky at sunset.
const GlowStops = 1.8

// EV100OfIlluminance returns the exposure value of an illuminance in lux, for the meter constant c
// ([Flat] or [Dome]): log2(100 E / C), ISO 2720:1974.
func EV100OfIlluminance(lx, c float64) float64 { return math.Log2(100 * lx / c) }

// EV100OfLuminance returns the exposure value of a luminance in cd/m²: log2(100 L / K) with K 12.5,
// ISO 2720:1974.
func EV100OfLuminance(cdm2 float64) float64 { return math.Log2(100 * cdm2 / reflected) }

// LuminanceOfEV100 returns the luminance in cd/m² that a reflected-light meter reads as an exposure value at
// ISO 100.
func LuminanceOfEV100(ev100 float64) float64 { return reflected / 100 * math.Exp2(ev100) }

// SkyEV100 returns the exposure value of the mean sky from the illuminance in lux that the sky (not
// the sun) lays on the horizontal. A sky of even luminance L lays πL. Add [GlowStops] towards the
// glow of a sun on the horizon.
func SkyEV100(skyLx float64) float64 { return EV100OfLuminance(skyLx / math.Pi) }

// MixEV100 returns the exposure value of a subject seen under a depression between those two where
// each receptor is the right one: up to 60° below the level the subject is a dome facing the camera,
// from 90° (straight down) it is flat ground. Between them the two mix linearly in EV (ours).
// pitchDeg is the camera's pitch: 0 level, −90 straight down.
func MixEV100(domeEV, flatEV, pitchDeg float64) float64 {
	w := (-pitchDeg - 60) / 30
	switch {
	case w <= 0:
		return domeEV
	case w >= 1:
		return flatEV
	}
	return domeEV + w*(flatEV-domeEV)
}

// settingEV returns log2(N²/t), the exposure value of an aperture and a time.
func settingEV(nNumber, seconds float64) float64 {
	return math.Log2(nNumber * nNumber / seconds)
}

// ISO returns the sensitivity that makes the metered exposure:
// 100·2^(log2(N²/t) + loss + compensation − EV100).
func ISO(ev100, nNumber, seconds, lossStops, compensationStops float64) float64 {
	return 100 * math.Exp2(settingEV(nNumber, seconds)+lossStops+compensationStops-ev100)
}

// Seconds returns the exposure time that makes the metered exposure at a sensitivity.
func Seconds(ev100, nNumber, iso, lossStops, compensationStops float64) float64 {
	return nNumber * nNumber * math.Exp2(lossStops+compensationStops-ev100) * 100 / iso
}

// gain returns a sensitivity in stops above ISO 100.
func gain(iso float64) float64 { return math.Log2(iso / 100) }
