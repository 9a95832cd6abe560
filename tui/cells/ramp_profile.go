package cells

// In gives the colour at v as a terminal of that profile shows it best: in 256 colours one of the eight
// picked steps, whose lightness rises where that of the nearest colours would fall in places.
func (r *Ramp) In(p Profile, v float64) Colour {
	if p != TwoFiftySix {
		return r.At(v)
	}
	return paletteColour(int(r.Step256(v)))
}

// Mix gives the exact colour that lies a share (0..1) of the way from one to the other.
func Mix(from, to Colour, share float64) Colour {
	r0, g0, b0 := from.parts()
	r1, g1, b1 := to.parts()
	return RGB(mix(r0, r1, share), mix(g0, g1, share), mix(b0, b1, share))
}
