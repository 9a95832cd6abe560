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
//
// It serves until the memory's next one is asked for.
func (y *analysis) mirrorFor(l *legAnalysis, kind light.MirrorKind, p sun.Position) light.Reflector {
	k := light.MirrorKey{Kind: kind, Ground: l.Ground}
	if y.rough {
		k.AltDeg = evenDegree(p.AltitudeDeg)
		return y.mirrorAt(0, k, p.AzimuthDeg)
	}
	altDeg := max(0, p.AltitudeDeg)
	below := math.Floor(altDeg)
	k.AltDeg = int(below)
	at := y.mirrorAt(0, k, p.AzimuthDeg)
	if part := altDeg - below; part != 0 {
		m := y.memory.mirrors[0]
		k.AltDeg++
		m.part, m.high = part, light.MirrorTableFor(y.s, k, y.fromM).Turned(p.AzimuthDeg)
	}
	return at
}

// mirror is what a ground mirrors, between two tables. It is laid out again and again, and with it how it is asked.
type mirror struct {
	low, high water.Table
	part      float64 // of high
	at        light.Reflector
}

func (m *mirror) look(d r3.Vec) water.Stokes {
	if m.part == 0 {
		return m.low.At(d)
	}
	return m.low.At(d).Times(1 - m.part).Plus(m.high.At(d).Times(m.part))
}

// evenDegree returns the nearest even degree of the sun's altitude. A sun below the horizon lights the sky as one on it.
func evenDegree(altDeg float64) int { return 2 * int(math.Round(max(0, altDeg)/2)) }

// mirrorAt returns the light of the table of a key, turned to the sun, in one of the memory's mirrors.
func (y *analysis) mirrorAt(which int, k light.MirrorKey, sunAzDeg float64) light.Reflector {
	list := &y.ownMemory().mirrors
	m := list[which]
	if m == nil {
		m = new(mirror)
		m.at = m.look
		list[which] = m
	}
	m.low, m.part = light.MirrorTableFor(y.s, k, y.fromM).Turned(sunAzDeg), 0
	return m.at
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
	return y.mirrorAt(1, k, p.AzimuthDeg)
}
