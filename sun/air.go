package sun

// AirKind is what kind of aerosol is in the air. It decides how strongly haze takes polarisation away.
type AirKind int

// The kinds. AirAuto means that nothing is known of it.
const (
	AirAuto AirKind = iota
	AirSea          // sea salt
	AirTown         // fresh fine haze
	AirDust         // aged or irregular particles, smoke, dust
)

// How strongly aerosol depolarises (ours, fitted to a vector radiative transfer with a maritime aerosol, fine
// urban haze, and the same haze depolarising to 0.3). The last two are also the ends of what is reckoned with
// where nothing is known.
const (
	typicalK         = 2
	seaK             = 1.6
	townK, cleanestK = 1.2, 1.2
	dustK, dustiestK = 4.4, 4.4
	namedKError      = 1.4 // ÷×, of a kind that is named
)

// k returns how strongly this aerosol depolarises, and the ends of what is likely.
func (k AirKind) k() (typical, least, most float64) {
	switch k {
	case AirSea:
		typical = seaK
	case AirTown:
		typical = townK
	case AirDust:
		typical = dustK
	default:
		return typicalK, cleanestK, dustiestK
	}
	return typical, typical / namedKError, typical * namedKError
}

// Air is what stands between the sun and the observer. [ClearAir] makes one; the zero Air means the clear
// day ClearAir(40, 0), not a world without air. An Air in which anything is set is taken at its word, with
// the aerosol depth 0 too, but an absent pressure counts as that of the sea level. Numbers out of range count as
// the nearest in range.
type Air struct {
	AOD         float64 // aerosol optical depth at 550 nm above the observer, 0..2
	DepthGiven  bool    // AOD was measured or told, not guessed from a visibility
	Kind        AirKind
	PressureHPa float64 // at the observer
	Albedo      float64 // of the ground around, 0..1
	Cloud       Cloud
}

// The clear day that the zero [Air] stands for.
const (
	clearVisibilityKm = 40
	grassAlbedo       = 0.15 // grass or forest, from memory
)

// ClearAir returns the air of a cloudless day over grass, with a meteorological optical range at the ground
// in kilometres (see [AerosolDepth]), for an observer on ground elevationM metres above the sea.
func ClearAir(visibilityKm, elevationM float64) Air {
	return Air{
		AOD:         AerosolDepth(visibilityKm, 0),
		PressureHPa: PressureAt(elevationM),
		Albedo:      grassAlbedo,
	}
}

// sound returns the air with everything in its range.
func (a Air) sound() Air {
	if a == (Air{}) {
		return ClearAir(clearVisibilityKm, 0)
	}
	if !(a.PressureHPa > 0) {
		a.PressureHPa = seaLevelHPa
	}
	a.AOD, a.Albedo, a.Cloud = max(a.AOD, 0), clip01(a.Albedo), a.Cloud.sound()
	return a
}
