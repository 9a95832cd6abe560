package sun

// Every sky here, cloudy ones too, is the product of a function of the angle to the sun and one of
// the altitude: [Pattern.Radiance] in direction d is Glow(d·sun)·Fill(d.Z). A picture tabulates the
// two and then needs no exponential a pixel.

// Glow gives the factor that depends on the angle to the sun, by its cosine.
func (p *Pattern) Glow(cosSun float64) float64 {
	return p.blendGlow(view{cosSun: cosSun, halo: haloAt(cosSun)})
}

// Fill gives the factor that depends on the altitude of the view, by its sine; below the altitude
// 0.5° it is that of 0.5°.
func (p *Pattern) Fill(sinAlt float64) float64 {
	if !(sinAlt > sinFloor) {
		sinAlt = sinFloor
	}
	return p.blendFill(sinAlt)
}
