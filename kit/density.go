package kit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

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

// Plain is what a mount without a polarising sheet takes, for whoever asks for every pixel.
type Plain struct{ even, slanted, q float64 }

// Plain returns it; ok is false where a sheet makes the loss depend on the light.
func (m *Mount) Plain() (p Plain, ok bool) {
	switch m.form {
	case bare:
		return Plain{}, true
	case plain:
		return Plain{-math.Log2(m.layer), m.slantStops, m.q}, true
	}
	return Plain{}, false
}

// Stops returns the loss along the ray (x, y, 1), which need not be of length 1.
func (p *Plain) Stops(x, y float64) float64 {
	r2 := x*x + y*y
	return p.even + p.slanted*math.Sqrt((1+r2)/(1+(1-p.q)*r2)) // 1/cos θ′
}
