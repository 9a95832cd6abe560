package light

import (
	"math"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// MirrorTable holds what a ground mirrors, against direction, for one altitude of the sun: small,
// because the measures only need sums over the frame. The stations of a flight share a few of them.
type MirrorTable struct {
	cells [mirrorRows * mirrorCols]water.Stokes
}

type MirrorKey struct {
	Kind   MirrorKind
	Ground shot.Ground
	AltDeg int
}

// Rows are even in the square root of the depression, since most changes near the horizon; columns
// are even in azimuth, clockwise from the sun, over the half that the other one mirrors.
const (
	mirrorRows = 16
	mirrorCols = 19
	leastDip   = 0.004 // radians
)

func newMirrorTable(mirrored Reflector) *MirrorTable {
	t := new(MirrorTable)
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

// At looks a direction below the horizon up; sinA and cosA are those of the sun's azimuth.
func (t *MirrorTable) At(d r3.Vec, sinA, cosA float64) water.Stokes {
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

// MirrorTableFor makes the table of a key, seen from a height above the ground.
func MirrorTableFor(s *shot.Shot, k MirrorKey, aboveM float64) *MirrorTable {
	pattern := sun.NewPattern(0, float64(k.AltDeg), AirAt(s, max(0, aboveM), k.Ground), MeasureNM)
	return newMirrorTable(NewReflector(k.Kind, s.Light.WindMS, 0, skyRay(&pattern)))
}
