package kit

import "gonum.org/v1/gonum/spatial/r3"

// diffusionLossStops is the light that a diffusion layer takes, whatever its grade (ours: such a
// layer scatters and hardly absorbs).
const diffusionLossStops = 0.1

// newDensity mounts plain absorbing glass. Glass and film share the index: the difference between
// 1.5 and common optical glass moves the corner of an 84° frame by 0.004 N stops.
func newDensity(stops float64) Mount {
	return Mount{form: plain, q: 1 / (filmIndex * filmIndex), layer: 1, slantStops: stops}
}

// density answers with N/cos θ′ stops: a slanted ray takes a longer way through the glass, so the
// corners lose N(1/cos θ′ − 1) stops more than the axis. It does not ask how the light is polarised.
func (m *Mount) density(d r3.Vec) (t float64) {
	return m.layer * exp2(-m.slantStops/cosInside(d, m.q))
}
