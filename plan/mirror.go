package plan

import (
	"math"

	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// mirrorKey is what a table of the mirrored light depends on, beside the weather. The samples of a
// flight share a few of them.
type mirrorKey struct {
	kind   mirror
	ground Ground
	altDeg int
}

// mirrorFor returns the mirrored light of a leg for a place of the sun, between the tables of the whole
// degrees of altitude below and above it: the nearest one alone leaves .012 of the glare cut. The search
// of a ring takes the nearest of every other degree.
func (y *study) mirrorFor(l *legStudy, kind mirror, aboveM float64, p sun.Position) reflector {
	if y.rough {
		return y.mirrorAt(mirrorKey{kind, l.Ground, 2 * int(math.Round(p.AltitudeDeg/2))}, aboveM, p.AzimuthDeg).At
	}
	below := math.Floor(p.AltitudeDeg)
	k := mirrorKey{kind, l.Ground, int(below)}
	low := y.mirrorAt(k, aboveM, p.AzimuthDeg)
	part := p.AltitudeDeg - below
	if part == 0 {
		return low.At
	}
	k.altDeg++
	high := y.mirrorAt(k, aboveM, p.AzimuthDeg)
	return func(d r3.Vec) water.Stokes { return low.At(d).Times(1 - part).Plus(high.At(d).Times(part)) }
}

// mirrorAt returns the table of a key, which is made when it is first asked for.
func (y *study) mirrorAt(k mirrorKey, aboveM, sunAzDeg float64) *water.Table {
	t := y.mirrors[k]
	if t == nil {
		t = y.s.mirrorTableAt(k, aboveM)
		y.mirrors[k] = t
	}
	return t.Turned(sunAzDeg)
}

// mirrorTableAt makes the table of a key, seen from a height above the ground.
func (s *Shot) mirrorTableAt(k mirrorKey, aboveM float64) *water.Table {
	pattern := sun.NewPattern(0, float64(k.altDeg), s.AirAt(max(0, aboveM), k.ground), measureNM)
	surface := k.kind.surface(s.Light.WindMS)
	return water.NewTable(&surface, quickLight(&pattern, float64(k.altDeg)))
}

// surface returns what mirrors, laid out for a sun in the north.
func (m mirror) surface(windMS float64) water.Surface {
	switch m {
	case openWater:
		return water.NewSurface(windMS, 0)
	case levelLeaf:
		return water.NewRough(0, leafIndex, 0)
	}
	return water.NewRough(0, water.Index, 0)
}

// quickLight returns the light of a pattern, made for a sun in the north, with its relative radiance for a luminance, which is all that a
// share of the glare needs. The two factors of the radiance are tabulated: a mirror asks for them more
// than ten thousand times.
func quickLight(p *sun.Pattern, sunAltDeg float64) water.Light {
	var glow [glowSteps + 2]float64
	var fill [fillSteps + 2]float64
	for i := range glow {
		v := float64(i) / glowScale
		glow[i] = p.Glow(max(-1, 1-v*v))
	}
	for i := range fill {
		fill[i] = p.Fill(min(1, float64(i*i)/(fillSteps*fillSteps)))
	}
	toSun := sun.Direction(0, max(0, sunAltDeg)) // as the pattern takes a sun that is down
	return func(d, u1, u2 r3.Vec) (luminance, cos2, sin2 float64) {
		v := math.Sqrt(max(0, 1-dot(d, toSun))) * glowScale
		i := min(int(v), glowSteps)
		z := math.Sqrt(max(0, min(1, d.Z))) * fillSteps
		j := int(z)
		cos2, sin2 = p.Stokes(d, u1, u2)
		v, z = v-float64(i), z-float64(j)
		return (glow[i] + v*(glow[i+1]-glow[i])) * (fill[j] + z*(fill[j+1]-fill[j])), cos2, sin2
	}
}
