package light

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// NoMoon returns a moon that gives no light.
func NoMoon() sun.Moon {
	return sun.Moon{Position: sun.Position{GeometricDeg: -90, AltitudeDeg: -90}, DistanceKm: 384400}
}

// MoonFromDeg is how low the sun must be for moonlight to count: at −4° the sky is still 200 times
// brighter than a full moon makes it.
const MoonFromDeg = -4

// OnGround returns the light on the ground at a time, behind the skyline too.
func OnGround(s *shot.Shot, p sun.Position, m sun.Moon, air sun.Air) sun.Light {
	if s.SunBehindSkyline(p) {
		air.Sun = sun.Hidden
	}
	return sun.LightAt(p, m, air)
}

// LandEV100 returns the exposure value of what a camera sees on the ground: a subject that faces it, or
// flat ground from straight above.
func LandEV100(l sun.Light, headingDeg, pitchDeg, albedo float64) float64 {
	dome := exposure.EV100OfIlluminance(l.CardioidLx(headingDeg, pitchDeg, albedo), exposure.Dome)
	if pitchDeg > -60 {
		return dome
	}
	return exposure.MixEV100(dome, exposure.EV100OfIlluminance(l.TotalLx, exposure.Flat), pitchDeg)
}

// SkyEV100 returns the exposure value of the sky in the frame: the mean of the sky, and brighter towards
// the glow around a sun near the horizon.
func SkyEV100(l sun.Light, p sun.Position, headingDeg float64) float64 {
	near := max(0, 1-math.Abs(p.AltitudeDeg)/6)
	towards := max(0, math.Cos((p.AzimuthDeg-headingDeg)*math.Pi/180))
	return exposure.SkyEV100(l.SkyLx) + exposure.GlowStops*near*towards*towards
}

// MeasureNM is the wavelength of the measures, in nanometres.
const MeasureNM = 550
