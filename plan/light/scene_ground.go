package light

import (
	"math"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
)

// groundTint is the colour of a ground's own light under white light: red, green and blue (ours, by
// eye; only the ratios count, the luminance is the albedo's).
var groundTint = map[shot.Ground]RGB{
	shot.Water:  {.30, 1.05, 1.35},
	shot.Grass:  {.80, 1.12, .42},
	shot.Forest: {.72, 1.15, .48},
	shot.Sand:   {1.25, .97, .66},
	shot.Rock:   {1.07, .99, .90},
	shot.Snow:   {.99, 1.0, 1.04},
	shot.Town:   {1.09, .98, .86},
}

// relief says how a ground's brightness depends on where one stands to the sun. A rough ground shows
// its lit sides to a camera with the sun behind it and its shadows to one that looks into the sun;
// and round the aircraft's own shadow point every shadow hides behind what casts it. Ours, modest:
// the phase functions of measured grounds go further.
type relief struct{ slope, shadowless float64 }

var reliefs = map[shot.Ground]relief{
	shot.Grass:  {.25, .30},
	shot.Forest: {.40, .45},
	shot.Sand:   {.18, .25},
	shot.Rock:   {.30, .30},
	shot.Town:   {.25, .20},
	shot.Snow:   {0, .05},
}

// shadowlessWidth is the size of the bright patch: 1 − cos of 8°, where it has fallen to 1/e (ours).
const shadowlessWidth = 0.01

// sunlit returns the sun's light on a level ground against Lambert's law, for the cosine of the angle
// between the line of sight and the sun and the sine of the sun's altitude. The mean over all lines of
// sight, weighed by what they see of the ground, is 1 but for the small bright patch.
func (r relief) sunlit(cosSun, sunUp float64) float64 {
	b := 1 - r.slope*(cosSun+2./3*sunUp)
	if x := (1 + cosSun) / shadowlessWidth; x < 8 {
		b += r.shadowless * math.Exp(-x)
	}
	return b
}

// sheen says what a ground mirrors the sky with.
type sheen struct {
	index  float64
	sigma2 float64 // variance of the slope of broadly tilted facets; 0: as level as water
	cover  float64 // part of the ground
}

const (
	rockIndex  = 1.5   // of rock, common minerals (from memory)
	filmSigma2 = 0.002 // slope of a film of water on level ground (ours)
	wetTint    = 0.7   // what a film of water leaves of the ground's own light (ours)
)

// sheenOf returns the sheen of a ground (ours: slopes and covers by eye).
func sheenOf(g shot.Ground, a shot.Aim) sheen {
	switch MirrorOf(g, a) {
	case OpenWater:
		return sheen{water.Index, 0, 1}
	case WetGround:
		return sheen{water.Index, 0, .7}
	}
	switch g { // what the measures do not ask after shines all the same
	case shot.Grass:
		return sheen{leafIndex, .15, .30}
	case shot.Forest:
		return sheen{leafIndex, .15, .40}
	case shot.Rock:
		return sheen{rockIndex, .06, .25}
	}
	return sheen{}
}

// landLight is the own light of a level ground, cd/m²: what it throws back of the sky, and of the sun
// by Lambert's law.
type landLight struct {
	sky, sun RGB
	skyTint  RGB // colour of the light, luminance 1
	sunTint  RGB
	relief   relief
	sunUp    float64
}

func newLandLight(sc *Scene, k sceneKey) landLight {
	l := landLight{relief: reliefs[k.ground], sunUp: max(0, sc.SunDir.Z)}
	l.skyTint = sc.dome.mean()
	l.sunTint = sunColour(k.position, k.low)
	share := k.low.Albedo
	if k.ground == shot.Water {
		share = water.Leaving
	} else if sheenOf(k.ground, k.aim).sigma2 == 0 && sheenOf(k.ground, k.aim).cover > 0 {
		share *= wetTint
	}
	beam := k.light.DirectNormalLx * l.sunUp
	tint, ok := groundTint[k.ground]
	if !ok {
		tint = RGB{1, 1, 1}
	}
	// the moon's beam, where there is one, goes with the sky
	l.sky = tint.times(l.skyTint).at(share * max(0, k.light.TotalLx-beam) / math.Pi)
	l.sun = tint.times(l.sunTint).at(share * beam / math.Pi)
	return l
}

// sunColour returns the colour of the beam on the ground, luminance 1.
func sunColour(p sun.Position, low sun.Air) (c RGB) {
	m := sun.AirPath(max(0, p.AltitudeDeg))
	for i, nm := range wavelengths {
		c[i] = math.Exp(-bandOverlap*m*(depthAt(low, nm)-depthAt(low, greenNM))) / daylight[i]
	}
	return c.at(1)
}

// ridge is the skyline of the card as land. Its distance is not on the card; the altitudes hold for
// the take-off place and are drawn as they are from the aircraft.
type ridge struct {
	sinAlt        [2*360 + 1]float64 // by azimuth, two a degree; 0 where the horizon is open
	highest       float64
	foot          float64 // sine of the depression at which the ground in front ends
	sky, sun      RGB     // own light of its slopes, the sun's for a slope that faces it
	transmittance float64 // what the air leaves of it
}

// Ours: how far off the ridge stands, and the tilt of its slopes, which face the camera.
const (
	ridgeKm      = 4.0
	ridgeTiltDeg = 30.0
	ridgeAlbedo  = 0.12
)

var ridgeTint = RGB{.85, 1.05, .70}

// newRidge returns nil for an open horizon.
func newRidge(s *shot.Shot, sc *Scene) *ridge {
	if len(s.Skyline) == 0 {
		return nil
	}
	r := &ridge{
		transmittance: math.Exp(-sc.perM * ridgeKm * 1000),
		foot:          min(1, sc.Distance.power/(2*earthRadiusM)/(ridgeKm*1000)),
	}
	for i := range r.sinAlt {
		r.sinAlt[i] = max(0, math.Sin(s.SkylineDeg(float64(i)/2)*math.Pi/180))
		r.highest = max(r.highest, r.sinAlt[i])
	}
	cosT := math.Cos(ridgeTiltDeg * math.Pi / 180)
	open := sc.Light.TotalLx - sc.Light.DirectNormalLx*sc.land.sunUp
	r.sky = ridgeTint.times(sc.land.skyTint).at(ridgeAlbedo / math.Pi * open * (1 + cosT) / 2)
	r.sun = ridgeTint.times(sc.land.sunTint).at(ridgeAlbedo / math.Pi * sc.Light.DirectNormalLx)
	return r
}

// at returns the sine of the skyline's altitude in the direction of a line of sight.
func (r *ridge) at(east, north float64) float64 {
	deg := math.Atan2(east, north) * 180 / math.Pi
	if deg < 0 {
		deg += 360
	}
	f := deg * 2
	i := min(int(f), len(r.sinAlt)-2)
	f -= float64(i)
	a, b := r.sinAlt[i], r.sinAlt[i+1]
	if a == 0 || b == 0 { // an end of the ridge is a step
		if f < .5 {
			return a
		}
		return b
	}
	return a + f*(b-a)
}

// facing returns the cosine at which the sun falls on a slope towards the camera. The line of sight is as
// good as level.
func (r *ridge) facing(cosSun, sunUp float64) float64 {
	const tilt = ridgeTiltDeg * math.Pi / 180
	return max(0, math.Cos(tilt)*sunUp-math.Sin(tilt)*cosSun)
}
