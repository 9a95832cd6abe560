package sun

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestRadianceIsIndicatrixTimesGradation(t *testing.T) {
	for _, cloud := range []float64{0, .3, .6, .95} {
		for _, alt := range []float64{0, 12, 55} {
			p := NewPattern(200, alt, Air{Albedo: .2, Cloud: SettingState(cloud, ShineAuto)}, 650) // thin air shows where the sky has its floor
			s := Direction(200, alt)
			for az := 0.0; az < 360; az += 25 {
				for _, el := range []float64{-20, 0, 0.2, 2, 30, 89} {
					d := Direction(az, el)
					got, want := p.Indicatrix(r3.Dot(d, s))*p.Gradation(d.Z), p.Radiance(d)
					if math.Abs(got/want-1) > 1e-5 {
						t.Fatalf("cloud %g sun %g view %g/%g: %g and %g", cloud, alt, az, el, got, want)
					}
				}
			}
		}
	}
}
