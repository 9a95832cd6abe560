package sun

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Quick is a [Pattern] with tables of all that depends on the angle to the sun alone or on the altitude alone: for whoever
// asks for ten thousand rays. Its radiance is the pattern's own to .002 and its polarisation to .001 (TestQuickSky).
type Quick struct {
	*Pattern
	around [quickSteps + 2]struct{ indicatrix, peak float64 } // over √(1 − cos γ), 0..√2
	up     [quickSteps + 2]struct{ gradation, dull float64 }  // over √(sin altitude), 0..1
}

const (
	quickSteps = 256
	quickScale = quickSteps / math.Sqrt2
)

// Quick makes the tables.
func (p *Pattern) Quick() *Quick {
	q := &Quick{Pattern: p}
	for i := range q.around {
		v := float64(i) / quickScale
		c := max(-1, 1-v*v)
		q.around[i].indicatrix, q.around[i].peak = p.Indicatrix(c), view{cosSun: c, halo: haloAt(c)}.peak()
	}
	for i := range q.up {
		z := min(1, float64(i*i)/(quickSteps*quickSteps))
		q.up[i].gradation, q.up[i].dull = p.Gradation(z), 1-p.dulling*expNeg(max(z, sinFloor)*(1/0.17))
	}
	return q
}

// Light returns the radiance in direction d, which is not below the horizon, and its polarisation as [Pattern.Stokes] does.
func (q *Quick) Light(d, u1, u2 r3.Vec) (radiance, degreeCos2, degreeSin2 float64) {
	c := r3.Dot(d, q.sun)
	v := math.Sqrt(max(0, 1-c)) * quickScale
	i := min(int(v), quickSteps)
	z := math.Sqrt(max(0, min(1, d.Z))) * quickSteps
	j := int(z)
	v, z = v-float64(i), z-float64(j)
	a, b, m, n := &q.around[i], &q.around[i+1], &q.up[j], &q.up[j+1]
	radiance = (a.indicatrix + v*(b.indicatrix-a.indicatrix)) * (m.gradation + z*(n.gradation-m.gradation))
	degreeCos2, degreeSin2 = q.stokes(d, u1, u2, c, a.peak+v*(b.peak-a.peak), m.dull+z*(n.dull-m.dull))
	return radiance, degreeCos2, degreeSin2
}

// Stokes is the polarisation alone.
func (q *Quick) Stokes(d, u1, u2 r3.Vec) (degreeCos2, degreeSin2 float64) {
	_, degreeCos2, degreeSin2 = q.Light(d, u1, u2)
	return degreeCos2, degreeSin2
}
