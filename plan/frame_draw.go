package plan

import (
	"context"
	"math"
	"runtime"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// sunRadius is that of the sun's disc in radians, which is 0.266° (from memory) and makes [water.SunSolidAngle].
const sunRadius = 4.65e-3

// draw looks along the middle of every pixel. What a pixel costs is two roots and three table look-ups
// in the sky, one exponential more on the ground (BenchmarkFrame160x90 for the figure); lookPlain in
// the tests is the same without tables. A large picture is shared among the cores.
func (sc *Scene) draw(v shot.View, mount *kit.Mount, w, h int) *Picture {
	n := w * h
	p := &Picture{W: w, H: h, Bare: make([]float64, n), Loss: make([]float64, n), Sky: make([]bool, n),
		Colour: make([][3]float32, n), Horizon: make([]float64, w)}
	sc.marks(p, v)
	inBands(w, h, func(from, to int) { sc.drawRows(p, v, mount, from, to) })
	return p
}

// A picture is drawn in bands of so many rows, by as many workers as there are cores and pictures of
// workerPixels in it: a worker costs some microseconds, so many pixels a third of a millisecond (ours).
const (
	bandRows     = 4
	workerPixels = 1 << 12
)

// inBands calls work for bands of rows that together are the picture. What breaks in one of them breaks
// here, where the caller can catch it.
func inBands(w, h int, work func(from, to int)) {
	bands := (h + bandRows - 1) / bandRows
	workers := min(bands, runtime.GOMAXPROCS(0), 1+w*h/workerPixels)
	if workers < 2 {
		work(0, h)
		return
	}
	err := parallel.Do(context.Background(), workers, bands, nil, func() func(int) {
		return func(i int) { work(i*bandRows, min(h, (i+1)*bandRows)) }
	})
	if err != nil {
		panic(err)
	}
}

func (sc *Scene) drawRows(p *Picture, v shot.View, mount *kit.Mount, from, to int) {
	w, h := p.W, p.H
	disc := sc.discFor(2 * v.HalfWidth / float64(w))
	var g glance
	for j := from; j < to; j++ {
		y := (float64(h) - 2*float64(j) - 1) / float64(h) * v.HalfHeight
		for i := range w {
			x := (2*float64(i) + 1 - float64(w)) / float64(w) * v.HalfWidth
			f := 1 / math.Sqrt(1+x*x+y*y)
			local := r3.Vec{X: x * f, Y: y * f, Z: f}
			d := v.World(local)
			var trans, dia float64
			var pass r3.Vec
			if mount != nil {
				if trans, dia, pass = mount.Parts(local); dia > 0 {
					pass = v.World(pass)
				}
			}
			sc.look(&g, d, pass, dia > 0, &disc)
			k := j*w + i
			p.Bare[k], p.Sky[k] = g.lum, g.sky
			p.Colour[k] = [3]float32{float32(g.r), float32(g.g), float32(g.b)}
			if mount != nil && g.lum > 0 {
				p.Loss[k] = -fastlog.Log2(max(trans*(1+dia*g.pol/g.lum), 1e-9))
			}
		}
	}
}

// marks notes where things stand in the picture.
func (sc *Scene) marks(p *Picture, v shot.View) {
	spot := func(d r3.Vec) (s FramePoint) {
		if x, y, in := v.Frames(d); in {
			s = FramePoint{x, y, true}
		}
		return s
	}
	if sc.sunDir.Z > 0 {
		s := spot(sc.sunDir)
		p.SunX, p.SunY, p.SunIn = s.X, s.Y, s.In
	}
	if sc.disc {
		p.Shadow = spot(r3.Scale(-1, sc.sunDir))
		if sc.glints { // what is rougher than water has no glint, only a sheen
			p.Mirror = spot(r3.Vec{X: sc.sunDir.X, Y: sc.sunDir.Y, Z: -sc.sunDir.Z})
		}
	}
	for i := range p.Horizon {
		x := (2*float64(i) + 1 - float64(p.W)) / float64(p.W)
		p.Horizon[i] = horizonY(v, x, sc.distance.sinDip)
	}
}

// horizonY gives the height of the horizon in a column of the picture. The camera never rolls, but a
// horizon below level is a shallow arc. It may lie outside −1..1.
func horizonY(v shot.View, x, sinDip float64) float64 {
	// (U·Y + F)² = s²(1 + X² + Y²), the root with U·Y + F ≤ 0
	u, f, s2 := v.Up.Z, v.Forward.Z, sinDip*sinDip
	a := u*u - s2
	if a < 1e-9 {
		return math.Copysign(10, -f) // straight down: far above the frame
	}
	side := 1 + x*x*v.HalfWidth*v.HalfWidth
	y := (-u*f - sinDip*math.Sqrt(math.Max(0, f*f+a*side))) / a
	return math.Max(-10, math.Min(10, y/v.HalfHeight))
}

// disc is the sun's disc as it is drawn: no smaller than a pixel, so that none falls between the
// middles of pixels, and with the light it has.
type disc struct{ cosEdge, lum float64 }

func (sc *Scene) discFor(pixel float64) disc {
	if !sc.disc {
		return disc{cosEdge: 2}
	}
	r := math.Max(sunRadius, pixel*math.Sqrt2/2)
	return disc{math.Cos(r), sc.Light.DirectNormalLx / (water.SunSolidAngle * r * r / (sunRadius * sunRadius))}
}

// glance is the light from one direction: its luminance, the part that is polarised along the sheet's
// pass direction less that across it, and its colour, of that luminance.
type glance struct {
	lum, pol, r, g, b float64
	sky               bool
}

// look gives the light along d; t is the direction of E that a sheet passes, unit and square to d,
// and means something only with sheet. The answer is written in place: it is too large to be handed
// back in registers, and copying it costs as much as half the optics.
func (sc *Scene) look(g *glance, d, t r3.Vec, sheet bool, sun *disc) {
	if r := sc.ridge; r != nil && d.Z < r.highest && d.Z > -r.foot {
		if top := r.at(d.X, d.Y); top > 0 && d.Z < top {
			sc.lookAtRidge(g, d, t, sheet)
			return
		}
	}
	if d.Z >= -sc.distance.sinDip {
		sc.lookUp(g, d, t, sheet, sun)
	} else {
		sc.lookDown(g, d, t, sheet)
	}
}

func (sc *Scene) lookUp(g *glance, d, t r3.Vec, sheet bool, sun *disc) {
	dome := sc.dome
	c := dot(d, dome.sunDir)
	gr, gg, gb, air := dome.around(c)
	fr, fg, fb := dome.up(d.Z)
	lum := gg * fg
	g.sky, g.lum, g.pol = true, lum, 0
	g.r, g.g, g.b = levelled(gr*fr, lum, gb*fb)
	if sheet {
		cos2, _ := dome.pattern.Stokes(d, t, r3.Cross(t, d))
		if d.Z < sinAirlight { // the air low down is that in front of the land
			w := max(0, d.Z) / sinAirlight
			cos2 = w*cos2 + (1-w)*air*square(d, t, dome.sunDir, c)
		}
		g.pol = lum * cos2
	}
	if dot(d, sc.sunDir) > sun.cosEdge {
		g.add(sun.lum, &sc.land.sunTint)
	}
}

// square gives 2(t·e)² − 1 for E square to the plane of d and s, times the squared sine of the angle
// between the two, whose cosine is c.
func square(d, t, s r3.Vec, c float64) float64 {
	e := t.X*(d.Y*s.Z-d.Z*s.Y) + t.Y*(d.Z*s.X-d.X*s.Z) + t.Z*(d.X*s.Y-d.Y*s.X)
	return 2*e*e - (1 - c*c)
}

func (g *glance) add(lum float64, tint *rgb) {
	g.lum += lum
	g.r += lum * tint[0]
	g.g += lum * tint[1]
	g.b += lum * tint[2]
}

// veil puts air in front of what is seen, of which it leaves the part through. Its light is that of an
// endless way through the air at the angle to the sun along d, with the brightness that the sky has a
// little above the horizon; at the horizon itself, where f is 0, it is the sky's own, so that there is
// no seam.
//
// Looking straight down it must not matter from which side: therefore the angle to the sun is that
// of the ray itself, not that of the sky above it.
func (sc *Scene) veil(g *glance, d, t r3.Vec, sheet bool, through, f float64) {
	dome, a := sc.dome, 1-through
	c := dot(d, dome.sunDir)
	r, lum, b, deg := dome.around(c)
	lum *= dome.low[1] + f*(dome.high[1]-dome.low[1])
	r, green, b := levelled(r*(dome.low[0]+f*(dome.high[0]-dome.low[0])), lum, b*(dome.low[2]+f*(dome.high[2]-dome.low[2])))
	g.lum = g.lum*through + lum*a
	g.r, g.g, g.b = g.r*through+r*a, g.g*through+green*a, g.b*through+b*a
	if sheet {
		g.pol = g.pol*through + a*lum*deg*square(d, t, dome.sunDir, c)
	}
}

func (sc *Scene) lookAtRidge(g *glance, d, t r3.Vec, sheet bool) {
	r := sc.ridge
	lit := r.facing(dot(d, sc.sunDir), sc.land.sunUp)
	g.sky, g.pol = false, 0
	g.r, g.g, g.b = r.sky[0]+r.sun[0]*lit, r.sky[1]+r.sun[1]*lit, r.sky[2]+r.sun[2]*lit
	g.lum = redPart*g.r + greenPart*g.g + bluePart*g.b
	sc.veil(g, d, t, sheet, r.through, 1)
}

func (sc *Scene) lookDown(g *glance, d, t r3.Vec, sheet bool) {
	down := -d.Z
	c := dot(d, sc.sunDir)
	land := &sc.land
	lit := 0.0
	if land.sunUp > 0 {
		lit = land.relief.sunlit(c, land.sunUp)
	}
	g.sky, g.pol = false, 0
	g.r, g.g, g.b = land.sky[0]+land.sun[0]*lit, land.sky[1]+land.sun[1]*lit, land.sky[2]+land.sun[2]*lit
	g.lum = redPart*g.r + greenPart*g.g + bluePart*g.b
	if sc.table != nil {
		sc.mirrored(g, d, t, sheet, c)
	}
	f := min(1, (down-sc.distance.sinDip)/sinAirlight)
	sc.veil(g, d, t, sheet, math.Exp(-sc.perM*sc.distance.along(down)), f)
}

// mirrored adds the sky and the sun off a surface.
func (sc *Scene) mirrored(g *glance, d, t r3.Vec, sheet bool, cosSun float64) {
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
	i, q, u, sunlit := sc.table.Look(dx*sc.sinA+dy*sc.cosA, dx*sc.cosA-dy*sc.sinA, level, down)

	// the mirrored sky has the colour that a level mirror would show
	dome := sc.dome
	mr, mg, mb, _ := dome.around(dot(d, dome.sunDir) + 2*down*dome.sunDir.Z)
	fr, fg, fb := dome.up(down)
	if mg *= fg; mg > 0 {
		r, green, b := levelled(mr*fr, mg, mb*fb)
		lum := sc.cover * (i - sunlit)
		k := lum / mg
		g.lum += lum
		g.r, g.g, g.b = g.r+r*k, g.g+green*k, g.b+b*k
	}
	var glint, glintPol float64
	if sc.glints && sc.disc {
		glint, glintPol = sc.surface.GlintParts(down, sc.sunDir.Z, cosSun, sc.Light.DirectNormalLx)
	}
	if sunlit += glint; sunlit > 0 {
		g.add(sc.cover*sunlit, &sc.land.sunTint)
	}
	if sheet {
		g.pol = sc.cover * (q*(a*a-b*b) + 2*u*a*b)
		if glint > 0 && cosSun*cosSun < 1-1e-9 {
			g.pol += sc.cover * glintPol * square(d, t, sc.sunDir, cosSun) / (1 - cosSun*cosSun)
		}
	}
}

func dot(a, b r3.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
