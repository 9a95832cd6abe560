package frame

import (
	"math"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// FillAirlight fills the frame's samples below the horizon with the haze in front of them: weighed by
// the part that haze has in what is seen. E stands square to the plane through the sun. dulled is what
// cloud leaves of the polarisation.
func (f *Frame) FillAirlight(g *Grid, v shot.View, sunDir r3.Vec, aboveM, perKm, dulled float64) {
	f.Down, f.FirstDown = g, g.upTo[SkyRows(v)]
	f.Airlight = f.Room.stokes(len(g.d) - f.FirstDown)[:0]
	for i := f.FirstDown; i < len(g.d); i++ {
		d := v.World(g.d[i])
		km := light.FarthestKm
		if d.Z < 0 {
			km = min(km, aboveM/1000/-d.Z)
		}
		w := 1 - math.Exp(-perKm*km)
		c := r3.Dot(d, sunDir)
		p := water.Stokes{I: w}
		if n := r3.Cross(d, sunDir); r3.Norm2(n) > 1e-12 {
			e := r3.Unit(n)
			deg := dulled * light.AirlightDegree(c, perKm)
			a, b := r3.Dot(e, v.World(g.u1[i])), r3.Dot(e, v.World(g.u2[i]))
			p.Q, p.U = w*deg*(a*a-b*b), 2*w*deg*a*b
		}
		f.Airlight = append(f.Airlight, p)
	}
}
