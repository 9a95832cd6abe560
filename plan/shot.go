package plan

import (
	"math"

	"example.org/skywedge/sun"
)

// albedos of the grounds: water, grass, forest, sand and snow from memory; rock and town ours,
// between grass and sand.
var albedos = map[Ground]float64{
	Water:  0.06,
	Grass:  0.15,
	Forest: 0.15,
	Sand:   0.35,
	Rock:   0.20,
	Snow:   0.80,
	Town:   0.15,
}

// GroundAlbedo gives the share of light, 0 to 1, that a ground throws back; 0.15 for one it does
// not know.
func GroundAlbedo(g Ground) float64 {
	if a, ok := albedos[g]; ok {
		return a
	}
	return 0.15
}

// AirAt gives the air around an aircraft that flies aboveM metres above the ground, over a ground
// of that kind: the haze above it thins with height, the pressure with the place's elevation too.
func (s *Shot) AirAt(aboveM float64, ground Ground) sun.Air {
	a := sun.ClearAir(s.Light.VisibilityKm, s.ElevationM+aboveM)
	a.AOD = sun.AerosolDepth(s.Light.VisibilityKm, math.Max(0, aboveM)) // thins with height above the ground
	a.Albedo = GroundAlbedo(ground)
	a.Cloud = sun.SettingState(s.Light.CloudPct/100, s.Light.Sun)
	a.Kind = s.airKind
	return a
}

// openGapDeg is the widest gap between two points of a skyline that the ridge is taken to run
// through; over a wider one the horizon is open (ours).
const openGapDeg = 90

// SkylineDeg gives the altitude of the skyline in a direction: straight lines between the points
// that the card lists, and 0 where it lists none.
func (s *Shot) SkylineDeg(azDeg float64) float64 {
	n := len(s.Skyline)
	az := mod360(azDeg)
	for i, p := range s.Skyline {
		next := s.Skyline[(i+1)%n]
		gap := mod360(next[0] - p[0])
		in := mod360(az - p[0])
		switch {
		case in == 0:
			return p[1]
		case gap > 0 && gap <= openGapDeg && in < gap:
			return p[1] + (next[1]-p[1])*in/gap
		}
	}
	return 0
}

// SunBehindSkyline tells whether the ridge hides the sun's centre, as seen from take-off.
func (s *Shot) SunBehindSkyline(p sun.Position) bool {
	return len(s.Skyline) > 0 && p.AltitudeDeg < s.SkylineDeg(p.AzimuthDeg)
}
