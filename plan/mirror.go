package plan

import (
	"math"

	"example.org/skywedge/plan/internal/piece"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// mirrorFor returns the mirrored light of a leg for a place of the sun, between the tables of the whole
// degrees of altitude below and above it: the nearest one alone leaves .012 of the glare cut. The search
// of a ring takes the nearest of every other degree.
func (y *analysis) mirrorFor(l *legAnalysis, kind light.MirrorKind, p sun.Position) light.Reflector {
	k := light.MirrorKey{Kind: kind, Ground: l.Ground}
	if y.rough {
		k.AltDeg = evenDegree(p.AltitudeDeg)
		return y.mirrorAt(k, p.AzimuthDeg).At
	}
	altDeg := max(0, p.AltitudeDeg)
	below := math.Floor(altDeg)
	k.AltDeg = int(below)
	low := y.mirrorAt(k, p.AzimuthDeg)
	part := altDeg - below
	if part == 0 {
		return low.At
	}
	k.AltDeg++
	high := y.mirrorAt(k, p.AzimuthDeg)
	return func(d r3.Vec) water.Stokes { return low.At(d).Times(1 - part).Plus(high.At(d).Times(part)) }
}

// evenDegree returns the nearest even degree of the sun's altitude. A sun below the horizon lights the sky as one on it.
func evenDegree(altDeg float64) int { return 2 * int(math.Round(max(0, altDeg)/2)) }

// mirrorAt returns the table of a key, turned to the sun.
func (y *analysis) mirrorAt(k light.MirrorKey, sunAzDeg float64) *water.Table {
	t := piece.One(&y.ownMemory().turned, pieceOf)
	*t = light.MirrorTableFor(y.s, k, y.fromM).Turned(sunAzDeg)
	return t
}

// shownBy returns what a leg's ground shows of the sky, as the meter reads it; nil where it shows nothing. For a single
// frame a table is not worth while, unless many hours will ask for it.
func (y *analysis) shownBy(l *legAnalysis, p sun.Position, pattern *sun.Pattern) light.Reflector {
	kind := light.ShownBy(l.Ground, l.Aim)
	if kind == light.NoMirror {
		return nil
	}
	if y.single {
		return light.MirroredAt(kind, l.Ground, y.s.Light.WindMS, p, pattern)
	}
	k := light.MirrorKey{Kind: kind, Ground: l.Ground, AltDeg: evenDegree(p.AltitudeDeg)}
	return y.mirrorAt(k, p.AzimuthDeg).At
}
