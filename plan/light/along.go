package light

import (
	"math"

	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// sunRadius is that of the sun's disc in radians, which is 0.266° (from memory) and makes [water.SunSolidAngle].
const sunRadius = 4.65e-3

// Disc is the sun's disc as it is drawn: no smaller than a pixel, so that none falls between the
// middles of pixels, and with the light it has.
type Disc struct{ cosEdge, lum float64 }

// DiscFor returns the disc for pixels so wide, in radians; one that nothing falls on where the sun is not seen.
func (sc *Scene) DiscFor(pixel float64) Disc {
	if !sc.SunSeen {
		return Disc{cosEdge: 2}
	}
	r := math.Max(sunRadius, pixel*math.Sqrt2/2)
	return Disc{math.Cos(r), sc.Light.DirectNormalLx / (water.SunSolidAngle * r * r / (sunRadius * sunRadius))}
}

// Seen is the light from one direction: its luminance, the part that is polarised along the sheet's
// pass direction less that across it, and its colour, of that luminance.
type Seen struct {
	Luminance, Polarised, R, G, B float64
	Sky                           bool
}

// Look returns the light along d; t is the direction of E that a sheet passes, unit and square to d,
// and means something only with sheet. The answer is written in place: it is too large to be handed
// back in registers, and copying it costs as much as half the optics.
func (sc *Scene) Look(g *Seen, d, t r3.Vec, sheet bool, sun *Disc) {
	if r := sc.ridge; r != nil && d.Z < r.highest && d.Z > -r.foot {
		if top := r.at(d.X, d.Y); top > 0 && d.Z < top {
			sc.lookAtRidge(g, d, t, sheet)
			return
		}
	}
	if d.Z >= -sc.Distance.SinDip {
		sc.lookUp(g, d, t, sheet, sun)
	} else {
		sc.lookDown(g, d, t, sheet)
	}
}

// BehindRidge tells whether the card's skyline stands before what lies along d.
func (sc *Scene) BehindRidge(d r3.Vec) bool {
	r := sc.ridge
	return r != nil && d.Z < r.at(d.X, d.Y)
}

func (sc *Scene) lookUp(g *Seen, d, t r3.Vec, sheet bool, sun *Disc) {
	dome := sc.dome
	c := dot(d, dome.sunDir)
	gr, gg, gb, air := dome.around(c)
	fr, fg, fb := dome.up(d.Z)
	lum := gg * fg
	g.Sky, g.Luminance, g.Polarised = true, lum, 0
	g.R, g.G, g.B = levelled(gr*fr, lum, gb*fb)
	if sheet {
		cos2, _ := dome.quick.Stokes(d, t, r3.Cross(t, d))
		if d.Z < sinAirlight { // the air low down is that in front of the land
			w := max(0, d.Z) / sinAirlight
			cos2 = w*cos2 + (1-w)*air*square(d, t, dome.sunDir, c)
		}
		g.Polarised = lum * cos2
	}
	if dot(d, sc.SunDir) > sun.cosEdge {
		g.add(sun.lum, &sc.land.sunTint)
	}
}

// square returns 2(t·e)² − 1 for E square to the plane of d and s, times the squared sine of the angle
// between the two, whose cosine is c.
func square(d, t, s r3.Vec, c float64) float64 {
	e := t.X*(d.Y*s.Z-d.Z*s.Y) + t.Y*(d.Z*s.X-d.X*s.Z) + t.Z*(d.X*s.Y-d.Y*s.X)
	return 2*e*e - (1 - c*c)
}

func (g *Seen) add(lum float64, tint *RGB) {
	g.Luminance += lum
	g.R += lum * tint[0]
	g.G += lum * tint[1]
	g.B += lum * tint[2]
}

// addAirlight puts air in front of what is seen, of which it leaves the part through. Its light is that of an
// endless way through the air at the angle to the sun along d, with the brightness that the sky has a
// little above the horizon; at the horizon itself, where f is 0, it is the sky's own, so that there is
// no seam.
//
// Looking straight down it must not matter from which side: therefore the angle to the sun is that
// of the ray itself, not that of the sky above it.
func (sc *Scene) addAirlight(g *Seen, d, t r3.Vec, sheet bool, through, f float64) {
	dome, a := sc.dome, 1-through
	c := dot(d, dome.sunDir)
	r, lum, b, deg := dome.around(c)
	lum *= dome.low[1] + f*(dome.high[1]-dome.low[1])
	r, green, b := levelled(r*(dome.low[0]+f*(dome.high[0]-dome.low[0])), lum, b*(dome.low[2]+f*(dome.high[2]-dome.low[2])))
	g.Luminance = g.Luminance*through + lum*a
	g.R, g.G, g.B = g.R*through+r*a, g.G*through+green*a, g.B*through+b*a
	if sheet {
		g.Polarised = g.Polarised*through + a*lum*deg*square(d, t, dome.sunDir, c)
	}
}

func (sc *Scene) lookAtRidge(g *Seen, d, t r3.Vec, sheet bool) {
	r := sc.ridge
	lit := r.facing(dot(d, sc.SunDir), sc.land.sunUp)
	g.Sky, g.Polarised = false, 0
	g.R, g.G, g.B = r.sky[0]+r.sun[0]*lit, r.sky[1]+r.sun[1]*lit, r.sky[2]+r.sun[2]*lit
	g.Luminance = redPart*g.R + greenPart*g.G + bluePart*g.B
	sc.addAirlight(g, d, t, sheet, r.transmittance, 1)
}

func (sc *Scene) lookDown(g *Seen, d, t r3.Vec, sheet bool) {
	down := -d.Z
	c := dot(d, sc.SunDir)
	land := &sc.land
	lit := 0.0
	if land.sunUp > 0 {
		lit = land.relief.sunlit(c, land.sunUp)
	}
	g.Sky, g.Polarised = false, 0
	g.R, g.G, g.B = land.sky[0]+land.sun[0]*lit, land.sky[1]+land.sun[1]*lit, land.sky[2]+land.sun[2]*lit
	g.Luminance = redPart*g.R + greenPart*g.G + bluePart*g.B
	if sc.mirror != nil {
		sc.mirrored(g, d, t, sheet, c)
	}
	f := min(1, (down-sc.Distance.SinDip)/sinAirlight)
	sc.addAirlight(g, d, t, sheet, sc.Distance.through(sc.perM, down), f)
}

// mirrored adds the sky and the sun off a surface.
func (sc *Scene) mirrored(g *Seen, d, t r3.Vec, sheet bool, cosSun float64) {
	down, dx, dy := -d.Z, d.X, d.Y
	level := math.Sqrt(dx*dx + dy*dy)
	// the sheet's pass direction in the axes of the ray: level, and upright
	var a, b float64
	if level < 1e-9 { // straight down the azimuth is lost; the axes are those of a northern one
		dx, dy, level = 0, 1e-9, 1e-9
		a, b = t.X, t.Y
	} else {
		a, b = (dy*t.X-dx*t.Y)/level, t.Z/level
	}
	i, q, u := sc.mirror.Look(dx*sc.sinA+dy*sc.cosA, dx*sc.cosA-dy*sc.sinA, level, down)

	// the mirrored sky has the colour that a level mirror would show
	dome := sc.dome
	mr, mg, mb, _ := dome.around(dot(d, dome.sunDir) + 2*down*dome.sunDir.Z)
	fr, fg, fb := dome.up(down)
	if mg *= fg; mg > 0 {
		r, green, b := levelled(mr*fr, mg, mb*fb)
		lum := sc.cover * i
		k := lum / mg
		g.Luminance += lum
		g.R, g.G, g.B = g.R+r*k, g.G+green*k, g.B+b*k
	}
	var glint, glintPol float64
	if sc.SunSeen {
		glint, glintPol = sc.surface.GlintParts(down, sc.SunDir.Z, cosSun, sc.Light.DirectNormalLx)
	}
	if glint > 0 {
		g.add(sc.cover*glint, &sc.land.sunTint)
	}
	if sheet {
		g.Polarised = sc.cover * (q*(a*a-b*b) + 2*u*a*b)
		if glint > 0 && cosSun*cosSun < 1-1e-9 {
			g.Polarised += sc.cover * glintPol * square(d, t, sc.SunDir, cosSun) / (1 - cosSun*cosSun)
		}
	}
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
