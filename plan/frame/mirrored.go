package frame

import (
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// downThinnings are the grids below the horizon, and enoughBelow the samples that one must keep there:
// a share of the light summed over the frame needs fewer of them than percentiles do
// (TestThinGlareAgrees).
var downThinnings = [...]int{24, 12, 6, 3, 1}

const enoughBelow = 40

// DownThinningFor returns the thinnest grid that keeps enough samples below so many rows of sky.
func DownThinningFor(skyRows int) int { return DownThinning(skyRows, enoughBelow) }

// DownThinning returns the thinnest grid that keeps a count of samples below so many rows of sky.
func DownThinning(skyRows, samples int) int {
	for _, m := range downThinnings {
		if (GridH-skyRows)*GridW >= samples*m {
			return m
		}
	}
	return 1
}

// FillMirrored fills the frame's samples below the horizon with what they mirror.
func (f *Frame) FillMirrored(g *Grid, v shot.View, mirrored light.Reflector) {
	f.Down, f.FirstDown = g, g.upTo[SkyRows(v)]
	f.Mirrored = f.Room.stokes(len(g.d) - f.FirstDown)[:0]
	for i := f.FirstDown; i < len(g.d); i++ {
		d := v.World(g.d[i])
		if d.Z >= 0 {
			f.Mirrored = append(f.Mirrored, water.Stokes{})
			continue
		}
		s := mirrored(d)
		right, up := water.Axes(d)
		q, u := turned(s.Q, s.U, right, up, v.World(g.u1[i]), v.World(g.u2[i]))
		f.Mirrored = append(f.Mirrored, water.Stokes{I: s.I, Q: q, U: u})
	}
}

// turned takes Stokes parameters from the basis right, up into the basis u1, u2 of the same ray. The
// polarised part of the light is the tensor Q(rr−vv) + U(rv+vr), which knows no handedness.
func turned(q, u float64, right, up, u1, u2 r3.Vec) (q1, u1u2 float64) {
	r1, r2 := r3.Dot(right, u1), r3.Dot(right, u2)
	v1, v2 := r3.Dot(up, u1), r3.Dot(up, u2)
	return q*(r1*r1-v1*v1) + 2*u*r1*v1, q*(r1*r2-v1*v2) + u*(r1*v2+v1*r2)
}

// Cut adds up what a sheet takes from partly polarised light beyond what a density of the same loss
// would take, and the light itself: the share taken is taken/of, 1 all gone, 0 like a density,
// negative brighter. The light begins at sample first of the grid that the sheet was made for.
func Cut(light []water.Stokes, first int, s *Answers) (taken, of float64) {
	at := first - s.base
	c, z := s.c[at:at+len(light)], s.s[at:at+len(light)]
	for i, l := range light {
		taken -= c[i]*l.Q + z[i]*l.U
		of += l.I
	}
	return taken, of
}
