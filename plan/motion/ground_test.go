package motion

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// plainGround is Ground the slow way: the formula at every point, a sort, an interpolation.
func plainGround(c Camera, s State) Flow {
	var all []float64
	for j := range gridH {
		for i := range gridW {
			u := (float64(i)+0.5)*c.W/gridW - c.W/2
			v := (float64(j)+0.5)*c.H/gridH - c.H/2
			if du, dv, ok := groundAt(c, s, u, v); ok {
				all = append(all, math.Hypot(du, dv))
			}
		}
	}
	if len(all) == 0 {
		return Flow{}
	}
	slices.Sort(all)
	at := func(q float64) float64 {
		x := q * float64(len(all)-1)
		k := int(x)
		if k+1 >= len(all) {
			return all[k]
		}
		return all[k] + (x-float64(k))*(all[k+1]-all[k])
	}
	return Flow{Median: at(.5), P90: at(.9), Samples: len(all)}
}

func TestGroundEqualsPlain(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 9))
	seen := map[int]bool{}
	for range 2000 {
		s := State{AboveM: 5 + 100*rng.Float64(), PitchDeg: 35 - 125*rng.Float64(),
			Velocity: r3.Vec{X: rng.NormFloat64() * 5, Y: rng.NormFloat64() * 5, Z: rng.NormFloat64() * 5},
			YawDegS:  rng.NormFloat64() * 10, PitchDegS: rng.NormFloat64() * 5}
		got, want := Ground(uhdLens, s), plainGround(uhdLens, s)
		seen[got.Samples] = true
		if got.Samples != want.Samples || math.Abs(got.Median-want.Median) > 1e-9*(1+want.Median) || math.Abs(got.P90-want.P90) > 1e-9*(1+want.P90) {
			t.Fatalf("%+v: fast %+v, plain %+v", s, got, want)
		}
	}
	if !seen[0] || !seen[gridW*gridH] || len(seen) < 8 {
		t.Errorf("the flights did not reach all horizons: %v", seen)
	}
}

func TestGroundProperties(t *testing.T) {
	s := State{AboveM: 30, PitchDeg: -25, Velocity: r3.Vec{X: 1, Y: 2, Z: 6}, YawDegS: 4, PitchDegS: -2}
	f := Ground(uhdLens, s)
	// Twice every rate is twice the speed; twice the height and the velocity is the same picture.
	d := s
	d.Velocity, d.YawDegS, d.PitchDegS = r3.Scale(2, s.Velocity), 2*s.YawDegS, 2*s.PitchDegS
	if g := Ground(uhdLens, d); math.Abs(g.P90-2*f.P90) > 1e-9*f.P90 || math.Abs(g.Median-2*f.Median) > 1e-9*f.Median {
		t.Errorf("twice as fast: %+v against %+v", g, f)
	}
	h := s
	h.AboveM, h.Velocity = 60, r3.Scale(2, s.Velocity)
	if g := Ground(uhdLens, h); math.Abs(g.P90-f.P90) > 1e-9*f.P90 {
		t.Errorf("twice as high and fast: %+v against %+v", g, f)
	}
	// Mirrored left to right.
	m := s
	m.Velocity.X, m.YawDegS = -s.Velocity.X, -s.YawDegS
	if g := Ground(uhdLens, m); math.Abs(g.P90-f.P90) > 1e-9*f.P90 || math.Abs(g.Median-f.Median) > 1e-9*f.Median {
		t.Errorf("mirrored: %+v against %+v", g, f)
	}
	if g := Ground(uhdLens, State{AboveM: 30, PitchDeg: -25}); g.P90 != 0 || g.Samples == 0 {
		t.Errorf("hovering: %+v", g)
	}
	if g := Ground(uhdLens, State{PitchDeg: -25, Velocity: r3.Vec{Z: 3}}); g != (Flow{}) {
		t.Errorf("on the ground: %+v", g)
	}
	// Straight down, sliding: the same speed everywhere.
	if g := Ground(uhdLens, ahead(50, -90, 10)); math.Abs(g.Median-512.3706) > 1e-3 || math.Abs(g.P90-g.Median) > 1e-9 {
		t.Errorf("straight down: %+v", g)
	}
}

func TestDistant(t *testing.T) {
	// A level pan moves the centre by F·w: 10°/s is 447.1 px/s. Straight down a pan only rolls.
	if v := Distant(uhdLens, State{YawDegS: 10}); math.Abs(v-uhdLens.FocalPx*10*math.Pi/180) > 1e-9 {
		t.Errorf("pan: %v", v)
	}
	if v := Distant(uhdLens, State{YawDegS: 10, PitchDeg: -90}); v > 1e-9 {
		t.Errorf("roll: %v", v)
	}
	if v := Distant(uhdLens, State{PitchDegS: 10, PitchDeg: -40}); math.Abs(v-447.13) > 0.01 {
		t.Errorf("tilt: %v", v)
	}
}

func BenchmarkGround(b *testing.B) {
	b.ReportAllocs()
	s := State{AboveM: 30, PitchDeg: -25, Velocity: r3.Vec{X: 1, Y: 2, Z: 6}, YawDegS: 4, PitchDegS: -2}
	for b.Loop() {
		s.AboveM += 1e-6
		Ground(uhdLens, s)
	}
}

func BenchmarkSubject(b *testing.B) {
	s := State{AboveM: 30, PitchDeg: -25, Velocity: r3.Vec{X: 1, Y: 2, Z: 6}, YawDegS: 4, PitchDegS: -2}
	for b.Loop() {
		Subject(uhdLens, s, r3.Vec{X: 3, Y: 4, Z: 50}, r3.Vec{X: 1})
	}
}
