package exposure

import "math"

// Calibration constants of exposure meters, in the ranges of ISO 2720:1974.
const (
	Flat      = 250.0 // C of an incident meter with a flat receptor
	Dome      = 340.0 // C of an incident meter with a domed (cardioid) receptor
	Reflected = 12.5  // K of a reflected-light meter
)

// GlowStops is how much brighter than the mean sky the sky near a sun on the horizon is. Ours,
// calibrated on the EV 12 that the exposure guide gives for the sky at sunset.
const GlowStops = 1.8

// EV100OfIlluminance gives the exposure value of an illuminance in lux, for the meter constant c
// ([Flat] or [Dome]): log2(100 E / C), ISO 2720:1974.
func EV100OfIlluminance(lx, c float64) float64 { return math.Log2(100 * lx / c) }

// EV100OfLuminance gives the exposure value of a luminance in cd/m²: log2(100 L / K) with K 12.5,
// ISO 2720:1974.
func EV100OfLuminance(cdm2 float64) float64 { return math.Log2(100 * cdm2 / Reflected) }

// LuminanceOfEV100 is the inverse of [EV100OfLuminance], in cd/m².
func LuminanceOfEV100(ev100 float64) float64 { return math.Exp2(ev100) * Reflected / 100 }

// SkyEV100 gives the exposure value of the mean sky from the illuminance in lux that the sky (not
// the sun) lays on the horizontal. A sky of even luminance L gives πL. Add [GlowStops] towards the
// glow of a sun on the horizon.
func SkyEV100(skyLx float64) float64 { return EV100OfLuminance(skyLx / math.Pi) }

// MixEV100 gives the exposure value of a subject seen under a depression between those two where
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

// SettingEV gives log2(N²/t), the exposure value of an aperture and a time.
func SettingEV(nNumber, seconds float64) float64 {
	return math.Log2(nNumber * nNumber / seconds)
}

// ISO gives the sensitivity that makes the metered exposure:
// 100·2^(log2(N²/t) + loss + bias − EV100).
func ISO(ev100, nNumber, seconds, lossStops, biasStops float64) float64 {
	return 100 * math.Exp2(SettingEV(nNumber, seconds)+lossStops+biasStops-ev100)
}

// Seconds gives the exposure time that makes the metered exposure at a sensitivity.
func Seconds(ev100, nNumber, iso, lossStops, biasStops float64) float64 {
	return nNumber * nNumber * math.Exp2(lossStops+biasStops-ev100) * 100 / iso
}

// Loss gives the density in stops that makes the metered exposure at an aperture, time and
// sensitivity; negative when there is too little light even without a filter.
func Loss(ev100, nNumber, seconds, iso, biasStops float64) float64 {
	return ev100 + Gain(iso) - SettingEV(nNumber, seconds) - biasStops
}

// NNumber gives the f-number that makes the metered exposure at a time and sensitivity.
func NNumber(ev100, seconds, iso, lossStops, biasStops float64) float64 {
	return math.Sqrt(seconds * math.Exp2(ev100+Gain(iso)-lossStops-biasStops))
}

// Gain gives a sensitivity in stops above ISO 100.
func Gain(iso float64) float64 { return math.Log2(iso / 100) }
