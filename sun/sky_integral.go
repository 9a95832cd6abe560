package sun

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// The illuminance of a sky is the sum of L·sin el over its 90 × 180 cells of altitude and azimuth.
// Done plainly that is 16,200 rays a sky. But L is a product of a function F of the angle γ to the
// sun and a function G of the altitude, and by the addition theorem of spherical harmonics the mean
// of the Legendre polynomial Pn(cos γ) round a circle of altitude is Pn(sin h)·Pn(sin el). With
// F = Σ cn Pn the sum falls apart into Σ cn Pn(sin h) Kn, Kn = 2π Σ G Pn sin el cos el Δel: 130
// values of F and G instead, and no azimuths. 24 terms agree with the plain sum to 2e−5.

const (
	legendreTerms = 24
	gammaNodes    = 40
	altitudeCells = 90
)

type legendreRow [legendreTerms]float64

var (
	nodeViews [gammaNodes]view        // Gauss nodes of γ over 0..π
	nodeRows  [gammaNodes]legendreRow // (n+½) Pn(cos γ) sin γ × weight
	cellSines [altitudeCells]float64
	cellRows  [altitudeCells]legendreRow // 2π Pn(sin el) sin el cos el Δel
)

func init() {
	var gamma, weight [gammaNodes]float64
	quad.Legendre{}.FixedLocations(gamma[:], weight[:], 0, math.Pi)
	for k, g := range gamma {
		s, c := math.Sincos(g)
		nodeViews[k] = view{cosSun: c, halo: math.Exp(-3 * g)}
		nodeRows[k] = legendre(c)
		for n := range nodeRows[k] {
			nodeRows[k][n] *= (float64(n) + 0.5) * s * weight[k]
		}
	}
	const cell = math.Pi / 2 / altitudeCells
	for i := range cellSines {
		s, c := math.Sincos((float64(i) + 0.5) * cell)
		cellSines[i] = s
		cellRows[i] = legendre(s)
		for n := range cellRows[i] {
			cellRows[i][n] *= 2 * math.Pi * s * c * cell
		}
	}
}

// legendre returns P0..P23 at x by their recurrence.
func legendre(x float64) legendreRow {
	var p legendreRow
	p[0], p[1] = 1, x
	for n := 1; n < legendreTerms-1; n++ {
		p[n+1] = (float64(2*n+1)*x*p[n] - float64(n)*p[n-1]) / float64(n+1)
	}
	return p
}

// illuminance returns the illuminance on the horizontal of the relative radiance.
func (p *Pattern) illuminance() float64 {
	var c, k legendreRow
	for i := range nodeViews {
		addRow(&c, &nodeRows[i], p.indicatrix(nodeViews[i]))
	}
	for i, s := range cellSines {
		addRow(&k, &cellRows[i], p.gradation(s))
	}
	var sum float64
	for n, pn := range legendre(p.sun.Z) {
		sum += c[n] * pn * k[n]
	}
	return sum
}

func addRow(to, row *legendreRow, f float64) {
	for n := range to {
		to[n] += f * row[n]
	}
}

// indicatrix and gradation are the two factors of the radiance, cloud included.
func (p *Pattern) indicatrix(v view) float64 {
	if p.blend.n == 0 {
		return p.clearIndicatrix(v)
	}
	l := 0.0
	if p.blend.clear > 0 {
		l = p.blend.clear * fastLog2(p.clearIndicatrix(v))
	}
	for i := range p.blend.part[:p.blend.n] {
		b := &p.blend.part[i]
		l += b.weight * (fastLog2(b.indicatrix(v)) - b.log2Zenith)
	}
	return fastExp2(l)
}

func (p *Pattern) gradation(sinEl float64) float64 {
	if p.blend.n == 0 {
		return p.clearGradation(sinEl)
	}
	l := 0.0
	if p.blend.clear > 0 {
		l = p.blend.clear * fastLog2(p.clearGradation(sinEl))
	}
	for i := range p.blend.part[:p.blend.n] {
		b := &p.blend.part[i]
		l += b.weight * fastLog2(b.gradation(sinEl))
	}
	return fastExp2(l)
}
