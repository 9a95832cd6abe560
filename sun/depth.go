package sun

import "math"

// Bounds of the formulas in this file.
const (
	seaLevelHPa   = 1013.25
	nmMin, nmMax  = 250, 1000 // where the Rayleigh formula holds
	topM          = 40000     // the pressure formula would reach zero at 44.3 km
	haze550Min    = 0.02      // the cleanest air over land
	haze550Max    = 1.0
	hazeScaleM    = 1200 // height over which aerosol falls to 1/e; ours
	hazeAngstrom  = 1.3  // exponent of wavelength; ours
	rayleighPerKm = 0.0116
)

// Haze is a named state of the air near the ground.
type Haze struct {
	Name         string
	VisibilityKm float64 // meteorological optical range, 5 % definition
	AOD          float64 // aerosol optical depth at 550 nm, from the ground up
}

// Hazes returns the named states, clearest first. The depths are those of [AerosolDepth], rounded (ours,
// a factor of 1.6 either way).
func Hazes() []Haze {
	return []Haze{
		{"crystal", 100, 0.02},
		{"clear", 40, 0.08},
		{"light haze", 20, 0.17},
		{"hazy", 10, 0.35},
		{"murky", 5, 0.7},
	}
}

// PressureAt returns the mean pressure in hPa at a height above the sea in metres (the troposphere of
// the ISO 2533 / ICAO standard atmosphere). Heights outside −1000..40000 m count as the nearest of
// those.
func PressureAt(elevationM float64) float64 {
	z := min(max(elevationM, -1000), topM)
	return seaLevelHPa * math.Pow(1-2.25577e-5*z, 5.25588)
}

// RayleighDepth returns the optical depth of the air itself, straight up from a place at the given
// pressure, at a wavelength in nanometres (Bodhaine, Wood, Dutton & Slusser 1999, J. Atmos. Oceanic
// Technol. 16:1854, eq. 30; coefficients from memory). Wavelengths outside 250..1000 nm count as
// the nearest of those, pressures below 0 as 0.
func RayleighDepth(nm, pressureHPa float64) float64 {
	um := min(max(nm, nmMin), nmMax) / 1000
	l2 := um * um
	tau := 0.0021520 * (1.0455996 - 341.29061/l2 - 0.90230850*l2) /
		(1 + 0.0027059889/l2 - 85.968563*l2)
	return tau * max(pressureHPa, 0) / seaLevelHPa
}

// AerosolDepth returns the aerosol optical depth at 550 nm above an observer who floats aboveGroundM
// metres over the ground, where the meteorological optical range at the ground is visibilityKm
// kilometres: the distance at which 5 % of a beam is left, 2.996 divided by the extinction
// coefficient (Koschmieder; WMO definition). The layer's thickness and its thinning with height are
// ours; the result is good to a factor of 1.6. At the ground it lies within 0.02..1; a visibility
// of 0 or less counts as the thickest haze, a height below the ground as 0.
func AerosolDepth(visibilityKm, aboveGroundM float64) float64 {
	tau := haze550Max
	if visibilityKm > 0 {
		layerKm := hazeScaleM / 1000.0
		tau = min(max(layerKm*(2.996/visibilityKm-rayleighPerKm), haze550Min), haze550Max)
	}
	return tau * math.Exp(-max(aboveGroundM, 0)/hazeScaleM)
}

// AerosolDepthAt carries an aerosol optical depth from 550 nm to another wavelength in nanometres
// (Ångström's law; the exponent 1.3 is common for land, ours).
func AerosolDepthAt(aod550, nm float64) float64 {
	return aod550 * math.Pow(min(max(nm, nmMin), nmMax)/550, -hazeAngstrom)
}
