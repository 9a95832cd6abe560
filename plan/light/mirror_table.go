package light

import (
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

// MirrorTableFor makes the table of a key, seen from a height above the ground, for a sun in the north.
func MirrorTableFor(s *shot.Shot, k MirrorKey, aboveM float64) *water.Table {
	pattern := sun.NewPattern(0, float64(k.AltDeg), AirAt(s, max(0, aboveM), k.Ground), MeasureNM)
	surface := k.Kind.surface(k.Ground, s.Light.WindMS, 0)
	return water.NewTable(&surface, pattern.Quick().Light)
}
