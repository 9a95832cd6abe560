package sun

// Every sky here, cloudy ones too, is the product of a function of the angle to the sun and one of
// the altitude: [Pattern.Radiance] in direction d is Indicatrix(d·sun)·Gradation(d.Z), in the terms of
// ISO 15469. A picture tabulates the two and then needs no exponential a pixel.

// Indicatrix returns the factor that depends on the angle to the sun, by its cosine.
func (p *Pattern) Indicatrix(cosSun float64) float64 {
	return p.indicatrix(view{cosSun: cosSun, halo: haloAt(cosSun)})
}

// Gradation returns the factor that depends on the altitude of the view, by its sine; below the altitude
// 0.5° it is that of 0.5°.
func (p *Pattern) Gradation(sinAlt float64) float64 {
	if !(sinAlt > sinFloor) {
		sinAlt = sinFloor
	}
	return p.gradation(sinAlt)
}
