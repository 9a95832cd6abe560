package frame

import (
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/internal/rank"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// The frame is measured on the centres of gridW × gridH pixels, top row first. A camera here never
// rolls, so the horizon is level in the picture and the sky is the first rows of the grid. Whatever
// depends on the lens and the filter alone (the rays, a basis square to each of them, the filter's
// answer) is worked out once per field of view; what depends on sun and heading (the sky's Stokes
// parameters in those bases) once per moment; a ring angle then costs two products a sample.
const (
	GridW = 64
	GridH = 36
	// fewestSky is the count of sky samples of the full grid below which a frame has no sky measures.
	fewestSky = 20
	// EnoughSky is the count of sky samples a thinned grid must keep to agree with the full one to
	// 0.02 stop (TestThinnedGridAgrees).
	EnoughSky = 128
	// RoughSky is that count for the search of a ring, which compares many: to 0.05 stop.
	RoughSky = 64
)

// Sky is a sky as the measures see it. [sun.Pattern] is one; the tests have simpler ones.
type Sky interface {
	// Stokes returns Q/I and U/I of the light from d in the basis u1, u2 (both square to d and to one
	// another): p(2(e·u1)²−1) and 2p(e·u1)(e·u2). East-North-Up.
	Stokes(d, u1, u2 r3.Vec) (q, u float64)
	// Radiance of the light from d; any unit.
	Radiance(d r3.Vec) float64
}

// skyOfManyRays is one that answers for many rays of a camera at once, given in the camera's coordinates. It comes to the same.
type skyOfManyRays interface {
	StokesAlong(q, u []float64, right, up, forward r3.Vec, d, u1, u2 []r3.Vec)
}

// Grid is the frame's samples in camera coordinates.
type Grid struct {
	Thin         int // one sample in thin of the full grid
	HalfW, HalfH float64
	d, u1, u2    []r3.Vec
	upTo         [GridH + 1]int // samples in the rows above
}

// thinnings are the grids on offer. A sample of the full grid belongs to thinning m when
// (column + step·row) mod m is 0: a lattice whose columns and rows are both evenly filled.
var thinnings = [...]int{32, 16, 8, 4, 2, 1}

const thinStep = 5

// NewGrid lays out the samples of a lens, whose half field has the tangents halfW and halfH.
func NewGrid(halfW, halfH float64, thin int) *Grid {
	g := &Grid{Thin: thin, HalfW: halfW, HalfH: halfH}
	n := GridW*GridH/thin + GridW
	g.d, g.u1, g.u2 = make([]r3.Vec, 0, n), make([]r3.Vec, 0, n), make([]r3.Vec, 0, n)
	for j := range GridH {
		first := (thin - thinStep*j%thin) % thin // a column whose i + step·j is a multiple of thin
		for i := first; i < GridW; i += thin {
			d := unit(r3.Vec{
				X: (2*float64(i) + 1 - GridW) / GridW * halfW,
				Y: (GridH - 2*float64(j) - 1) / GridH * halfH,
				Z: 1,
			})
			u1 := unit(r3.Vec{Y: d.Z, Z: -d.Y}) // d × right: never zero, as the lens looks along Z
			g.d, g.u1, g.u2 = append(g.d, d), append(g.u1, u1), append(g.u2, r3.Cross(d, u1))
		}
		g.upTo[j+1] = len(g.d)
	}
	return g
}

// Samples returns the count of the grid's samples.
func (g *Grid) Samples() int { return len(g.d) }

// Each shows every sample: its number, its ray and the two axes of its basis.
func (g *Grid) Each(show func(i int, d, u1, u2 r3.Vec)) {
	for i := range g.d {
		show(i, g.d[i], g.u1[i], g.u2[i])
	}
}

// unit is [r3.Unit] for lengths near 1, which need no guard against overflow: a third of its cost.
func unit(v r3.Vec) r3.Vec {
	return r3.Scale(1/math.Sqrt(v.X*v.X+v.Y*v.Y+v.Z*v.Z), v)
}

// SkyRows returns how many rows of the grid, from the top, lie above the horizon.
func SkyRows(v shot.View) int {
	for j := range GridH {
		y := (GridH - 2*float64(j) - 1) / GridH
		if v.Forward.Z+y*v.HalfHeight*v.Up.Z <= 0 {
			return j
		}
	}
	return GridH
}

// ThinningFor returns the thinnest grid that keeps a count of samples of so many rows of sky.
func ThinningFor(rows, samples int) int {
	for _, m := range thinnings {
		if rows*GridW >= samples*m {
			return m
		}
	}
	return 1
}

// Answers is a filter's answer over some samples of a grid, from the sample base on: light of intensity I
// and Stokes parameters q, u passes as t·I·(1 + c·q + s·u). The measures of polarisation do not ask for t, the meter
// does; it is up to the caller what it counts from.
type Answers struct {
	base    int
	c, s, t []float64
}

// Covering returns a mounted filter's answers for the samples from to to at least: these themselves where they reach so
// far, else new ones that take over what is known. s may be nil, and is not changed.
func (s *Answers) Covering(g *Grid, answer func(r3.Vec) kit.Answer, from, to int) *Answers {
	var known Answers
	if s != nil {
		known = *s
	}
	n := len(known.c)
	if n > 0 {
		from, to = min(from, known.base), max(to, known.base+n)
	}
	if to-from == n && n > 0 {
		return s
	}
	size := to - from
	all := make([]float64, 3*size)
	more := &Answers{base: from, c: all[:size:size], s: all[size : 2*size : 2*size], t: all[2*size:]}
	at := max(0, known.base-from)
	copy(more.c[at:], known.c)
	copy(more.s[at:], known.s)
	copy(more.t[at:], known.t)
	for i := from; i < to; i++ {
		if n > 0 && i == known.base {
			i += n - 1
			continue
		}
		a := answer(g.d[i])
		x, y := r3.Dot(a.Pass, g.u1[i]), r3.Dot(a.Pass, g.u2[i])
		more.c[i-from], more.s[i-from], more.t[i-from] = a.D*(x*x-y*y), 2*a.D*x*y, a.T
	}
	return more
}

// Cover tells whether these reach from a sample up to but not including another.
func (s *Answers) Cover(from, to int) bool {
	return s != nil && from >= s.base && to <= s.base+len(s.c) && len(s.c) > 0
}

// At returns the answer for a sample that these cover.
func (s *Answers) At(i int) (passes, cos2, sin2 float64) {
	i -= s.base
	return s.t[i], s.c[i], s.s[i]
}

// Floats returns how many numbers these hold, 0 for nil.
func (s *Answers) Floats() int {
	if s == nil {
		return 0
	}
	return 3 * len(s.c)
}

// Frame is what a grid sees at one moment: the polarisation of the sky's samples, and for those below the
// horizon the light that the ground mirrors and the airlight in front of it.
type Frame struct {
	Grid       *Grid
	SkySamples int // samples of the sky: the grid's first
	full       int // samples of the sky on the full grid
	q, u       []float64
	Down       *Grid          // of the samples below the horizon
	FirstDown  int            // the sample of it that Mirrored and Airlight begin with
	Mirrored   []water.Stokes // light mirrored by the ground
	Airlight   []water.Stokes // haze in front of the ground, by the share it has in the picture
	Room       *Room          // where its lists are laid out; whoever sets it takes it away again
	// Mirrors and Hazy tell that the frame has such light, whether or not it was worked out.
	Mirrors, Hazy bool
}

// Enough tells whether the frame holds enough sky to be measured.
func (f *Frame) Enough() bool { return f.full >= fewestSky }

// Fill fills a frame with the sky's polarisation.
func (f *Frame) Fill(g *Grid, v shot.View, sky Sky) {
	rows := SkyRows(v)
	f.Grid, f.full, f.SkySamples = g, rows*GridW, g.upTo[rows]
	f.q, f.u = nil, nil
	if !f.Enough() {
		return
	}
	both := f.Room.Floats(2 * f.SkySamples)
	f.q, f.u = both[:f.SkySamples:f.SkySamples], both[f.SkySamples:]
	if many, ok := sky.(skyOfManyRays); ok {
		n := f.SkySamples
		many.StokesAlong(f.q, f.u, v.Right, v.Up, v.Forward, g.d[:n], g.u1[:n], g.u2[:n])
		return
	}
	for i := range f.q {
		f.q[i], f.u[i] = sky.Stokes(v.World(g.d[i]), v.World(g.u1[i]), v.World(g.u2[i]))
	}
}

// Strength is the median over the sky of the span between the weakest and the strongest ring,
// log2((1+p)/(1−p)) stops.
func (f *Frame) Strength(buf []float64) float64 {
	buf = buf[:0]
	for i, q := range f.q {
		buf = append(buf, q*q+f.u[i]*f.u[i])
	}
	if f.Grid.Thin == 1 {
		lo, hi, w := quantile(buf, 0.5)
		return (1-w)*spanStops(lo) + w*spanStops(hi)
	}
	// A thinned sample's middle jumps from value to value; the mean of four quantiles about it does so
	// less.
	first := int(middle[0]*float64(len(buf)) - 0.5)
	last := int(middle[len(middle)-1]*float64(len(buf))-0.5) + 1
	rank.Kth(buf, first)
	rank.Kth(buf[first+1:], last-first-1)
	slices.Sort(buf[first+1 : last]) // those between the two are few
	var sum float64
	for _, p := range middle {
		at := p*float64(len(buf)) - 0.5
		k := int(at)
		w := at - float64(k)
		sum += (1-w)*spanStops(buf[k]) + w*spanStops(buf[k+1])
	}
	return sum / float64(len(middle))
}

// middle are the quantiles about the median of a thinned frame.
var middle = [...]float64{0.47, 0.49, 0.51, 0.53}

// spanStops returns the span of a polariser on light whose degree of polarisation squared is p2.
func spanStops(p2 float64) float64 {
	p := min(math.Sqrt(p2), maxDegree)
	return math.Log2((1 + p) / (1 - p))
}

// maxDegree keeps the span finite on perfectly polarised light, which no sky sends.
const maxDegree = 0.9999

// Effect returns the mean over the sky of the change against a density of the same loss, in stops
// (negative darkens), and its unevenness: the 95th less the 5th percentile.
func (f *Frame) Effect(s *Answers, buf []float64) (mean, unevenness float64) {
	buf = buf[:0]
	c, z := s.c[:len(f.q)], s.s[:len(f.q)]
	// The logarithm of a product of a few factors costs one logarithm; eight factors of at least
	// 2e-5 stay far above the smallest float64.
	var sum float64
	product, in := 1.0, 0
	for i, q := range f.q {
		x := max(1+c[i]*q+z[i]*f.u[i], 2e-5)
		buf = append(buf, x)
		product *= x
		if in++; in == 8 {
			sum += fastlog.Log2(product)
			product, in = 1, 0
		}
	}
	mean = (sum + fastlog.Log2(product)) / float64(len(buf))
	if f.Grid.Thin == 1 {
		return mean, logQuantile(buf, 0.95) - logQuantile(buf, 0.05)
	}
	// As with the strength, two quantiles about the wanted one are steadier than that one. They count
	// at np − ½, which takes each value for the middle of its share of the frame (Hazen 1914).
	n := float64(len(buf))
	k := 2 + int(0.06*n)
	low, high := tails(buf, k, buf[len(buf):cap(buf)])
	for _, p := range [...]float64{0.04, 0.06} {
		at := max(0, p*n-0.5)
		i := min(int(at), k-2)
		w := at - float64(i)
		unevenness += (1-w)*fastlog.Log2(high[k-1-i]/low[i]) + w*fastlog.Log2(high[k-2-i]/low[i+1])
	}
	return mean, unevenness / 2
}

// logQuantile interpolates between the logarithms of neighbours.
func logQuantile(x []float64, p float64) float64 {
	lo, hi, w := quantile(x, p)
	if w == 0 {
		return math.Log2(lo)
	}
	return (1-w)*math.Log2(lo) + w*math.Log2(hi)
}
