package water

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Smooth holds the sky's light off a surface against direction as [Table] does, laid through fewer places as cubic
// curves (Catmull & Rom 1974): a picture shows the bends of straight lines between them, and is drawn faster where
// there are none. It is closer to [Surface.Reflect] than the table, which has twice as many cells (TestSmoothAgainstTable). A
// look costs twice as much.
type Smooth struct {
	places     []Stokes // a row after another, with one place more on every side
	cols       int
	sinA, cosA float64 // of the sun's azimuth
}

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

// NewSmooth asks for the sky's light off a surface. The light must be mirror-symmetric about the vertical plane through
// the surface's sun azimuth.
func NewSmooth(s *Surface, light Light) *Smooth {
	t := &Smooth{cols: waterCols}
	if s.Sigma2 > roughFrom {
		t.cols = roughCols
	}
	wide := t.cols + 2
	t.places = make([]Stokes, (smoothRows+2)*wide)
	t.sinA, t.cosA = math.Sincos(s.SunAzDeg * math.Pi / 180)
	for i := range smoothRows {
		row := t.places[(i+1)*wide:][:wide]
		for j := range t.cols {
			row[j+1] = s.Mirrored(t.direction(i, j), light)
		}
		// across the sun's vertical U changes its sign
		row[0], row[wide-1] = row[2], row[wide-3]
		row[0].U, row[wide-1].U = -row[0].U, -row[wide-1].U
	}
	// beyond the ends the curves go on as parabolas
	last := smoothRows * wide
	for j := range wide {
		p := t.places[j:]
		p[0] = beyond(p[wide], p[2*wide], p[3*wide])
		p[last+wide] = beyond(p[last], p[last-wide], p[last-2*wide])
	}
	return t
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
	wide := t.cols + 2
	for k, w := range fw {
		p := t.places[(row+k)*wide+col:][:4]
		i += w * (gw[0]*p[0].I + gw[1]*p[1].I + gw[2]*p[2].I + gw[3]*p[3].I)
		q += w * (gw[0]*p[0].Q + gw[1]*p[1].Q + gw[2]*p[2].Q + gw[3]*p[3].Q)
		u += w * (gw[0]*p[0].U + gw[1]*p[1].U + gw[2]*p[2].U + gw[3]*p[3].U)
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
