package plan

import (
	"math"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// mirrorTable holds what a ground mirrors, against direction, for one altitude of the sun: small,
// because the measures only need sums over the frame. The stations of a flight share a few of them.
type mirrorTable struct {
	cells [mirrorRows * mirrorCols]water.Stokes
}

type mirrorKey struct {
	kind   mirror
	ground shot.Ground
	altDeg int
}

// Rows are even in the square root of the depression, since most changes near the horizon; columns
// are even in azimuth, clockwise from the sun, over the half that the other one mirrors.
const (
	mirrorRows = 16
	mirrorCols = 19
	leastDip   = 0.004 // radians
)

func newMirrorTable(mirrored reflector) *mirrorTable {
	t := new(mirrorTable)
	for i := range mirrorRows {
		f := float64(i) / (mirrorRows - 1)
		sd, cd := math.Sincos(leastDip + f*f*(math.Pi/2-2*leastDip))
		for j := range mirrorCols {
			sa, ca := math.Sincos(float64(j) * math.Pi / (mirrorCols - 1))
			t.cells[i*mirrorCols+j] = mirrored(r3.Vec{X: cd * sa, Y: cd * ca, Z: -sd})
		}
	}
	return t
}

// at looks a direction below the horizon up; sinA and cosA are those of the sun's azimuth.
func (t *mirrorTable) at(d r3.Vec, sinA, cosA float64) water.Stokes {
	dip := math.Asin(min(1, max(0, -d.Z)))
	f := math.Sqrt(max(0, (dip-leastDip)/(math.Pi/2-2*leastDip))) * (mirrorRows - 1)
	i := min(mirrorRows-2, int(f))
	f = min(1, f-float64(i))
	x, y := d.X, d.Y
	if x*x+y*y < 1e-18 {
		x, y = 0, 1 // straight down: as water.Axes takes it
	}
	across, along := x*cosA-y*sinA, x*sinA+y*cosA
	g := math.Atan2(math.Abs(across), along) * (mirrorCols - 1) / math.Pi
	j := min(mirrorCols-2, int(g))
	g -= float64(j)
	a, b := &t.cells[i*mirrorCols+j], &t.cells[i*mirrorCols+j+1]
	c, e := &t.cells[(i+1)*mirrorCols+j], &t.cells[(i+1)*mirrorCols+j+1]
	wa, wb, wc, we := (1-f)*(1-g), (1-f)*g, f*(1-g), f*g
	u := a.U*wa + b.U*wb + c.U*wc + e.U*we
	if across < 0 {
		u = -u
	}
	return water.Stokes{
		I: a.I*wa + b.I*wb + c.I*wc + e.I*we,
		Q: a.Q*wa + b.Q*wb + c.Q*wc + e.Q*we,
		U: u,
	}
}

// mirrorFor gives the mirrored light of a leg for a place of the sun, its altitude rounded to a degree,
// or to two for the search of a ring.
func (y *study) mirrorFor(l *legStudy, kind mirror, aboveM float64, p sun.Position) reflector {
	step := 1.0
	if y.rough {
		step = 2
	}
	k := mirrorKey{kind, l.Ground, int(step * math.Round(p.AltitudeDeg/step))}
	t := y.mirrors[k]
	if t == nil {
		t = mirrorTableAt(y.s, k, aboveM)
		y.mirrors[k] = t
	}
	s, c := math.Sincos(p.AzimuthDeg * math.Pi / 180)
	return func(d r3.Vec) water.Stokes { return t.at(d, s, c) }
}

// mirrorTableAt makes the table of a key, seen from a height above the ground.
func mirrorTableAt(s *shot.Shot, k mirrorKey, aboveM float64) *mirrorTable {
	pattern := sun.NewPattern(0, float64(k.altDeg), AirAt(s, max(0, aboveM), k.ground), measureNM)
	return newMirrorTable(newReflector(k.kind, s.Light.WindMS, 0, skyRay(&pattern)))
}
