package kit_test

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

// A variable filter is two sheets, and turned towards dark it grows uneven: one pair of corners of a
// frame of 84° loses more than the other. That the lighter half of the marks looks even and the heavier
// half does not is common practice, no source; the figures agree with a second program.
func ExampleFilter_Mount() {
	f := kit.Filter{Kind: kit.Variable, FromStops: 2, ToStops: 5, OpensCW: true}
	right, left := r3.Unit(r3.Vec{X: .785, Y: .4414, Z: 1}), r3.Unit(r3.Vec{X: -.785, Y: .4414, Z: 1})
	stops := func(m *kit.Mount, d r3.Vec) float64 { return -math.Log2(m.Answer(d).T) }
	for setting := 2.0; setting <= 5; setting++ {
		m := f.Mount(0, setting)
		fmt.Printf("%.1f on the axis, corners %.2f apart\n", stops(&m, r3.Vec{Z: 1}), stops(&m, left)-stops(&m, right))
	}
	// Output:
	// 2.0 on the axis, corners 0.07 apart
	// 3.0 on the axis, corners 0.46 apart
	// 4.0 on the axis, corners 0.98 apart
	// 5.0 on the axis, corners 1.66 apart
}

// A sheet takes a stop and a half from plain light (common practice, no source), and from a sky that
// is polarised by three quarters along the passing axis, or across it, what Malus' law says: a factor
// of 1 ± ¾ on that.
func ExampleAnswer_Passed() {
	m := kit.Filter{Kind: kit.Polariser, LossStops: 1.5}.Mount(0, 0)
	a := m.Answer(r3.Vec{Z: 1})
	for _, e := range []r3.Vec{{Y: 1}, {X: 1}} {
		fmt.Printf("%.2f stops\n", -math.Log2(a.Passed(.75, e)))
	}
	// Output:
	// 0.69 stops
	// 3.50 stops
}

// With the sun towards half past one in the picture the sky ahead is darkest when the pass axis points
// at it, for the light of the sky is polarised square to that. The hand that turns the ring is in front
// of the lens, where the clock runs the other way.
func ExampleClock() {
	passAxis := 45.0 // along half past one as the picture has it
	ring := kit.RingFor(passAxis, 0)
	fmt.Println(ring, kit.Clock(ring))
	// Output: 135 10:30 or 4:30
}

// All faults come at once, each with its place and what may stand there.
func ExampleReadBag() {
	_, faults := kit.ReadBag("bag.yaml", []byte(`skywedge_bag: 1
cameras:
  - {name: small, sensor_mm: [6.4, 4.8], pixels: [4000, 3000], focal_mm: 4.5, aperture: 2.8, iso: {base: 100, clean: 50, limit: 1600}}
filters:
  - {name: ND8, kind: densty, stops: 3}
`))
	for _, f := range faults {
		fmt.Println(f)
	}
	// Output:
	// bag.yaml:3:118: cameras[0].iso.clean: found 50; allowed: at least the base sensitivity, 100
	// bag.yaml:5:23: filters[0].kind: found "densty"; allowed: polariser, density, hybrid, variable or diffusion; did you mean density?
}
