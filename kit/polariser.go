package kit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// newPolariser mounts one sheet, with plain density of the given stops behind it (0 for a polariser
// alone, the density of a hybrid otherwise). A quarter-wave plate behind the sheet, which makes the
// polariser "circular", changes nothing here.
func newPolariser(passAxisDeg, lossStops, densityStops float64) Mount {
	m := Mount{form: oneSheet, q: 1 / (filmIndex * filmIndex), layer: 1}
	m.front = newSheet(passAxisDeg)
	m.slantStops = -math.Log2(sheetK1(lossStops)) + densityStops
	return m
}

// polariser answers with the sheet's transmittances k1 and k2 for this ray:
// I/I0 = ½(k1+k2) + p(k1−k2)[(e·t)² − ½], thus T = ½(k1+k2) and D = (k1−k2)/(k1+k2).
//
// A slanted ray goes a longer way, and its field is no longer exactly along the absorbing axis:
// ln k2(d) = [ln k2 sin²ξ + ln k1 cos²ξ]/cos θ′ with cos ξ = c·d/n, and k1(d) = k1^(1/cos θ′)
// (ours). Divided, k2/k1 = extinction^(sin²ξ/cos θ′), the leak.
//
// The steps are those of [sheet.pass], written out in one piece: the calls took a third of the time.
// TestPolariserIsTheSheet holds the two against each other.
func (m *Mount) polariser(d r3.Vec) (t, dia float64, pass r3.Vec) {
	cx, cy, q := m.front.cx, m.front.cy, m.q
	cosIn := math.Sqrt(1 - q*(d.X*d.X+d.Y*d.Y))
	slant := 1 / cosIn
	b := cx*d.X + cy*d.Y
	leak := exp2(-extinctionStops * (1 - q*b*b) * slant)
	t = 0.5 * m.layer * exp2(-m.slantStops*slant) * (1 + leak)
	// (1 − leak)/(1 + leak) as a series: the leak is below 0.0011 for any ray, the error below 1e−11.
	dia = 1 - 2*leak*(1-leak*(1-leak))

	g, h := d.Z*(cosIn+d.Z), (1-q)*b
	ax, ay := cx*g+h*d.X, cy*g+h*d.Y
	x, y, z := ay*d.Z, -ax*d.Z, g*(cx*d.Y-cy*d.X)
	n2 := x*x + y*y + z*z
	if n2 < 1e-200 { // a ray in the plane of the sheet
		return t, dia, r3.Vec{X: -cy, Y: cx}
	}
	k := 1 / math.Sqrt(n2)
	return t, dia, r3.Vec{X: x * k, Y: y * k, Z: z * k}
}
