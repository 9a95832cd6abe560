package measure

import (
	"math"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

// FieldOf returns the tangents of half a picture's width and height: as the picture tells by its focal length, else as the
// camera has it. Both refer to the sensor's full width.
func FieldOf(p *Picture, c kit.Camera) (field [2]float64, ok bool) {
	switch {
	case p.Data.Focal35MM != nil:
		field[0] = 36 / 2 / *p.Data.Focal35MM
	case c.FocalMM > 0:
		field[0] = c.SensorMM[0] / 2 / c.FocalMM
	default:
		return field, false
	}
	field[1] = field[0] * float64(p.Tall) / float64(p.Wide)
	return field, true
}

// raysAcross is how many rays of a patch are asked for, across and down (ours).
const raysAcross = 4

// model maps what the filter should do to plain light over the patches, against the middle fifth. Of a variable it is as its
// ring stands.
func model(f kit.Filter, settingStops float64, o Options) (m Map) {
	if o.Field[0] <= 0 {
		for i := range m {
			m[i] = math.NaN()
		}
		return m
	}
	mount := f.Mount(o.RingDeg, settingStops)
	// over is the mean of what passes in a part of the frame, given by its middle and half its size, in halves of the frame.
	over := func(x, y, w, h float64) float64 {
		sum := 0.0
		for j := range raysAcross {
			for i := range raysAcross {
				u := x + w*(float64(2*i+1)/raysAcross-1)
				v := y + h*(float64(2*j+1)/raysAcross-1)
				t, _, _ := mount.Parts(r3.Unit(r3.Vec{X: u * o.Field[0], Y: v * o.Field[1], Z: 1}))
				sum += t
			}
		}
		return sum / (raysAcross * raysAcross)
	}
	middle := over(0, 0, 0.2, 0.2)
	for i := range m {
		x, y := float64(2*(i%Across)+1)/Across-1, 1-float64(2*(i/Across)+1)/Down
		m[i] = math.Log2(over(x, y, 1./Across, 1./Down) / middle)
	}
	return m
}
