package plan

import (
	"example.org/skywedge/plan/light"
	"example.org/skywedge/sun"
)

// mirrorFor returns the mirrored light of a leg for a place of the sun. It serves until the memory's next one is asked for.
func (y *analysis) mirrorFor(l *legAnalysis, kind light.MirrorKind, p sun.Position) light.Reflector {
	return light.MirrorFor(&y.ownMemory().mirrors[0], y.s, kind, l.Ground, p, y.fromM)
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
	return light.MirrorFor(&y.ownMemory().mirrors[1], y.s, kind, l.Ground, p, y.fromM)
}
