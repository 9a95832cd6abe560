package sun

import "gonum.org/v1/gonum/spatial/r3"

// Radiance returns the brightness of the sky in direction d (a unit vector in East-North-Up), relative:
// one scale holds for all directions and wavelengths of a sky. Clear air: single scattering by air
// and aerosol with the pattern's own depolarisation, dimmed by the path's own depth (ours; against
// transfer calculations more than 15° from the sun, after one common factor for each sky: 1 % rms
// without aerosol, 12 % with). With
// cloud it is blended with the CIE Standard General Sky, whose light is taken as white.
func (p *Pattern) Radiance(d r3.Vec) float64 { return p.radiance(p.view(d)) }

func (p *Pattern) radiance(v view) float64 {
	if p.blend.n == 0 {
		return p.clearIndicatrix(v) * p.clearGradation(v.sinEl)
	}
	var l float64
	if p.blend.clear > 0 {
		l = p.blend.clear * fastLog2(p.clearIndicatrix(v)*p.clearGradation(v.sinEl))
	}
	for i := range p.blend.part[:p.blend.n] {
		b := &p.blend.part[i]
		l += b.weight * (fastLog2(b.indicatrix(v)*b.gradation(v.sinEl)) - b.log2Zenith)
	}
	return fastExp2(l)
}

// clearIndicatrix is the clear sky's brightness around the sun, clearGradation its growth with the length of
// the path. Every sky here, cloudy ones too, is such a product.
func (p *Pattern) clearIndicatrix(v view) float64 {
	return (1-p.beta)*(1+p.pmax*v.cosSun*v.cosSun) + p.beta*v.peak()
}

func (p *Pattern) clearGradation(sinEl float64) float64 { return 1 - expNeg(p.tau/sinEl) }

// Sky is a pattern with absolute luminances: all that comes from the sky in a direction.
type Sky struct {
	Pattern
	scale float64 // cd/m² for a relative radiance of 1
}

// NewSky makes a sky whose illuminance on the horizontal is skyLx lux; the other arguments are those
// of [NewPattern]. Negative illuminances count as 0.
func NewSky(sunAzDeg, sunAltDeg float64, a Air, nm, skyLx float64) *Sky {
	return NewPattern(sunAzDeg, sunAltDeg, a, nm).Sky(skyLx)
}

// Sky returns the pattern with absolute luminances, so that the sky's illuminance is skyLx lux.
func (p Pattern) Sky(skyLx float64) *Sky {
	return &Sky{Pattern: p, scale: p.Scale(skyLx)}
}

// Scale returns the luminance in cd/m² of a relative radiance of 1, for a sky's illuminance of skyLx lux.
func (p *Pattern) Scale(skyLx float64) float64 {
	if sum := p.illuminance(); sum > 0 {
		return max(skyLx, 0) / sum
	}
	return 0
}

// Luminance returns the luminance in cd/m² in direction d.
func (s *Sky) Luminance(d r3.Vec) float64 { return s.scale * s.radiance(s.view(d)) }

// At returns all that comes from direction d.
func (s *Sky) At(d r3.Vec) Ray {
	v := s.view(d)
	degree, e := s.polarisation(d, v)
	return Ray{Luminance: s.scale * s.radiance(v), Degree: degree, E: e}
}
