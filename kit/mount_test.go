package kit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// What holds for every filter at every ray in front of the lens: finite, no more light out than in,
// the pass direction square to the ray, the answer the same half a turn of the ring later.
func TestEveryAnswer(t *testing.T) {
	for name, f := range allKinds() {
		for ring := 0.0; ring < 180; ring += 22.5 {
			for _, setting := range []float64{0, 1, 1.6, 3, 5, 9, 13.9} {
				m, half := f.Mount(ring, setting), f.Mount(ring+180, setting)
				for z := 0.0501; z <= 1; z += 0.0457 {
					for around := 0.0; around < 360; around += 7.5 {
						s, c := math.Sincos(around * radian)
						r := math.Sqrt(1 - z*z)
						d := r3.Vec{X: r * c, Y: r * s, Z: z}
						a := m.Answer(d)
						ok := a.T > 0 && a.D >= 0 && a.D <= 1 && a.T*(1+a.D) <= 1+1e-9
						if f.Polarises() {
							ok = ok && math.Abs(r3.Norm(a.Pass)-1) < 1e-9 && math.Abs(r3.Dot(a.Pass, d)) < 1e-9
						} else {
							ok = ok && a.D == 0 && a.Pass == r3.Vec{}
						}
						if !ok {
							t.Fatalf("%s, ring %v, setting %v, ray %v: %+v", name, ring, setting, d, a)
						}
						b := half.Answer(d)
						if math.Abs(a.T-b.T) > 1e-9 || math.Abs(a.D-b.D) > 1e-9 || (f.Polarises() && lineAngleDeg(a.Pass, b.Pass) > 1e-6) {
							t.Fatalf("%s: half a turn of the ring changes %+v into %+v", name, a, b)
						}
					}
				}
				a := m.Answer(r3.Vec{Z: 1})
				if a.T != a.T || math.IsInf(a.T, 0) {
					t.Fatalf("%s: no answer on the axis", name)
				}
			}
		}
	}
}

// What is said of a filter in words is what a ray on the axis loses.
func TestTotalStopsIsTheAxis(t *testing.T) {
	for name, f := range allKinds() {
		setting := 0.0
		if f.Kind == Variable {
			setting = f.ToStops
		}
		m := f.Mount(35, setting)
		if got, want := f.TotalStops(setting), m.onAxisStops(); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: says %v, loses %v", name, got, want)
		}
	}
}

// Behind a polariser the two directions of light add up to what is passed of plain light.
func TestPassedAddsUp(t *testing.T) {
	m := Filter{Kind: Polariser, LossStops: 1.5}.Mount(50, 0)
	d := pixel(.6, -.3)
	a := m.Answer(d)
	e1 := r3.Unit(r3.Cross(d, r3.Vec{Y: 1}))
	e2 := r3.Cross(d, e1)
	if got := (a.Passed(1, e1) + a.Passed(1, e2)) / 2; math.Abs(got-a.T) > 1e-12 {
		t.Errorf("%v, want %v", got, a.T)
	}
	if a.Passed(0, e1) != a.T {
		t.Error("plain light has no direction")
	}
}

func TestAnswerDoesNotAllocate(t *testing.T) {
	for name, f := range allKinds() {
		m := f.Mount(20, f.ToStops)
		d := pixel(.4, .2)
		if n := testing.AllocsPerRun(100, func() { sink = m.Answer(d) }); n != 0 {
			t.Errorf("%s: %v allocations an answer", name, n)
		}
	}
}

var sink Answer

// benchmarkFrame asks for every pixel of a small picture.
func benchmarkFrame(b *testing.B, f Filter) {
	const w, h = 160, 90
	rays := make([]r3.Vec, 0, w*h)
	for j := range h {
		for i := range w {
			rays = append(rays, pixel((float64(i)+.5-w/2)/100, (h/2-float64(j)-.5)/100))
		}
	}
	m := f.Mount(45, 4)
	b.ReportAllocs()
	for b.Loop() {
		var sum float64
		for i := range rays {
			t, dia, pass := m.Parts(rays[i])
			sum += t * (1 + dia*pass.X)
		}
		sink.T = sum
	}
}

func BenchmarkFramePolariser(b *testing.B) {
	benchmarkFrame(b, Filter{Kind: Polariser, LossStops: 1.5})
}

func BenchmarkFrameVariable(b *testing.B) {
	benchmarkFrame(b, Filter{Kind: Variable, FromStops: 1.6, ToStops: 5})
}

func BenchmarkFrameDensity(b *testing.B) {
	benchmarkFrame(b, Filter{Kind: Density, Stops: 4})
}

func BenchmarkMount(b *testing.B) {
	f := Filter{Kind: Variable, FromStops: 1.6, ToStops: 5}
	for b.Loop() {
		m := f.Mount(45, 4)
		sink.T = m.q
	}
}
