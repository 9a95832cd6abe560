package water

import (
	"math"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"
)

// Table holds the light off a surface against direction, for one sun and one wind: the
// measures look it up. The sky is mirror-symmetric about the sun's vertical, so half of the azimuths
// serve: across it I and Q stay and U changes its sign. The glare cut of a frame agrees with that of
// [Surface.Reflect] to .01, that of a single ray to .03 (TestTableCutsLikeTheSurface).
//
// The frames of a leg see a part of the directions: as with [Smooth], a cell is worked out when somebody first looks by it,
// and the same for whoever does. Any number of goroutines may look.
type Table struct {
	sheet      *sheet
	sinA, cosA float64 // of the sun's azimuth
}

// sheet is what a table and those that are turned from it share.
type sheet struct {
	cells      [rows * cols]cell
	surface    Surface
	light      Light
	sinA, cosA float64 // of the surface's sun
}

type cell struct {
	i, q, u float64
	state   atomic.Uint32 // as that of a place of [Smooth]
}

// Down to 45° the rows are even in the square root of the tangent of the depression, since
// everything changes fastest at the horizon; below that in the tangent of the angle from straight
// down. Columns are even in a pseudo-angle (see [diamond]). None of the two needs more than a
// division and a root.
const (
	shallow = 28
	steep   = 10
	rows    = shallow + steep + 1
	cols    = 27
	edge    = 1e-3 // tangent: row 0 stands a hair below the horizon, the last a hair short of straight down
)

// NewTable is made of the sky's light off a surface. The light must be mirror-symmetric about the
// vertical plane through the surface's sun azimuth, and may be asked for by several goroutines.
func NewTable(s *Surface, light Light) *Table {
	t := &sheet{surface: *s, light: light}
	t.sinA, t.cosA = math.Sincos(s.SunAzDeg * math.Pi / 180)
	return &Table{t, t.sinA, t.cosA}
}

// at returns a cell.
func (t *sheet) at(k int) *cell {
	if c := &t.cells[k]; c.state.Load() == known {
		return c
	}
	return t.make(k)
}

// make works a cell out. Who comes while another one writes it gets one of his own, with the same light.
func (t *sheet) make(k int) *cell {
	r := t.surface.Mirrored(t.direction(k), t.light)
	c := &t.cells[k]
	if !c.state.CompareAndSwap(unknown, written) {
		return &cell{i: r.I, q: r.Q, u: r.U}
	}
	c.i, c.q, c.u = r.I, r.Q, r.U
	c.state.Store(known)
	return c
}

// Turned returns the same light with the sun at another azimuth in degrees. It shares the table's memory.
func (t *Table) Turned(sunAzDeg float64) Table {
	s, c := math.Sincos(sunAzDeg * math.Pi / 180)
	return Table{t.sheet, s, c}
}

// direction returns the line of sight of a cell.
func (t *sheet) direction(k int) r3.Vec {
	i, j := k/cols, k%cols
	var h, z float64
	if i <= shallow {
		f := float64(i) / shallow
		h, z = 1, edge+f*f*(1-edge)
	} else {
		h, z = 1-float64(i-shallow)/steep*(1-edge), 1
	}
	n := 1 / math.Hypot(h, z)
	h, z = h*n, z*n
	p := float64(j) * 2 / (cols - 1)
	along, across := 1-p, min(p, 2-p)
	n = h / math.Hypot(along, across)
	along, across = along*n, across*n
	return r3.Vec{X: t.sinA*along + t.cosA*across, Y: t.cosA*along - t.sinA*across, Z: -z}
}

// diamond returns 0..2 for an angle of 0..180° by two legs of it, the second not negative: the arc of
// a square instead of a circle, with the slope continuous, and symmetric about both ends.
func diamond(along, across float64) float64 {
	if along >= 0 {
		return across / (along + across)
	}
	return 2 - across/(across-along)
}

// At looks up the light for a line of sight d (unit, below the horizon), bilinearly.
func (t *Table) At(d r3.Vec) Stokes {
	along, across, level := t.parts(d)
	i, q, u := t.Look(along, across, level, -d.Z)
	return Stokes{i, q, u}
}

// Between is [Table.At] between this table and another one, laid out for the same azimuth of the sun, of which the other has
// a part from 0 to 1. The place in the two is looked up once.
func (t *Table) Between(o *Table, part float64, d r3.Vec) Stokes {
	along, across, level := t.parts(d)
	k, f, g, side := cellOf(along, across, level, -d.Z)
	i, q, u := t.sheet.mixed(k, f, g)
	i2, q2, u2 := o.sheet.mixed(k, f, g)
	return Stokes{i + part*(i2-i), q + part*(q2-q), side * (u + part*(u2-u))}
}

// parts returns the parts of a line of sight along the sun's azimuth, across it and level.
func (t *Table) parts(d r3.Vec) (along, across, level float64) {
	x, y, h := d.X, d.Y, math.Sqrt(d.X*d.X+d.Y*d.Y) // math.Hypot costs as much as all the rest
	if h < 1e-9 {
		x, y = 0, 1e-9 // Axes takes a line of sight straight down for a northern one
	}
	return x*t.sinA + y*t.cosA, x*t.cosA - y*t.sinA, h
}

// Look is [Table.At] for whoever has the parts of the line of sight at hand: along the sun's azimuth
// and across it (clockwise), level, and down. For the line straight down give the azimuth that [Axes] takes, north.
func (t *Table) Look(along, across, level, down float64) (i, q, u float64) {
	k, f, g, side := cellOf(along, across, level, down)
	i, q, u = t.sheet.mixed(k, f, g)
	return i, q, side * u
}

// cellOf returns the cell of a line of sight, how far beyond it towards the next row and column, and on which side of the sun.
func cellOf(along, across, level, down float64) (k int, f, g, side float64) {
	if down < level {
		f = shallow * math.Sqrt(max(0, down/level-edge)/(1-edge))
	} else {
		f = shallow + steep*min(1, (1-level/down)/(1-edge))
	}
	row := min(rows-2, int(f))
	f -= float64(row)
	side = 1
	if across < 0 {
		side, across = -1, -across
	}
	if along*along+across*across > 0 {
		g = diamond(along, across) * ((cols - 1) / 2)
	}
	col := min(cols-2, int(g))
	return row*cols + col, f, g - float64(col), side
}

// mixed returns the light between four cells.
func (t *sheet) mixed(k int, f, g float64) (i, q, u float64) {
	a, b, c, e := t.at(k), t.at(k+1), t.at(k+cols), t.at(k+cols+1)
	we := f * g
	wb, wc := g-we, f-we
	wa := 1 - f - wb
	return a.i*wa + b.i*wb + c.i*wc + e.i*we,
		a.q*wa + b.q*wb + c.q*wc + e.q*we,
		a.u*wa + b.u*wb + c.u*wc + e.u*we
}
