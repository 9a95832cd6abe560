package plan

import (
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// partly is partly polarised light in the basis of a sample: intensity and Stokes parameters, not
// divided by the intensity.
type partly struct{ i, q, u float64 }

// leafIndex is the refractive index of the waxy skin of a leaf (from memory).
const leafIndex = 1.5

// mirror tells what a leg's ground mirrors the sky with.
type mirror int

const (
	noMirror  mirror = iota
	openWater        // roughened by the wind
	wetGround        // a film of water: as flat as the ground
	levelLeaf        // the skin of a leaf that lies level
)

// mirrorOf gives what a ground mirrors the sky with, as far as a leg is about that. The aim says what the
// ground cannot: that a street is wet, or that the sheen of leaves matters. Water runs off leaves: those
// keep their own sheen.
func mirrorOf(g Ground, a Aim) mirror {
	wet := a == AimWater || a == AimKeep
	switch {
	case g == Water:
		return openWater
	case a == AimLeaf, wet && (g == Grass || g == Forest):
		return levelLeaf
	case wet && g != Snow:
		return wetGround
	}
	return noMirror
}

// reflector gives the mirrored light of the sky towards a camera that looks along d.
type reflector func(d r3.Vec) water.Stokes

// downThinnings are the grids below the horizon, and enoughBelow the samples that one must keep there:
// a share of the light summed over the frame needs fewer of them than percentiles do
// (TestThinGlareAgrees).
var downThinnings = [...]int{24, 12, 6, 3, 1}

const enoughBelow = 40

// downThinningFor gives the thinnest grid that keeps enough samples below so many rows of sky.
func downThinningFor(skyRows int) int {
	for _, m := range downThinnings {
		if (gridH-skyRows)*gridW >= enoughBelow*m {
			return m
		}
	}
	return 1
}

// lookDown fills the frame's samples below the horizon with what they mirror.
func (f *frame) lookDown(g *grid, v View, mirrored reflector) {
	f.down, f.first = g, g.upTo[skyRows(v)]
	f.below = make([]partly, 0, len(g.d)-f.first)
	for i := f.first; i < len(g.d); i++ {
		d := v.World(g.d[i])
		if d.Z >= 0 {
			f.below = append(f.below, partly{})
			continue
		}
		s := mirrored(d)
		right, up := water.Axes(d)
		q, u := turned(s.Q, s.U, right, up, v.World(g.u1[i]), v.World(g.u2[i]))
		f.below = append(f.below, partly{s.I, q, u})
	}
}

// turned takes Stokes parameters from the basis right, up into the basis u1, u2 of the same ray. The
// polarised part of the light is the tensor Q(rr−vv) + U(rv+vr), which knows no handedness.
func turned(q, u float64, right, up, u1, u2 r3.Vec) (q1, u1u2 float64) {
	r1, r2 := r3.Dot(right, u1), r3.Dot(right, u2)
	v1, v2 := r3.Dot(up, u1), r3.Dot(up, u2)
	return q*(r1*r1-v1*v1) + 2*u*r1*v1, q*(r1*r2-v1*v2) + u*(r1*v2+v1*r2)
}

// cut adds up what a sheet takes from partly polarised light beyond what a density of the same loss
// would take, and the light itself: the share taken is taken/of, 1 all gone, 0 like a density,
// negative brighter. The light begins at sample first of the grid that the sheet was made for.
func cut(light []partly, first int, s *sheet) (taken, of float64) {
	at := first - s.base
	c, z := s.c[at:at+len(light)], s.s[at:at+len(light)]
	for i, l := range light {
		taken -= c[i]*l.q + z[i]*l.u
		of += l.i
	}
	return taken, of
}
