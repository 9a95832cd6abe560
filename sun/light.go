package sun

import "math"

// How much of the light comes straight from the disc. The weights are ours, fitted to a scalar
// radiative transfer over aerosol depths 0..0.35 and sun altitudes 5..80° (within 0.2 stop of the
// sky's share). They are below 1 because the total, which the share refers to, falls with the beam.
const (
	shareRayleigh = 0.59
	shareAerosol  = 0.82
	ozoneDepth    = 0.03 // weighted by the eye; ours
)

// Cloud. The transmission of a sky with cloud fraction c is 1 − 0.75 c^3.4 (Kasten & Czeplak 1980,
// Solar Energy 24:177, from memory); how the light divides is ours.
const (
	cloudLoss     = 0.75
	cloudPower    = 3.4
	cloudEdgeGain = 1.2 // white cloud beside a free sun lifts the total no further than this
	shineBelow    = 0.9 // [ShineAuto]
)

// Shines says whether the sun's disc shines through the cloud there is.
func (a Air) Shines() bool {
	switch a.Sun {
	case Shining:
		return true
	case Hidden:
		return false
	}
	return a.Cloud < shineBelow
}

// LightAt gives the light on a place with the sun at p and the moon at m, in the air a, which is the
// air at the ground: its aerosol, pressure, cloud and shine are used. Cloud out of range counts as the
// nearest in range, aerosol below 0 as 0, an absent pressure as that of the sea level.
//
// The total of a clear sky is [ClearIlluminance] at the geometric altitude; its direct share follows from the
// air path at the apparent one. A sun that is hidden gives no beam; a sun that shines beside cloud
// gives its whole beam, and the total may exceed that of a clear sky by a fifth. Moonlight is added
// in the same way, its disc covered from 9/10 of cloud on. Right within half a stop under a clear
// sky, a stop with cloud.
func LightAt(p Position, m Moon, a Air) Light {
	depths := newDepths(a)
	p.AltitudeDeg, m.AltitudeDeg = min(p.AltitudeDeg, 90), min(m.AltitudeDeg, 90)
	l := Light{
		SunAltDeg: p.AltitudeDeg, SunAzDeg: p.AzimuthDeg,
		MoonAltDeg: m.AltitudeDeg, MoonAzDeg: m.AzimuthDeg,
	}
	total := ClearIlluminance(p.GeometricDeg)
	l.TotalLx, l.SkyLx, l.DirectNormalLx = depths.divide(total, p, a.Shines())

	if moon := MoonIlluminance(m); moon > 0 {
		t, s, n := depths.divide(moon, m.Position, depths.cloud < shineBelow)
		l.TotalLx += t
		l.SkyLx += s
		l.MoonNormalLx = n
	}
	return l
}

// depths is the air as LightAt needs it.
type depths struct {
	rayleigh, aerosol float64
	cloud, through    float64 // fraction, transmission
}

func newDepths(a Air) depths {
	p := a.PressureHPa
	if !(p > 0) {
		p = seaLevelHPa
	}
	d := depths{rayleigh: RayleighDepth(550, p), aerosol: max(a.AOD, 0), cloud: clip01(a.Cloud), through: 1}
	if d.cloud > 0 {
		d.through = 1 - cloudLoss*math.Pow(d.cloud, cloudPower)
	}
	return d
}

// directShare gives the part of the clear total on the horizontal that the disc itself gives. The
// second bound holds the beam to the law of extinction, where a low sun would otherwise get more
// than passes through the air.
func (d depths) directShare(p Position) float64 {
	if p.AltitudeDeg <= 0 {
		return 0
	}
	m := AirPath(p.AltitudeDeg)
	share := math.Exp(-m * (shareRayleigh*d.rayleigh + shareAerosol*d.aerosol))
	beam := solarLx * math.Exp(-m*(d.rayleigh+d.aerosol+ozoneDepth))
	return min(share, beam*math.Sin(p.AltitudeDeg*rad)/ClearIlluminance(p.GeometricDeg))
}

