package sun

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// cameraRays are rays about a camera's axis, with two axes square to each, in the camera's own coordinates.
func cameraRays(n int) (d, u1, u2 []r3.Vec) {
	r := rand.New(rand.NewPCG(3, 77))
	for range n {
		v := r3.Unit(r3.Vec{X: 1.6*r.Float64() - .8, Y: r.Float64() - .5, Z: 1})
		a := r3.Unit(r3.Vec{Y: v.Z, Z: -v.Y})
		d, u1, u2 = append(d, v), append(u1, a), append(u2, r3.Cross(v, a))
	}
	return d, u1, u2
}

// Many rays of one camera get what each gets for itself, to 1e−12: any sun, also below the horizon and in the frame, any
// air and cloud, and rays to the neutral points, where there is no polarisation.
func TestStokesAlong(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 41))
	d, u1, u2 := cameraRays(400)
	cos2, sin2 := make([]float64, len(d)), make([]float64, len(d))
	worst := 0.0
	for n := range 300 {
		air := ClearAir(1+99*r.Float64(), 100)
		if n%3 == 0 {
			air.Cloud.Cover = r.Float64()
		}
		if n%7 == 0 {
			air.AOD = 0
		}
		p := NewPattern(360*r.Float64(), -8+98*r.Float64(), air, 550)
		heading, pitch := 2*math.Pi*r.Float64(), math.Pi*(r.Float64()-.5)
		sh, ch := math.Sincos(heading)
		sp, cp := math.Sincos(pitch)
		right, up, forward := r3.Vec{X: ch, Y: -sh}, r3.Vec{X: -sh * sp, Y: -ch * sp, Z: cp}, r3.Vec{X: sh * cp, Y: ch * cp, Z: sp}
		if n%5 == 0 { // one ray looks at a neutral point
			d[7] = r3.Vec{X: r3.Dot(p.above, right), Y: r3.Dot(p.above, up), Z: r3.Dot(p.above, forward)}
			u1[7] = anySquare(d[7])
			u2[7] = r3.Cross(d[7], u1[7])
		}
		world := func(v r3.Vec) r3.Vec {
			return r3.Add(r3.Scale(v.X, right), r3.Add(r3.Scale(v.Y, up), r3.Scale(v.Z, forward)))
		}
		p.StokesAlong(cos2, sin2, right, up, forward, d, u1, u2)
		for i := range d {
			c, s := p.Stokes(world(d[i]), world(u1[i]), world(u2[i]))
			if e := max(math.Abs(c-cos2[i]), math.Abs(s-sin2[i])); i != 7 && e > 1e-12 || i == 7 && e > 1e-6 {
				t.Fatalf("pattern %d, ray %d: %v %v, want %v %v", n, i, cos2[i], sin2[i], c, s)
			} else if i != 7 {
				worst = max(worst, e)
			}
		}
	}
	t.Logf("off by %.1e at most", worst)
}

// BenchmarkStokesAlong takes rays as a frame has them, row by row and above the horizon.
func BenchmarkStokesAlong(b *testing.B) {
	d, u1, u2 := cameraRays(160)
	for i := range d {
		d[i] = r3.Unit(r3.Vec{X: float64(i%16)/10 - .75, Y: .55 - float64(i/16)/20, Z: 1})
		u1[i] = r3.Unit(r3.Vec{Y: d[i].Z, Z: -d[i].Y})
		u2[i] = r3.Cross(d[i], u1[i])
	}
	p := NewPattern(200, 30, ClearAir(30, 100), 550)
	cos2, sin2 := make([]float64, len(d)), make([]float64, len(d))
	right, up, forward := r3.Vec{X: 1}, r3.Vec{Z: 1}, r3.Vec{Y: 1}
	world := func(v r3.Vec) r3.Vec {
		return r3.Vec{
			X: v.X*right.X + v.Y*up.X + v.Z*forward.X, Y: v.X*right.Y + v.Y*up.Y + v.Z*forward.Y, Z: v.X*right.Z + v.Y*up.Z + v.Z*forward.Z,
		}
	}
	b.Run("together", func(b *testing.B) {
		for b.Loop() {
			p.StokesAlong(cos2, sin2, right, up, forward, d, u1, u2)
		}
	})
	b.Run("apart", func(b *testing.B) {
		for b.Loop() {
			for i := range d {
				cos2[i], sin2[i] = p.Stokes(world(d[i]), world(u1[i]), world(u2[i]))
			}
		}
	})
}
