package light

import (
	"math"
	"testing"

	"example.org/skywedge/sun"
)

// Cloud leaves as much of the airlight's polarisation as of the clear sky's own, without what the cloud
// itself polarises.
func TestAirlightUnderCloud(t *testing.T) {
	d := sun.Direction(90, 40)
	clear := sun.NewPattern(0, 20, sun.Air{AOD: .08, Albedo: .15}, 550)
	own, _ := clear.Polarisation(d)
	for _, c := range []float64{0, .2, .5, .9, 1} {
		p := sun.NewPattern(0, 20, sun.Air{AOD: .08, Albedo: .15, Cloud: sun.Cloud{Cover: c}}, 550)
		degree, _ := p.Polarisation(d)
		want := (degree - c*math.Min(.16, .2*own)) / own
		if got := AirlightUnderCloud(c); math.Abs(got-want) > 1e-9 {
			t.Errorf("cloud %g: %.4f, the sky keeps %.4f", c, got, want)
		}
	}
}
