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
	shineBelow    = 0.9 // [ShineAuto], and the moon
)

// LightAt returns the light on a place with the sun at p and the moon at m, in the air a, which is the
// air at the ground: its aerosol, pressure, cloud and shine are used.
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

	if moon := moonIlluminance(m); moon > 0 {
		t, s, n := depths.divide(moon, m.Position, depths.cloud < shineBelow)
		l.TotalLx += t
		l.SkyLx += s
		l.MoonNormalLx = n
	}
	return l
}

// depths is the air as LightAt needs it.
type depths struct {
	rayleigh, aerosol    float64
	cloud, transmittance float64 // cover, and what it lets through of a clear total
}

func newDepths(a Air) depths {
	a = a.sound()
	d := depths{rayleigh: RayleighDepth(550, a.PressureHPa), aerosol: a.AOD, cloud: a.Cloud, transmittance: 1}
	if d.cloud > 0 {
		d.transmittance = 1 - cloudLoss*math.Pow(d.cloud, cloudPower)
	}
	return d
}

// directShare returns the part of the clear total on the horizontal that the disc itself gives. The
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
	sky = clearTotal * d.transmittance * (skyShare + share*d.cloud*d.cloud)
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

// CardioidLx returns the illuminance in lux of a subject as a camera sees it that looks along a heading and
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
