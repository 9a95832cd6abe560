package kit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// newPolariser mounts one sheet, with plain density of the given stops behind it (0 for a polariser
// alone, the density of a hybrid otherwise). A quarter-wave plate behind the sheet, which makes the
// polariser "circular", changes nothing here.
func newPolariser(passAxisDeg, lossStops, densityStops float64) Mount {
	m := Mount{form: oneSheet, q: 1 / (FilmIndex * FilmIndex), layer: 1}
	m.front = newSheet(passAxisDeg)
	m.slantStops = -math.Log2(sheetK1(lossStops)) + densityStops
	return m
}

// polariser answers with the sheet's transmittances k1 and k2 for this ray:
// I/I0 = ½(k1+k2) + p(k1−k2)[(e·t)² − ½], thus T = ½(k1+k2) and D = (k1−k2)/(k1+k2).
func (m *Mount) polariser(d r3.Vec) (t, dia float64, pass r3.Vec) {
	cosIn := cosInside(d, m.q)
	slant := 1 / cosIn
	leak := m.front.leak(d, slant, m.q)
	t = 0.5 * m.layer * exp2(-m.slantStops*slant) * (1 + leak)
	return t, (1 - leak) / (1 + leak), m.front.pass(d, cosIn, m.q)
}
