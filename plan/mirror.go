package plan

import (
	"math"

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
		k.AltDeg = 2 * int(math.Round(p.AltitudeDeg/2))
		return y.mirrorAt(k, p.AzimuthDeg).At
	}
	below := math.Floor(p.AltitudeDeg)
	k.AltDeg = int(below)
	low := y.mirrorAt(k, p.AzimuthDeg)
	part := p.AltitudeDeg - below
	if part == 0 {
		return low.At
	}
	k.AltDeg++
	high := y.mirrorAt(k, p.AzimuthDeg)
	return func(d r3.Vec) water.Stokes { return low.At(d).Times(1 - part).Plus(high.At(d).Times(part)) }
}

// mirrorAt returns the table of a key, which is made when it is first asked for.
func (y *analysis) mirrorAt(k light.MirrorKey, sunAzDeg float64) *water.Table {
	return y.mirrors.Get(k, func() *water.Table { return light.MirrorTableFor(y.s, k, y.fromM) }).Turned(sunAzDeg)
}

// shownBy returns what a leg's ground shows of the sky, as the meter reads it; nil where it shows nothing.
func (y *analysis) shownBy(l *legAnalysis, p sun.Position) light.Reflector {
	kind := light.ShownBy(l.Ground, l.Aim)
	if kind == light.NoMirror {
		return nil
	}
	k := light.MirrorKey{Kind: kind, Ground: l.Ground, AltDeg: 2 * int(math.Round(p.AltitudeDeg/2))}
	return y.mirrorAt(k, p.AzimuthDeg).At
}
