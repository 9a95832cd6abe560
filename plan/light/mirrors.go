package light

import (
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
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

// Reflector returns the mirrored light of the sky towards a camera that looks along d.
type Reflector func(d r3.Vec) water.Stokes

// NewReflector makes the mirror of a leg for one place of the sun.
func NewReflector(m MirrorKind, windMS, sunAzDeg float64, sky water.Sky) Reflector {
	up := r3.Vec{Z: 1}
	switch m {
	case OpenWater:
		s := water.NewSurface(windMS, sunAzDeg)
		return func(d r3.Vec) water.Stokes { return s.Reflect(d, sky) }
	case WetGround:
		return func(d r3.Vec) water.Stokes { return water.Facet(d, up, water.Index, sky) }
	case levelLeaf:
		return func(d r3.Vec) water.Stokes { return water.Facet(d, up, leafIndex, sky) }
	}
	return nil
}

// skyRay returns a pattern's light from a direction with its relative radiance for a luminance, which
// is all that a share of the glare needs.
func skyRay(p *sun.Pattern) water.Sky {
	return func(d r3.Vec) sun.Ray {
		degree, e := p.Polarisation(d)
		return sun.Ray{Luminance: p.Radiance(d), Degree: degree, E: e}
	}
}
