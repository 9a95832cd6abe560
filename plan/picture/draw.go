package picture

import (
	"context"
	"math"
	"runtime"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Draw looks along the middle of every pixel. What a pixel costs is two roots and three table look-ups
// in the sky, one exponential more on the ground (BenchmarkFrame160x90 for the figure); lookPlain in
// the tests is the same without tables. A large picture is shared among the cores.
func Draw(sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) *Picture {
	return DrawUnless(nil, sc, v, mount, w, h)
}

// DrawUnless is Draw for a large picture that may not be wanted any more before it is done: stop is asked at every few
// rows. What it leaves undrawn is black.
func DrawUnless(stop func() bool, sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) *Picture {
	n := w * h
	p := &Picture{W: w, H: h, Bare: make([]float64, n), Loss: make([]float64, n), Sky: make([]bool, n),
		Colour: make([][3]float32, n), Horizon: make([]float64, w)}
	marks(sc, p, v)
	inBands(w, h, func(from, to int) {
		if stop == nil || !stop() {
			drawRows(sc, p, v, mount, from, to)
		}
	})
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

func drawRows(sc *light.Scene, p *Picture, v shot.View, mount *kit.Mount, from, to int) {
	w, h := p.W, p.H
	disc := sc.DiscFor(2 * v.HalfWidth / float64(w))
	var g light.Seen
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
			sc.Look(&g, d, pass, dia > 0, &disc)
			k := j*w + i
			p.Bare[k], p.Sky[k] = g.Luminance, g.Sky
			p.Colour[k] = [3]float32{float32(g.R), float32(g.G), float32(g.B)}
			if mount != nil && g.Luminance > 0 {
				p.Loss[k] = -fastlog.Log2(max(trans*(1+dia*g.Polarised/g.Luminance), 1e-9))
			}
		}
	}
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
