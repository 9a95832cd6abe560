package water

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Table holds the sky's light off a surface against direction, for one sun and one wind. The sky is
// mirror-symmetric about the sun's vertical, so half of the azimuths serve: across it I and Q stay
// and U changes its sign. A look-up costs a tenth of [Surface.Reflect].
type Table struct {
	cells      [rows * cols]Stokes
	sinA, cosA float64
}

// The rows are even in the square root of the depression, since everything changes fastest at the
// horizon; the columns are even in azimuth from the sun.
const (
	rows = 56
	cols = 49
)

// NewTable fills the table. The sky must be mirror-symmetric about the vertical plane through the
// surface's sun azimuth.
func NewTable(s *Surface, sky Sky) *Table {
	t := &Table{}
	t.sinA, t.cosA = math.Sincos(s.SunAzDeg * math.Pi / 180)
	for i := range rows {
		dep := rowDepression(i)
		sd, cd := math.Sincos(dep)
		for j := range cols {
			sa, ca := math.Sincos(float64(j) * math.Pi / (cols - 1))
			// clockwise from the sun's azimuth
			x := t.sinA*ca + t.cosA*sa
			y := t.cosA*ca - t.sinA*sa
			d := r3.Vec{X: cd * x, Y: cd * y, Z: -sd}
			t.cells[i*cols+j] = s.Reflect(d, sky)
		}
	}
	return t
}

// rowDepression gives the angle below the horizon, in radians, of a row. Row 0 is a hair below the
// horizon and the last a hair short of straight down, where the axes of the azimuth still hold.
func rowDepression(i int) float64 {
	f := float64(i) / (rows - 1)
	return 1e-3 + f*f*(math.Pi/2-2e-3)
}

// At looks up the light for a line of sight d (unit, below the horizon), bilinearly.
func (t *Table) At(d r3.Vec) Stokes {
	dep := math.Asin(min(1, max(0, -d.Z)))
	f := math.Sqrt(max(0, (dep-1e-3)/(math.Pi/2-2e-3))) * (rows - 1)
	i := min(rows-2, int(f))
	f = min(1, f-float64(i))
	x, y := d.X, d.Y
	h := math.Hypot(x, y)
	if h < 1e-9 {
		x, y, h = 0, 1, 1 // Axes takes a line of sight straight down for a northern one
	}
	side := 1.0
	if x*t.cosA-y*t.sinA < 0 {
		side = -1
	}
	az := math.Acos(min(1, max(-1, (x*t.sinA+y*t.cosA)/h)))
	g := az * (cols - 1) / math.Pi
	j := min(cols-2, int(g))
	g -= float64(j)
	a, b := &t.cells[i*cols+j], &t.cells[i*cols+j+1]
	c, e := &t.cells[(i+1)*cols+j], &t.cells[(i+1)*cols+j+1]
	w0, w1, w2, w3 := (1-f)*(1-g), (1-f)*g, f*(1-g), f*g
	return Stokes{
		I: a.I*w0 + b.I*w1 + c.I*w2 + e.I*w3,
		Q: a.Q*w0 + b.Q*w1 + c.Q*w2 + e.Q*w3,
		U: side * (a.U*w0 + b.U*w1 + c.U*w2 + e.U*w3),
	}
}
