package light

import (
	"math"
	"slices"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// albedos of the grounds: water, grass, forest, sand and snow from memory; rock and town ours,
// between grass and sand.
var albedos = map[shot.Ground]float64{
	shot.Water:  0.06,
	shot.Grass:  0.15,
	shot.Forest: 0.15,
	shot.Sand:   0.35,
	shot.Rock:   0.20,
	shot.Snow:   0.80,
	shot.Town:   0.15,
}

// GroundAlbedo returns the share of light, 0 to 1, that a ground throws back; 0.15 for one it does
// not know.
func GroundAlbedo(g shot.Ground) float64 {
	if a, ok := albedos[g]; ok {
		return a
	}
	return 0.15
}

// AirAt returns the air around an aircraft that flies aboveM metres above the ground, over a ground
// of that kind: the haze above it thins with height, the pressure with the place's elevation too.
func AirAt(s *shot.Shot, aboveM float64, ground shot.Ground) sun.Air {
	a := sun.ClearAir(s.Light.VisibilityKm, s.ElevationM+aboveM)
	a.AOD = sun.AerosolDepth(s.Light.VisibilityKm, math.Max(0, aboveM)) // thins with height above the ground
	a.Albedo = GroundAlbedo(ground)
	a.Cloud = sun.SettingState(s.Light.CloudPct/100, s.Light.Sun)
	if s.Light.OtherState {
		if bright, dark := sun.States(s.Light.CloudPct/100, s.Light.Sun); a.Cloud == bright {
			a.Cloud = dark
		} else {
			a.Cloud = bright
		}
	}
	a.Kind = s.Light.Air
	return a
}

// AlbedoByName returns the albedo of a ground by its word.
func AlbedoByName(name string) (albedo float64, ok bool) {
	if !slices.Contains(shot.GroundNames(), name) {
		return 0, false
	}
	return GroundAlbedo(shot.Ground(name)), true
}
