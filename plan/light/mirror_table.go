package light

import (
	"example.org/skywedge/plan/internal/once"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// MirrorKey is what a table of the mirrored light depends on, beside the weather. The samples of a
// flight share a few of them.
type MirrorKey struct {
	Kind   MirrorKind
	Ground shot.Ground
	AltDeg int // of the sun; a sun below the horizon lights the sky as one on it
}

// MirroredAt returns the mirrored light of one moment ray by ray, without a table: that costs more than a hundred rays do.
func MirroredAt(kind MirrorKind, g shot.Ground, windMS float64, p sun.Position, pattern *sun.Pattern) Reflector {
	surface := kind.surface(g, windMS, p.AzimuthDeg)
	sky := func(d, u1, u2 r3.Vec) (luminance, cos2, sin2 float64) {
		cos2, sin2 = pattern.Stokes(d, u1, u2)
		return pattern.Radiance(d), cos2, sin2
	}
	return func(d r3.Vec) water.Stokes { return surface.Mirrored(d, sky) }
}

// tableKey is all that a table depends on.
type tableKey struct {
	MirrorKey
	air    sun.Air
	windMS float64
}

// mostTables is how many tables are kept for as long as the program runs: 9 MB. A year of one place asks for thirty of each
// ground (ours).
const mostTables = 256

var tables = once.Most[tableKey, *water.Table](mostTables)

// MirrorTableFor returns the table of a key, seen from a height above the ground, for a sun in the north. It is made when it
// is first asked for, and is the same one for every shot in the same air and wind.
func MirrorTableFor(s *shot.Shot, k MirrorKey, aboveM float64) *water.Table {
	key := tableKey{k, AirAt(s, max(0, aboveM), k.Ground), s.Light.WindMS}
	return tables.Get(key, func() *water.Table {
		pattern := sun.NewPattern(0, float64(k.AltDeg), key.air, MeasureNM)
		surface := k.Kind.surface(k.Ground, key.windMS, 0)
		return water.NewTable(&surface, pattern.Quick().Light)
	})
}

// ForgetMirrors gives back the tables that are kept.
func ForgetMirrors() { tables.Forget() }

// Mirror is what a ground mirrors, by one table or between two. It is laid out again and again, and answers for what it was laid
// out for last. The zero value is ready; it must not be copied.
type Mirror struct {
	low, high water.Table
	part      float64 // of high
	at        Reflector
}

// MirrorStepDeg is how far the tables lie apart in the sun's altitude that what is mirrored is taken between: a glare cut is
// off by as much as with tables a degree apart (TestTableCutsLikeTheFacets).
const MirrorStepDeg = 3

// MirrorFor lays out in m what a ground mirrors for a place of the sun, seen from a height above the ground.
func MirrorFor(m *Mirror, s *shot.Shot, kind MirrorKind, g shot.Ground, p sun.Position, aboveM float64) Reflector {
	altDeg := max(0, p.AltitudeDeg)
	k := MirrorKey{kind, g, int(altDeg/MirrorStepDeg) * MirrorStepDeg}
	m.low, m.part = MirrorTableFor(s, k, aboveM).Turned(p.AzimuthDeg), (altDeg-float64(k.AltDeg))/MirrorStepDeg
	if m.part > 0 {
		k.AltDeg += MirrorStepDeg
		m.high = MirrorTableFor(s, k, aboveM).Turned(p.AzimuthDeg)
	}
	if m.at == nil {
		m.at = m.look
	}
	return m.at
}

func (m *Mirror) look(d r3.Vec) water.Stokes {
	if m.part == 0 {
		return m.low.At(d)
	}
	return m.low.Between(&m.high, m.part, d)
}
