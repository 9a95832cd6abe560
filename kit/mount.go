package kit

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mount is a filter on the lens with its ring and setting fixed: what a landing decides. All sines
// are worked out once, so that a picture may ask for every pixel.
type Mount struct {
	form        form
	front, rear sheet   // the front sheet is the only one of a polariser
	cross       float64 // cosine of the angle between the two axes
	slantStops  float64 // absorption that grows with the way through, stops on the axis
	layer       float64 // transmittance that does not (a diffusion layer)
	q           float64 // 1/n²
}

// form is how a mount is built, whatever it is sold as.
type form uint8

const (
	bare form = iota
	plain
	oneSheet
	twoSheets
)

// Mount puts the filter on the lens. ringDeg is where the mark stands, clockwise from 12 o'clock
// facing the lens (of a variable: the mark of its rear sheet); settingStops is the whole loss that a
// variable is set to by its marks, fixed density included, and is not looked at for other kinds. The zero Filter
// is a bare lens.
func (f Filter) Mount(ringDeg, settingStops float64) Mount {
	var m Mount
	switch f.Kind {
	case Polariser:
		m = newPolariser(PassAxisDeg(ringDeg, f.MarkDeg), f.LossStops, 0)
	case Hybrid:
		m = newPolariser(PassAxisDeg(ringDeg, f.MarkDeg), f.LossStops, min(f.Stops, maxStops))
	case Variable:
		m = newVariable(PassAxisDeg(ringDeg, f.RearDeg), f.lossAt(settingStops), f.FromStops, f.FixedStops, f.OpensCW)
	case Density, Diffusion:
		m = newDensity(min(f.Stops, maxStops))
	}
	m.layer = math.Exp2(-f.LayerStops())
	return m
}

// Answer tells what the filter does to light from direction d, a unit vector in camera coordinates
// (right, up, forward) with d.Z > 0. It allocates nothing.
func (m *Mount) Answer(d r3.Vec) (a Answer) {
	a.T, a.D, a.Pass = m.Parts(d)
	return a
}

// Parts is [Mount.Answer] for whoever asks for a whole picture: mean transmittance, diattenuation
// and pass direction as plain results. An Answer is too large for the compiler to keep in registers,
// and copying it just after it was written stalls the processor for longer than the optics take.
func (m *Mount) Parts(d r3.Vec) (t, dia float64, pass r3.Vec) {
	switch m.form {
	case oneSheet:
		return m.polariser(d)
	case twoSheets:
		return m.variable(d)
	case plain:
		return m.density(d), 0, r3.Vec{}
	}
	return 1, 0, r3.Vec{}
}

// Passed returns the fraction of the light that comes through, for light with the given degree of
// linear polarisation (0..1) and unit E vector e (camera coordinates): T(1 + D p (2(t·e)² − 1)).
func (a Answer) Passed(degree float64, e r3.Vec) float64 {
	te := a.Pass.X*e.X + a.Pass.Y*e.Y + a.Pass.Z*e.Z
	return a.T * (1 + a.D*degree*(2*te*te-1))
}

// Polarises tells whether the ring changes the picture.
func (f Filter) Polarises() bool {
	return f.Kind == Polariser || f.Kind == Hybrid || f.Kind == Variable
}

// LayerStops is what a diffusion layer adds. A loss that the owner measured counts it already.
func (f Filter) LayerStops() float64 {
	if f.Grade == "" || f.MeasuredStops > 0 || len(f.Measured) > 0 {
		return 0
	}
	return diffusionLossStops
}

// TotalStops returns the loss of unpolarised light on the optical axis at a setting, stops. Only a
// variable looks at the setting.
func (f Filter) TotalStops(settingStops float64) float64 {
	switch f.Kind {
	case Polariser:
		return f.LossStops + f.LayerStops()
	case Hybrid:
		return f.Stops + f.LossStops + f.LayerStops()
	case Variable:
		return f.lossAt(settingStops) + f.LayerStops()
	case Density, Diffusion:
		return f.Stops + f.LayerStops()
	}
	return 0
}

// lossAt returns what a variable takes where it is set to so many stops by its marks: between two measured settings in a
// straight line, beyond them as far off as the nearest one.
func (f Filter) lossAt(settingStops float64) float64 {
	m := f.Measured
	if len(m) == 0 {
		return settingStops
	}
	i, _ := slices.BinarySearchFunc(m, settingStops, func(p [2]float64, s float64) int { return cmp.Compare(p[0], s) })
	switch {
	case i == 0:
		return settingStops + m[0][1] - m[0][0]
	case i == len(m):
		return settingStops + m[i-1][1] - m[i-1][0]
	}
	a, b := m[i-1], m[i]
	return a[1] + (b[1]-a[1])*(settingStops-a[0])/(b[0]-a[0])
}
