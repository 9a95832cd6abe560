package mounting

import (
	"math"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

// rimSteps is into how many parts a side of the frame is divided to look for a pair's darkest and lightest place: with
// them the spread is that of the whole frame to .02 stop (TestCornersAreThoseOfTheFrame).
const rimSteps = 8

// rim appends to a list places along the frame's edge, in parts of its half width and height: the corners, and of a pair those
// between them too, for turned its dark corners become sides.
func (m Way) rim(list [][2]float64) [][2]float64 {
	n := 1
	if m.Kind() == kit.Variable {
		n = rimSteps
	}
	for i := range n {
		t := 2*float64(i)/float64(n) - 1
		list = append(list, [2]float64{t, -1}, [2]float64{1, t}, [2]float64{-t, 1}, [2]float64{-1, -t})
	}
	return list
}

// Spread returns how uneven a filter itself makes a frame of so large a field, as tangents: its largest less its smallest
// loss, in stops.
func (m Way) Spread(halfW, halfH float64) float64 {
	mount := m.Filter.Mount(m.Ring, m.Setting)
	least := math.Log2(mount.Answer(r3.Vec{Z: 1}).T)
	most := least
	var room [4 * rimSteps][2]float64
	for _, c := range m.rim(room[:0]) {
		d := r3.Unit(r3.Vec{X: c[0] * halfW, Y: c[1] * halfH, Z: 1})
		x := math.Log2(mount.Answer(d).T)
		least, most = min(least, x), max(most, x)
	}
	return most - least
}
