package light

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// lookPlain is [Scene.look] without tables, pseudo-angles or roots saved: the sky is asked for every
// direction, water mirrors it facet by facet, and polarisation is carried as Stokes components in the
// ray's own axes. It gives the luminance and the part that is polarised along t.
func lookPlain(sc *Scene, sky *sun.Sky, d, t r3.Vec) (lum, pol float64) {
	right, up := water.Axes(d)
	along := func(s water.Stokes) float64 { return 2*s.Passed(t, right, up) - s.I }
	polarised := func(lum, degree float64, e r3.Vec) water.Stokes {
		a, b := r3.Dot(e, right), r3.Dot(e, up)
		return water.Stokes{I: lum, Q: lum * degree * (a*a - b*b), U: 2 * lum * degree * a * b}
	}
	air := func(lum float64) water.Stokes { // of that luminance, polarised as airlight is
		e := r3.Cross(d, sc.dome.sunDir)
		if r3.Norm(e) < 1e-9 {
			return water.Stokes{I: lum}
		}
		return polarised(lum, sc.dulled*AirlightDegree(r3.Dot(d, sc.dome.sunDir), sc.perM*1000), r3.Unit(e))
	}
	dip := math.Acos(earthRadiusM / sc.Distance.radius)
	if math.Asin(d.Z) >= -dip {
		r := sky.At(d)
		s := polarised(r.Luminance, r.Degree, r.E)
		if w := math.Max(0, d.Z) / math.Sin(3*math.Pi/180); w < 1 {
			s = s.Times(w).Plus(air(r.Luminance).Times(1 - w))
		}
		return s.I, along(s)
	}
	lit := 0.0
	if sc.land.sunUp > 0 {
		lit = sc.land.relief.sunlit(r3.Dot(d, sc.SunDir), sc.land.sunUp)
	}
	s := water.Stokes{I: sc.land.sky.Luminance() + sc.land.sun.Luminance()*lit}
	if sc.cover > 0 {
		s = s.Plus(sc.surface.Reflect(d, sky.At).Times(sc.cover))
		if sc.SunSeen {
			s = s.Plus(sc.surface.Glint(d, sc.SunDir, sc.Light.DirectNormalLx).Times(sc.cover))
		}
	}
	// the sky's luminance at this angle to the sun, as bright as at the horizon or 3° above it
	glow := func(altDeg float64) float64 {
		z := sun.Direction(sc.Sun.AzimuthDeg, altDeg)
		return sky.Luminance(z) / sc.dome.pattern.Indicatrix(r3.Dot(z, sc.dome.sunDir)) * sc.dome.pattern.Indicatrix(r3.Dot(d, sc.dome.sunDir))
	}
	f := math.Min(1, (-d.Z-math.Sin(dip))/math.Sin(3*math.Pi/180))
	through := math.Exp(-sc.perM * sc.Distance.along(-d.Z))
	s = s.Times(through).Plus(air(glow(0) + f*(glow(3)-glow(0))).Times(1 - through))
	return s.I, along(s)
}

// The tables change nothing that could be seen: a fiftieth of a stop of light and a hundredth of loss,
// and nowhere more than a twentieth.
func TestFastFrameEqualsPlain(t *testing.T) {
	bag := kit.Generic()
	cpl, _ := bag.FilterByName("CPL")
	for _, c := range []struct {
		name           string
		ground         shot.Ground
		heading, pitch float64
		hour, cloud    float64
		wind           float64
	}{
		{"evening sea, sun abeam", shot.Water, 350, 0, 19, 0, 3},
		{"evening sea, into the sun", shot.Water, 260, -10, 19, 0, 3},
		{"still water, down", shot.Water, 30, -60, 19, 0, 0},
		{"straight down", shot.Water, 0, -90, 17, 0, 5},
		{"noon, cloud", shot.Water, 100, -20, 13, 40, 8},
		{"grass, away from the sun", shot.Grass, 80, -5, 18, 0, 3},
		{"leaves", shot.Forest, 200, -30, 16, 0, 3},
		{"after sunset", shot.Water, 300, 0, 21, 0, 3},
		{"overcast", shot.Rock, 300, -5, 15, 100, 3},
	} {
		s := plantest.SeaShot(c.ground, c.heading, c.pitch)
		s.TakeOff = s.TakeOff.Add(time.Duration((c.hour - 19) * float64(time.Hour)))
		s.Light.CloudPct, s.Light.WindMS = c.cloud, c.wind
		if c.cloud == 100 {
			s.Light.Sun = sun.Hidden
		}
		m := s.MomentAt(5)
		sc := SceneAt(s, m, 0)
		air := AirAt(s, math.Max(0, m.AboveM), c.ground)
		sky := sun.NewSky(m.Sun[0].AzimuthDeg, m.Sun[0].AltitudeDeg, air, 550, sc.Light.SkyLx)
		v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
		mount := cpl.Mount(40, 0)
		const w, h = 48, 27
		var lums, losses []float64
		for j := range h {
			for i := range w {
				local := v.Local((2*float64(i)+1-w)/w, (h-2*float64(j)-1)/h)
				d := v.World(local)
				if r3.Dot(d, sc.SunDir) > math.Cos(.02) {
					continue // the disc
				}
				a := mount.Answer(local)
				lum, pol := lookPlain(sc, sky, d, v.World(a.Pass))
				var g Seen
				sc.Look(&g, d, v.World(a.Pass), true, &Disc{cosEdge: 2})
				lums = append(lums, math.Abs(math.Log2(g.Luminance/lum)))
				losses = append(losses, math.Abs(math.Log2((1+a.D*g.Polarised/g.Luminance)/(1+a.D*pol/lum))))
			}
		}
		worstLum, worstLoss := slices.Max(lums), slices.Max(losses)
		typicalLum, typicalLoss := ninetyFive(lums), ninetyFive(losses)
		t.Logf("%-28s light %.4f (worst %.4f), loss %.4f (worst %.4f) stops", c.name, typicalLum, worstLum, typicalLoss, worstLoss)
		if typicalLum > .02 || typicalLoss > .01 || worstLum > .05 || worstLoss > .05 {
			t.Errorf("%s: the tables are off by %.4f stops of light (worst %.4f) and %.4f of loss (worst %.4f)", c.name, typicalLum, worstLum, typicalLoss, worstLoss)
		}
	}
}

func ninetyFive(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return x[len(x)*95/100]
}
