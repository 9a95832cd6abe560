package plan

import (
	"math"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// mirrorFor returns the mirrored light of a leg for a place of the sun, its altitude rounded to a degree,
// or to two for the search of a ring.
func (y *analysis) mirrorFor(l *legAnalysis, kind light.MirrorKind, aboveM float64, p sun.Position) light.Reflector {
	step := 1.0
	if y.rough {
		step = 2
	}
	k := light.MirrorKey{Kind: kind, Ground: l.Ground, AltDeg: int(step * math.Round(p.AltitudeDeg/step))}
	t := y.mirrors[k]
	if t == nil {
		t = light.MirrorTableFor(y.s, k, aboveM)
		y.mirrors[k] = t
	}
	s, c := math.Sincos(p.AzimuthDeg * math.Pi / 180)
	return func(d r3.Vec) water.Stokes { return t.At(d, s, c) }
}
