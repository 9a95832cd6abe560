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

// LightAt returns the light on a place with the sun at p and the moon at m, in the air a, which is the
// air at the ground: its aerosol, pressure and cloud are used.
//
// The total of a clear sky is [ClearIlluminance] at the geometric altitude; its direct share follows from the
// air path at the apparent one. Cloud is one state of the sky ([States]): with the sun hidden there is no beam;
// a sun that shines beside cloud gives its whole beam, and the total may exceed that of a clear sky by a fifth.
// Moonlight is added in the same way, its disc going behind the cloud from 65 to 95 % of cover. Right within
// half a stop under a clear sky; within one state of cloud, half a stop more.
func LightAt(p Position, m Moon, a Air) Light {
	a = a.sound()
	air := beamDepths{RayleighDepth(550, a.PressureHPa), a.AOD}
	p.AltitudeDeg, m.AltitudeDeg = min(p.AltitudeDeg, 90), min(m.AltitudeDeg, 90)
	l := Light{
		SunAltDeg: p.AltitudeDeg, SunAzDeg: p.AzimuthDeg,
		MoonAltDeg: m.AltitudeDeg, MoonAzDeg: m.AzimuthDeg,
	}
	day := air.light(ClearIlluminance(p.GeometricDeg), p, a.Cloud)
	l.TotalLx, l.SkyLx, l.DirectNormalLx = day.total, day.sky, day.normal

	if moon := moonIlluminance(m); moon > 0 {
		night := air.light(moon, m.Position, Cloud{a.Cloud.Cover, 1 - sunThroughGaps(a.Cloud.Cover)})
		l.TotalLx += night.total
		l.SkyLx += night.sky
		l.MoonNormalLx = night.normal
	}
	return l
}

// beamDepths are what takes light from a beam.
type beamDepths struct{ rayleigh, aerosol float64 }

// light divides the total of a clear sky into sky and beam and lays the cloud over both.
func (d beamDepths) light(clearTotal float64, p Position, c Cloud) lux {
	clear := lux{clearTotal, clearTotal, 0}
	sinSeen := math.Sin(p.AltitudeDeg * rad)
	if share := d.directShare(p); share > 0 {
		clear.sky = clearTotal * (1 - share)
		clear.normal = clearTotal * share / sinSeen
	}
	return clear.under(c, p.GeometricDeg, sinSeen)
}

// directShare returns the part of the clear total on the horizontal that the disc itself gives. The
// second bound holds the beam to the law of extinction, where a low sun would otherwise get more
// than passes through the air.
func (d beamDepths) directShare(p Position) float64 {
	if p.AltitudeDeg <= 0 {
		return 0
	}
	m := AirPath(p.AltitudeDeg)
	share := math.Exp(-m * (shareRayleigh*d.rayleigh + shareAerosol*d.aerosol))
	beam := solarLx * math.Exp(-m*(d.rayleigh+d.aerosol+ozoneDepth))
	return min(share, beam*math.Sin(p.AltitudeDeg*rad)/ClearIlluminance(p.GeometricDeg))
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
