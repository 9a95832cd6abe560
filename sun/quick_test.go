package sun

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The tabulated light of a pattern is the pattern's own, the radiance to .002 and the polarisation to .001, under a clear
// sky and in both states of broken cloud, with the sun up or down; and the pattern's own polarisation is that of its degree
// and its E to the last digits.
func TestQuickSky(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, cloud := range []Cloud{{}, {Cover: .4}, {Cover: .4, SunHidden: 1}, {Cover: .9, SunHidden: .5}, {Cover: 1, SunHidden: 1}} {
		var radiance, polarised, plain float64
		for _, alt := range []float64{-6, 2, 20, 50, 90} {
			p := NewPattern(0, alt, Air{AOD: .08, PressureHPa: 1013, Albedo: .06, Cloud: cloud}, 550)
			quick := p.Quick()
			for range 2000 {
				d := Direction(360*r.Float64(), 90*r.Float64())
				u1 := anySquare(d)
				u2 := r3.Cross(d, u1)
				l, c, s := quick.Light(d, u1, u2)
				if c2, s2 := quick.Stokes(d, u1, u2); c2 != c || s2 != s {
					t.Fatalf("the polarisation alone is %g, %g, with the light %g, %g", c2, s2, c, s)
				}
				c1, s1 := p.Stokes(d, u1, u2)
				radiance = max(radiance, math.Abs(l/p.Radiance(d)-1))
				polarised = max(polarised, math.Hypot(c-c1, s-s1))
				degree, e := p.Polarisation(d)
				a, b := r3.Dot(e, u1), r3.Dot(e, u2)
				plain = max(plain, math.Hypot(c1-degree*(a*a-b*b), s1-2*degree*a*b))
			}
		}
		t.Logf("%+v: radiance off by up to %.4f, polarisation by %.5f, the pattern's by %.2g", cloud, radiance, polarised, plain)
		if radiance > .002 || polarised > .001 || plain > 1e-9 {
			t.Errorf("%+v: radiance off by up to %.4f, polarisation by %.5f, the pattern's by %.2g", cloud, radiance, polarised, plain)
		}
	}
}
