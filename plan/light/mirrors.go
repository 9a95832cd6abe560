package light

import (
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// leafIndex is the refractive index of the waxy skin of a leaf (from memory).
const leafIndex = 1.5

// MirrorKind tells what a leg's ground mirrors the sky with.
type MirrorKind int

const (
	NoMirror  MirrorKind = iota
	OpenWater            // roughened by the wind
	WetGround            // a film of water: as flat as the ground
	levelLeaf            // the skin of a leaf that lies level
	sheenOnly            // what shines without anybody asking after it: leaves and rock
)

// MirrorOf returns what a ground mirrors the sky with, as far as a leg is about that. The aim says what the
// ground cannot: that a street is wet, or that the sheen of leaves matters. Water runs off leaves: those
// keep their own sheen.
func MirrorOf(g shot.Ground, a shot.Aim) MirrorKind {
	wet := a == shot.AimWater || a == shot.AimKeep
	switch {
	case g == shot.Water:
		return OpenWater
	case a == shot.AimLeaf, wet && (g == shot.Grass || g == shot.Forest):
		return levelLeaf
	case wet && g != shot.Snow:
		return WetGround
	}
	return NoMirror
}

// ShownBy returns what a ground shows of the sky, whether or not a leg is about that.
func ShownBy(g shot.Ground, a shot.Aim) MirrorKind {
	kind := MirrorOf(g, a)
	switch {
	case kind == levelLeaf, kind == NoMirror && sheenOf(g, a).cover > 0:
		return sheenOnly
	}
	return kind
}

// Reflector returns the mirrored light of the sky towards a camera that looks along d.
type Reflector func(d r3.Vec) water.Stokes

// surface returns what mirrors, laid out for a sun at an azimuth.
func (m MirrorKind) surface(g shot.Ground, windMS, sunAzDeg float64) water.Surface {
	switch m {
	case OpenWater:
		return water.NewSurface(windMS, sunAzDeg)
	case levelLeaf:
		return water.NewRough(0, leafIndex, sunAzDeg)
	case sheenOnly:
		return sheenOf(g, shot.AimSky).surface(g, windMS, sunAzDeg)
	}
	return water.NewRough(0, water.Index, sunAzDeg)
}
