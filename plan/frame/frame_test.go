package frame

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// newSheet works out a mounted filter's answer for every sample.
func newSheet(g *Grid, answer func(r3.Vec) kit.Answer) *Answers {
	return (*Answers)(nil).Covering(g, answer, 0, len(g.d))
}

func look(fieldDeg, headingDeg, pitchDeg float64, sky Sky, thin int) (*Frame, shot.View) {
	v := shot.NewView(plantest.Lens(fieldDeg), kit.Mode{}, true, headingDeg, pitchDeg)
	f := new(Frame)
	f.Fill(NewGrid(v.HalfWidth, v.HalfHeight, thin), v, sky)
	return f, v
}

// hourGrid returns the clock position of a direction in the picture.
func clockOf(v shot.View, d r3.Vec) float64 {
	c := v.Camera(d)
	return math.Atan2(c.X, c.Y) * 180 / math.Pi
}

// The spread of the sky for a ring set darkest at the centre, by field of view. Worked out apart
// from this code from the geometry of a tilted sheet under a single-scattering sky.
func TestUnevennessByField(t *testing.T) {
	sky := plantest.SingleScatter{Sun: sun.Direction(90, 30), Peak: 0.75}
	for _, c := range []struct{ field, want, span float64 }{
		{24, 0.33, 0.48}, {40, 0.73, 0.96}, {60, 1.19, 1.41}, {76, 1.47, 1.65}, {90, 1.67, 1.79},
	} {
		halfH := math.Tan(c.field*math.Pi/360) * 9 / 16
		pitch := math.Atan(halfH/2) * 180 / math.Pi // the horizon a quarter up
		f, v := look(c.field, 0, pitch, sky, 1)
		s := newSheet(f.Grid, plantest.IdealSheet(clockOf(v, sky.Sun)))
		lo, hi := math.Inf(1), math.Inf(-1)
		answer := plantest.IdealSheet(clockOf(v, sky.Sun))
		for x := -1.0; x <= 1; x += 1.0 / 64 { // the very edges, which pixel centres leave out
			for y := -0.5; y <= 1; y += 1.0 / 64 {
				d := v.Local(x, y)
				u1 := r3.Unit(r3.Vec{Y: d.Z, Z: -d.Y})
				u2 := r3.Cross(d, u1)
				q, u := sky.Stokes(v.World(d), v.World(u1), v.World(u2))
				a, b := r3.Dot(answer(d).Pass, u1), r3.Dot(answer(d).Pass, u2)
				e := math.Log2(1 + q*(a*a-b*b) + 2*u*a*b)
				lo, hi = math.Min(lo, e), math.Max(hi, e)
			}
		}
		_, got := f.Effect(s, nil)
		if math.Abs(got-c.want) > 0.006 || math.Abs(hi-lo-c.span) > 0.006 {
			t.Errorf("%g°: unevenness %.3f, span %.3f; want %.2f, %.2f", c.field, got, hi-lo, c.want, c.span)
		}
	}
}

// A ring turned away from the darkest makes a softer sky.
func TestSofterRing(t *testing.T) {
	sky := plantest.SingleScatter{Sun: sun.Direction(90, 30), Peak: 0.75}
	halfH := math.Tan(76*math.Pi/360) * 9 / 16
	f, v := look(76, 0, math.Atan(halfH/2)*180/math.Pi, sky, 1)
	at := func(off float64) float64 {
		_, u := f.Effect(newSheet(f.Grid, plantest.IdealSheet(clockOf(v, sky.Sun)+off)), nil)
		return u
	}
	a, b := at(45), at(-45)
	if a > b {
		a, b = b, a
	}
	if math.Abs(a-0.26) > 0.006 || math.Abs(b-0.34) > 0.006 {
		t.Errorf("45° off: %.3f and %.3f, want 0.26 and 0.34", a, b)
	}
}

// The frame's centre is darkest when the pass axis points at the sun's clock position.
func TestDarkestAtTheSunsClock(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		sky := plantest.SingleScatter{Sun: sun.Direction(360*r.Float64(), 2+80*r.Float64()), Peak: 0.75}
		v := shot.NewView(plantest.Lens(60), kit.Mode{}, true, 360*r.Float64(), -10+40*r.Float64())
		g := NewGrid(1e-6, 1e-6, 1) // the centre alone
		f := new(Frame)
		v.HalfWidth, v.HalfHeight = 1e-6, 1e-6
		if v.Forward.Z < 1e-3 {
			continue
		}
		f.Fill(g, v, sky)
		at := func(psi float64) float64 {
			m, _ := f.Effect(newSheet(g, plantest.IdealSheet(psi)), nil)
			return m
		}
		best := clockOf(v, sky.Sun)
		if m := at(best); m > at(best+3)+1e-9 || m > at(best-3)+1e-9 || m > at(best+90)+1e-9 {
			t.Fatalf("sun at clock %.1f°: %.4f there, %.4f and %.4f beside", best, m, at(best+3), at(best-3))
		}
	}
}

// Heading 30 to 150° off a sun 20° high, 5° above the horizon: level and upright pass axis.
func TestSwingOverATurn(t *testing.T) {
	for _, c := range []struct{ psi, want float64 }{{90, 1.20}, {0, 0.62}} {
		lo, hi := math.Inf(1), math.Inf(-1)
		for h := 30.0; h <= 150; h++ {
			sky := plantest.SingleScatter{Sun: sun.Direction(0, 20), Peak: 0.75}
			v := shot.NewView(plantest.Lens(60), kit.Mode{}, true, h, 0)
			d := v.Camera(sun.Direction(h, 5))
			u1 := r3.Unit(r3.Vec{Y: d.Z, Z: -d.Y})
			g := &Grid{Thin: 1, d: []r3.Vec{d}, u1: []r3.Vec{u1}, u2: []r3.Vec{r3.Cross(d, u1)}}
			for j := range g.upTo {
				g.upTo[j] = 1
			}
			f := new(Frame)
			f.Fill(g, v, sky)
			m, _ := f.Effect(newSheet(g, plantest.IdealSheet(c.psi)), nil)
			lo, hi = math.Min(lo, m), math.Max(hi, m)
		}
		if math.Abs(hi-lo-c.want) > 0.006 {
			t.Errorf("pass axis %g°: swing %.3f, want %.2f", c.psi, hi-lo, c.want)
		}
	}
}

