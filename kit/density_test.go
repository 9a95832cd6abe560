package kit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The corner of an 84° frame loses 0.117 N stops more than the axis, which loses N.
func TestDensityFalloff(t *testing.T) {
	for _, stops := range []float64{1, 3, 6, 9.97} {
		m := Filter{Kind: Density, Stops: stops}.Mount(0, 0)
		if got := m.onAxisStops(); math.Abs(got-stops) > 1e-8 {
			t.Errorf("%v stops: %v on the axis", stops, got)
		}
		st, ct := math.Sincos(42 * radian)
		corner := -math.Log2(m.Answer(r3.Vec{X: st * .8, Y: st * .6, Z: ct}).T) - stops
		if math.Abs(corner/stops-0.117) > 0.0005 {
			t.Errorf("%v stops: the corner loses %.4f N more, want 0.117 N", stops, corner/stops)
		}
	}
}

// Turning the ring, the aircraft or the light's polarisation changes nothing behind a density.
func TestDensityAsksForLightOnly(t *testing.T) {
	f := Filter{Kind: Density, Stops: 5, MarkDeg: 30}
	first := f.Mount(0, 0)
	for ring := 0.0; ring < 180; ring += 15 {
		m := f.Mount(ring, 3)
		frame(84, func(x, y float64) {
			d := pixel(x, y)
			a := m.Answer(d)
			if a != first.Answer(d) {
				t.Fatalf("ring %v changes a density at %v %v", ring, x, y)
			}
			for heading := 0.0; heading < 360; heading += 90 {
				e := singleScatterE(toCamera(eastNorthUp(100, 30), heading, 0), d)
				if a.Passed(0.75, e) != a.T {
					t.Fatalf("heading %v changes a density at %v %v", heading, x, y)
				}
			}
		})
	}
}

func TestDiffusionLayer(t *testing.T) {
	alone := Filter{Kind: Diffusion, Grade: "1/4"}.Mount(0, 0)
	if got := alone.onAxisStops(); math.Abs(got-diffusionLossStops) > 1e-9 {
		t.Errorf("a diffusion filter loses %v", got)
	}
	on := Filter{Kind: Density, Stops: 3, Grade: "1/8"}.Mount(0, 0)
	if got := on.onAxisStops(); math.Abs(got-3-diffusionLossStops) > 1e-8 {
		t.Errorf("a layer on three stops loses %v", got)
	}
	measured := Filter{Kind: Density, Stops: 3.2, MeasuredStops: 3.2, Grade: "1/8"}.Mount(0, 0)
	if got := measured.onAxisStops(); math.Abs(got-3.2) > 1e-8 {
		t.Errorf("a measured loss counts the layer already, got %v", got)
	}
}

// What a picture asks plain glass for is what the mount answers, along any ray; a sheet has no such answer.
func TestPlainIsTheAnswer(t *testing.T) {
	for _, f := range []Filter{{}, {Kind: Density, Stops: 4}, {Kind: Density, Stops: 9.97}, {Kind: Diffusion, Grade: "1/4"}, {Kind: Density, Stops: 3, Grade: "1/8"}} {
		m := f.Mount(30, 0)
		p, ok := m.Plain()
		if !ok {
			t.Fatalf("%+v: not plain", f)
		}
		for x := -1.5; x <= 1.5; x += .25 {
			for y := -1.0; y <= 1; y += .25 {
				want := -math.Log2(m.Answer(r3.Unit(r3.Vec{X: x, Y: y, Z: 1})).T)
				if got := p.Stops(x, y); math.Abs(got-want) > 1e-8 {
					t.Fatalf("%+v at %g, %g: %g stops, want %g", f, x, y, got, want)
				}
			}
		}
	}
	for _, f := range []Filter{{Kind: Polariser, LossStops: 1.5}, {Kind: Hybrid, Stops: 4, LossStops: 1.5}, {Kind: Variable, FromStops: 2, ToStops: 5}} {
		m := f.Mount(0, 3)
		if _, ok := m.Plain(); ok {
			t.Errorf("%+v: plain", f)
		}
	}
}