// divide splits the total of a clear sky into sky and beam and lays the cloud over both.
func (d depths) divide(clearTotal float64, p Position, shines bool) (total, sky, normal float64) {
	share := d.directShare(p)
	skyShare := 1 - share
	sky = clearTotal * d.through * (skyShare + share*d.cloud*d.cloud)
	if share == 0 || !shines {
		return sky, sky, 0
	}
	direct := clearTotal * share
	total = min(sky+direct, cloudEdgeGain*clearTotal)
	return total, total - direct, direct / math.Sin(p.AltitudeDeg*rad)
}

// beam is one of the two discs.
type beam struct{ normalLx, altDeg, azDeg float64 }

func (l Light) beams() [2]beam {
	return [2]beam{{l.DirectNormalLx, l.SunAltDeg, l.SunAzDeg}, {l.MoonNormalLx, l.MoonAltDeg, l.MoonAzDeg}}
}

// CardioidLx gives the illuminance in lux of a subject as a camera sees it that looks along a heading and
// a pitch in degrees (0 level, −90 straight down) over ground of an albedo 0..1: what a domed meter
// reads that stands at the subject and faces the camera. The receptor weighs light from an angle θ
// off the camera by (1 + cos θ)/2, and the integral over sun, even sky and even ground is exact
// (ours). For a surface seen square from above take TotalLx instead.
func (l Light) CardioidLx(headingDeg, pitchDeg, albedo float64) float64 {
	sinP, cosP := math.Sincos(-pitchDeg * rad)
	e := l.SkyLx*(1+sinP/2) + albedo*l.TotalLx*(1-sinP/2)
	for _, b := range l.beams() {
		if b.normalLx > 0 {
			sinH, cosH := math.Sincos(b.altDeg * rad)
			cosTheta := cosH*cosP*math.Cos((b.azDeg-headingDeg-180)*rad) + sinH*sinP
			e += b.normalLx * (1 + cosTheta) / 2
		}
	}
	return e
}

// TiltedLx gives the illuminance in lux of a plane tilted by tiltDeg from the horizontal (90 a
// wall) whose face looks towards the azimuth facingDeg, over ground of an albedo 0..1, under an even
// sky (ours).
func (l Light) TiltedLx(tiltDeg, facingDeg, albedo float64) float64 {
	sinB, cosB := math.Sincos(tiltDeg * rad)
	e := l.SkyLx*(1+cosB)/2 + albedo*l.TotalLx*(1-cosB)/2
	for _, b := range l.beams() {
		if b.normalLx > 0 {
			sinH, cosH := math.Sincos(b.altDeg * rad)
			e += b.normalLx * max(0, cosH*math.Cos((b.azDeg-facingDeg)*rad)*sinB+sinH*cosB)
		}
	}
	return e
}

// CloudClass is one of the five skies of Janiczek & DeYoung 1987.
type CloudClass struct {
	Name    string
	Divisor float64 // of the clear total
	Direct  float64 // of the clear share of the beam; ours
}

// CloudClasses are in order of darkness. They serve comparison with exposure guides, which speak of
// such skies; a card's cloud goes through [LightAt].
var CloudClasses = []CloudClass{
	{"clear", 1, 1},
	{"thin cloud", 2, 0.5},
	{"bright cloud", 3, 0},
	{"overcast", 5, 0},
	{"dark cloud", 10, 0},
}

// LightUnder gives the light of the sun under one of the classes; the cloud and the shine of a are
// not used.
func LightUnder(p Position, a Air, c CloudClass) Light {
	a.Cloud = 0
	d := newDepths(a)
	p.AltitudeDeg = min(p.AltitudeDeg, 90)
	share := d.directShare(p) * c.Direct
	l := Light{SunAltDeg: p.AltitudeDeg, SunAzDeg: p.AzimuthDeg}
	l.TotalLx = ClearIlluminance(p.GeometricDeg) / c.Divisor
	l.SkyLx = l.TotalLx * (1 - share)
	if share > 0 {
		l.DirectNormalLx = l.TotalLx * share / math.Sin(p.AltitudeDeg*rad)
	}
	return l
}