// The thinned grids agree with the full one to 0.02 stop, the rough ones to 0.05.
func TestThinnedGridAgrees(t *testing.T) {
	for _, c := range []struct {
		samples int
		limit   float64
	}{{EnoughSky, 0.02}, {RoughSky, 0.05}} {
		thinnedGridAgrees(t, c.samples, c.limit)
	}
}

func thinnedGridAgrees(t *testing.T, samples int, limit float64) {
	r := rand.New(rand.NewPCG(3, 4))
	var worst [3]float64
	for range 3000 {
		sky := plantest.SingleScatter{Sun: sun.Direction(360*r.Float64(), 85*r.Float64()), Peak: 0.2 + 0.6*r.Float64()}
		field, heading, pitch, psi := 20+70*r.Float64(), 360*r.Float64(), -30+50*r.Float64(), 180*r.Float64()
		full, v := look(field, heading, pitch, sky, 1)
		if !full.Enough() {
			continue
		}
		thin, _ := look(field, heading, pitch, sky, ThinningFor(SkyRows(v), samples))
		m0, u0 := full.Effect(newSheet(full.Grid, plantest.IdealSheet(psi)), nil)
		m1, u1 := thin.Effect(newSheet(thin.Grid, plantest.IdealSheet(psi)), nil)
		worst[0] = math.Max(worst[0], math.Abs(m1-m0))
		worst[1] = math.Max(worst[1], math.Abs(u1-u0))
		worst[2] = math.Max(worst[2], math.Abs(thin.Strength(nil)-full.Strength(nil)))
	}
	for i, what := range []string{"effect", "unevenness", "strength"} {
		if worst[i] > limit {
			t.Errorf("%s on %d samples: off by up to %.4f stop", what, samples, worst[i])
		}
	}
	t.Logf("%d samples: effect %.4f, unevenness %.4f, strength %.4f stop", samples, worst[0], worst[1], worst[2])
}

func TestQuantile(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := 1; n < 200; n++ {
		x := make([]float64, n)
		for i := range x {
			x[i] = math.Round(20 * r.Float64())
		}
		sorted := slices.Clone(x)
		slices.Sort(sorted)
		for _, p := range []float64{0, 0.05, 0.5, 0.95, 1} {
			at := p * float64(n-1)
			k := int(at)
			want := sorted[k]
			if k+1 < n {
				want += (at - float64(k)) * (sorted[k+1] - sorted[k])
			}
			lo, hi, w := quantile(x, p)
			if got := (1-w)*lo + w*hi; math.Abs(got-want) > 1e-12 {
				t.Fatalf("n %d, p %g: %g, want %g", n, p, got, want)
			}
		}
	}
}

func BenchmarkFrame(b *testing.B) {
	sky := plantest.SingleScatter{Sun: sun.Direction(90, 30), Peak: 0.75}
	f, v := look(74, 0, 5, sky, 16)
	s := newSheet(f.Grid, plantest.IdealSheet(30))
	buf := make([]float64, 0, len(f.Grid.d))
	b.Run("look", func(b *testing.B) {
		for range b.N {
			f.Fill(f.Grid, v, sky)
		}
	})
	b.Run("ring", func(b *testing.B) {
		for range b.N {
			f.Effect(s, buf)
		}
	})
}

func TestTails(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for n := 5; n < 300; n++ {
		x := make([]float64, n)
		for i := range x {
			x[i] = r.ExpFloat64()
			if n%3 == 0 {
				x[i] = math.Round(3 * x[i])
			}
			if n%7 == 0 {
				x[i] = 0.5
			}
		}
		sorted := slices.Clone(x)
		slices.Sort(sorted)
		k := 1 + r.IntN((n-1)/2)
		low, high := tails(x, k, nil)
		if !slices.Equal(low, sorted[:k]) || !slices.Equal(high, sorted[n-k:]) {
			t.Fatalf("n %d, k %d: %v and %v of %v", n, k, low, high, sorted)
		}
	}
}

// The strength of a thinned frame is the mean of four quantiles, as putting all of its values in order has them.
func TestStrengthIsThePlainOne(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 19))
	for range 200 {
		n := 40 + r.IntN(300)
		f := &Frame{Grid: &Grid{Thin: 4}, q: make([]float64, n), u: make([]float64, n)}
		squares := make([]float64, n)
		for i := range n {
			f.q[i], f.u[i] = r.Float64()-.5, r.Float64()-.5
			if r.IntN(4) == 0 { // with many equal values
				f.q[i], f.u[i] = .25, .25
			}
			squares[i] = f.q[i]*f.q[i] + f.u[i]*f.u[i]
		}
		slices.Sort(squares)
		var want float64
		for _, p := range [...]float64{.47, .49, .51, .53} {
			at := p*float64(n) - .5
			k := int(at)
			w := at - float64(k)
			want += (1-w)*spanStops(squares[k]) + w*spanStops(squares[k+1])
		}
		if got := f.Strength(nil); got != want/4 {
			t.Fatalf("%d samples: %v, want %v", n, got, want/4)
		}
	}
}
