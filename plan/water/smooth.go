package water

import (
	"math"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"
)

// Smooth holds the sky's light off a surface against direction as [Table] does, laid through fewer places as cubic
// curves (Catmull & Rom 1974): a picture shows the bends of straight lines between them, and is drawn faster where
// there are none. It is closer to [Surface.Reflect] than the table, which has twice as many cells (TestSmoothAgainstTable). A
// look costs twice as much.
//
// A frame sees a third of the directions: a place is worked out when somebody first looks by it, and the same for whoever
// does, so that a Smooth does not change for those who look. Any number of goroutines may.
type Smooth struct {
	surface    *Surface
	light      Light
	places     []place // a row after another, with one place more on every side
	cols       int
	sinA, cosA float64 // of the sun's azimuth
}

type place struct {
	Stokes
	state atomic.Uint32
}

// The states of a place. Who comes while another one writes does not wait: the light is the same again.
const (
	unknown = iota
	written
	known
)

// Rows are even in the square root of z/(z + h), z and h being the parts of the line of sight that point down and are
// level: closest at the horizon, where everything changes fastest, and without a bend on the way down. Columns are even
// in [diamond]. What mirrors with broadly tilted facets loses some of them from sight near the horizon, each at its own
// azimuth, and takes more columns.
const (
	smoothRows = 28
	waterCols  = 17
	roughCols  = 25
	roughFrom  = 0.05 // variance of the slope (ours: between water in a storm and rock)

	smoothEdge = 1e-4 // the first row stands a hair below the horizon, the last a hair short of straight down
)

// NewSmooth is made of the sky's light off a surface. The light must be mirror-symmetric about the vertical plane through
// the surface's sun azimuth, and may be asked for by several goroutines.
func NewSmooth(s *Surface, light Light) *Smooth {
	t := &Smooth{surface: s, light: light, cols: waterCols}
	if s.Sigma2 > roughFrom {
		t.cols = roughCols
	}
	t.places = make([]place, (smoothRows+2)*(t.cols+2))
	t.sinA, t.cosA = math.Sincos(s.SunAzDeg * math.Pi / 180)
	return t
}

// at returns the light of a place, which may be one step beyond the first and the last row and column.
func (t *Smooth) at(row, col int) Stokes {
	p := &t.places[(row+1)*(t.cols+2)+col+1]
	if p.state.Load() == known {
		return p.Stokes
	}
	return t.make(p, row, col)
}

func (t *Smooth) make(p *place, row, col int) (s Stokes) {
	switch {
	case col < 0: // across the sun's vertical U changes its sign
		s = t.at(row, 1)
		s.U = -s.U
	case col == t.cols:
		s = t.at(row, t.cols-2)
		s.U = -s.U
	case row < 0: // beyond the ends the curves go on as parabolas
		s = beyond(t.at(0, col), t.at(1, col), t.at(2, col))
	case row == smoothRows:
		s = beyond(t.at(row-1, col), t.at(row-2, col), t.at(row-3, col))
	default:
		s = t.surface.Mirrored(t.direction(row, col), t.light)
	}
	if p.state.CompareAndSwap(unknown, written) {
		p.Stokes = s
		p.state.Store(known)
	}
	return s
}

// beyond returns what comes before a, b and c.
func beyond(a, b, c Stokes) Stokes { return a.Plus(b.Times(-1)).Times(3).Plus(c) }

// direction returns the line of sight of a place.
func (t *Smooth) direction(row, col int) r3.Vec {
	z := float64(row) / (smoothRows - 1)
	z = smoothEdge + z*z*(1-2*smoothEdge)
	p := float64(col) * 2 / float64(t.cols-1)
	along, across := 1-p, min(p, 2-p)
	h := (1 - z) / math.Sqrt(along*along+across*across)
	along, across = along*h, across*h
	n := 1 / math.Sqrt(along*along+across*across+z*z)
	return r3.Vec{X: (t.sinA*along + t.cosA*across) * n, Y: (t.cosA*along - t.sinA*across) * n, Z: -z * n}
}

// Look returns the light for a line of sight by its parts, as [Table.Look] does.
func (t *Smooth) Look(along, across, level, down float64) (i, q, u float64) {
	f := math.Sqrt(max(0, (down/(level+down)-smoothEdge)*(1/(1-2*smoothEdge)))) * (smoothRows - 1)
	row := min(smoothRows-2, int(f))
	f -= float64(row)
	side := 1.0
	if across < 0 {
		side, across = -1, -across
	}
	g := 0.0
	if along*along+across*across > 0 {
		g = diamond(along, across) * float64(t.cols-1) / 2
	}
	col := min(t.cols-2, int(g))
	g -= float64(col)
	fw, gw := through(f), through(g)
	for k, w := range fw {
		for m, v := range gw {
			p := t.at(row+k-1, col+m-1)
			v *= w
			i, q, u = i+v*p.I, q+v*p.Q, u+v*p.U
		}
	}
	// where the light is little a curve may swing below none
	i = max(0, i)
	if most, is := i*i, q*q+u*u; is > most {
		k := math.Sqrt(most / is)
		q, u = q*k, u*k
	}
	return i, q, side * u
}

// through returns what four places count for, f of the way from the second one to the third.
func through(f float64) [4]float64 {
	g := 1 - f
	a, b := f*g*g/2, f*f*g/2
	return [4]float64{-a, g + 2*a - b, f + 2*b - a, -b}
}
