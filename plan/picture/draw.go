package picture

import (
	"math"
	"runtime"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Draw looks at a scene through a mount, nil for none. Each pixel is what its middle sees, within a hundredth of a stop
// (TestBlocksShowWhatEveryPixelSees; BenchmarkFrame160x90 for what it costs). A large picture is shared among the cores.
func Draw(sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) *Picture {
	return DrawUnless(nil, sc, v, mount, w, h)
}

// DrawUnless is Draw for a large picture that may not be wanted any more before it is done: stop is asked at every few
// rows. What it leaves undrawn is black.
func DrawUnless(stop func() bool, sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) *Picture {
	p := newPicture(w, h)
	if mount == nil {
		clear(p.Loss)
	}
	marks(sc, p, v)
	e := newEye(sc, v, mount, w, h)
	size := blockFor(v, w)
	if size < leastBlock {
		inBands(w, h, bandRows, func(from, to int) {
			if !p.leftOut(stop, from, to) {
				e.drawRows(p, from, to)
			}
		})
		return p
	}
	inBands(w, h, size, func(from, to int) {
		if !p.leftOut(stop, from, to) {
			l := lattices.Get().(*lattice)
			l.eye, l.p, l.size = e, p, size
			l.drawBand(from)
			l.eye, l.p = eye{}, nil
			lattices.Put(l)
		}
	})
	return p
}

// leftOut tells whether some rows are not wanted any more, and makes them black then.
func (p *Picture) leftOut(stop func() bool, from, to int) bool {
	if stop == nil || !stop() {
		return false
	}
	from, to = from*p.W, to*p.W
	clear(p.Bare[from:to])
	clear(p.Loss[from:to])
	clear(p.Colour[from:to])
	return true
}

// A picture is drawn in bands of so many rows, by as many workers as there are cores and pictures of
// workerPixels in it: to wake a worker costs some ten microseconds, so many pixels a third of a millisecond (ours).
const (
	bandRows     = 4
	workerPixels = 1 << 13
)

// inBands calls work for bands of rows that together are the picture. What breaks in one of them breaks
// here, where the caller can catch it.
func inBands(w, h, rows int, work func(from, to int)) {
	bands := (h + rows - 1) / rows
	workers := min(bands, runtime.GOMAXPROCS(0), 1+w*h/workerPixels)
	band := func(i int) { work(i*rows, min(h, (i+1)*rows)) }
	if workers < 2 {
		for i := range bands {
			band(i)
		}
		return
	}
	if err := parallel.Share(workers, bands, band); err != nil {
		panic(err)
	}
}

// eye looks along the middles of pixels.
type eye struct {
	sc    *light.Scene
	v     shot.View
	sheet *kit.Mount // what polarises; nil for none
	glass *kit.Plain // and what does not
	disc  light.Disc
	// where a pixel lies on the plane before the camera: its first one, and a step across or down
	firstX, firstY, stepX, stepY float64
}

func newEye(sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) eye {
	x, y := v.HalfWidth/float64(w), v.HalfHeight/float64(h)
	e := eye{sc: sc, v: v, sheet: mount, disc: sc.DiscFor(2 * x),
		firstX: x - v.HalfWidth, firstY: v.HalfHeight - y, stepX: 2 * x, stepY: -2 * y}
	if mount != nil {
		if glass, ok := mount.Plain(); ok {
			e.sheet, e.glass = nil, &glass
		}
	}
	return e
}

func (e *eye) place(i, j int) (x, y float64) {
	return e.firstX + float64(i)*e.stepX, e.firstY + float64(j)*e.stepY
}

// local returns the line of sight of a pixel in camera coordinates; it may lie beside the picture.
func (e *eye) local(i, j int) r3.Vec {
	x, y := e.place(i, j)
	f := 1 / math.Sqrt(1+x*x+y*y)
	return r3.Vec{X: x * f, Y: y * f, Z: f}
}

func (e *eye) ray(i, j int) r3.Vec { return e.v.World(e.local(i, j)) }

const mostLost = 30 // stops that a picture knows: nothing is seen through more

func (e *eye) plainLoss(i, j int) float64 { return min(mostLost, e.glass.Stops(e.place(i, j))) }

// look looks along the middle of a pixel.
func (e *eye) look(at *pixel, i, j int) {
	local := e.local(i, j)
	var trans, dia float64
	var pass r3.Vec
	if e.sheet != nil {
		trans, dia, pass = e.sheet.Parts(local)
		pass = e.v.World(pass)
	}
	var g light.Seen
	e.sc.Look(&g, e.v.World(local), pass, dia > 0, &e.disc)
	at.bare, at.sky, at.loss = g.Luminance, g.Sky, 0
	at.r, at.g, at.b = g.R, g.G, g.B
	switch {
	case e.sheet != nil && g.Luminance > 0:
		at.loss = min(mostLost, -fastlog.Log2(max(trans*(1+dia*g.Polarised/g.Luminance), 1e-12)))
	case e.glass != nil:
		at.loss = e.plainLoss(i, j)
	}
}

// drawRows looks along every pixel of some rows.
func (e *eye) drawRows(p *Picture, from, to int) {
	var at pixel
	for j := from; j < to; j++ {
		for i := range p.W {
			e.look(&at, i, j)
			p.putLight(j*p.W+i, &at)
			p.Loss[j*p.W+i] = at.loss
		}
	}
}

func (p *Picture) putLight(k int, at *pixel) {
	p.Bare[k], p.Sky[k] = at.bare, at.sky
	p.Colour[k] = [3]float32{float32(at.r), float32(at.g), float32(at.b)}
}

// marks notes where things stand in the picture.
func marks(sc *light.Scene, p *Picture, v shot.View) {
	spot := func(d r3.Vec) (s FramePoint) {
		if x, y, in := v.Frames(d); in {
			s = FramePoint{x, y, true}
		}
		return s
	}
	if sc.SunDir.Z > 0 && !sc.BehindRidge(sc.SunDir) {
		s := spot(sc.SunDir)
		p.SunX, p.SunY, p.SunIn = s.X, s.Y, s.In
	}
	if sc.SunSeen {
		p.Shadow = spot(r3.Scale(-1, sc.SunDir))
		if sc.GlintsApart { // what is rougher than water has no glint, only a sheen
			p.Mirror = spot(r3.Vec{X: sc.SunDir.X, Y: sc.SunDir.Y, Z: -sc.SunDir.Z})
		}
	}
	for i := range p.Horizon {
		x := (2*float64(i) + 1 - float64(p.W)) / float64(p.W)
		p.Horizon[i] = horizonY(v, x, sc.Distance.SinDip)
	}
}

// horizonY returns the height of the horizon in a column of the picture. The camera never rolls, but a
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
