package plan

import (
	"math"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// lookThrough fills the frame's samples below the horizon with the haze in front of them: weighed by
// the part that haze has in what is seen. E stands square to the plane through the sun. dulled is what
// cloud leaves of the polarisation.
func (f *frame) lookThrough(g *grid, v shot.View, sunDir r3.Vec, aboveM, perKm, dulled float64) {
	f.down, f.first = g, g.upTo[skyRows(v)]
	f.veil = make([]partly, 0, len(g.d)-f.first)
	for i := f.first; i < len(g.d); i++ {
		d := v.World(g.d[i])
		km := light.FarthestKm
		if d.Z < 0 {
			km = min(km, aboveM/1000/-d.Z)
		}
		w := 1 - math.Exp(-perKm*km)
		c := r3.Dot(d, sunDir)
		p := partly{i: w}
		if n := r3.Cross(d, sunDir); r3.Norm2(n) > 1e-12 {
			e := r3.Unit(n)
			deg := dulled * light.AirlightDegree(c, perKm)
			a, b := r3.Dot(e, v.World(g.u1[i])), r3.Dot(e, v.World(g.u2[i]))
			p.q, p.u = w*deg*(a*a-b*b), 2*w*deg*a*b
		}
		f.veil = append(f.veil, p)
	}
}
