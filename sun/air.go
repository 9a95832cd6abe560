package sun

// Shine says whether the sun itself shines through the cloud there is.
type Shine int

// The three answers. Auto means shining below 9/10 of cloud.
const (
	ShineAuto Shine = iota
	Shining
	Hidden
)

// Air is what stands between the sun and the observer. [ClearAir] makes one; the zero Air means the clear
// day ClearAir(40, 0), not a world without air. An Air in which anything is set is taken at its word, with
// the aerosol depth 0 too, but for two numbers that cannot be 0: an absent pressure counts as that of the
// sea level, an absent K as 2. Numbers out of range count as the nearest in range.
type Air struct {
	AOD         float64 // aerosol optical depth at 550 nm above the observer, 0..2
	PressureHPa float64 // at the observer
	Albedo      float64 // of the ground around, 0..1
	Cloud       float64 // fraction of the sky, 0..1
	Sun         Shine   // whether the disc itself shines
	K           float64 // how strongly aerosol depolarises: 2; 1.2 clean spherical, 4 dust or smoke
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
		K:           typicalK,
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
	if !(a.K > 0) {
		a.K = typicalK
	}
	a.AOD, a.Albedo, a.Cloud = max(a.AOD, 0), clip01(a.Albedo), clip01(a.Cloud)
	return a
}

// Shines tells whether the sun's disc shines through the cloud there is.
func (a Air) Shines() bool {
	switch a.Sun {
	case Shining:
		return true
	case Hidden:
		return false
	}
	return a.Cloud < shineBelow
}
