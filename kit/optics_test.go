package kit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const radian = math.Pi / 180

// pixel returns the ray of a point of the picture in units of the focal length.
func pixel(x, y float64) r3.Vec { return r3.Unit(r3.Vec{X: x, Y: y, Z: 1}) }

// eastNorthUp returns the unit vector towards an azimuth and altitude.
func eastNorthUp(azDeg, altDeg float64) r3.Vec {
	sa, ca := math.Sincos(azDeg * radian)
	sh, ch := math.Sincos(altDeg * radian)
	return r3.Vec{X: ch * sa, Y: ch * ca, Z: sh}
}

// toCamera turns East-North-Up into camera coordinates for a heading and pitch, written out here
// because kit does not know the package that points cameras.
func toCamera(v r3.Vec, headingDeg, pitchDeg float64) r3.Vec {
	sh, ch := math.Sincos(headingDeg * radian)
	sp, cp := math.Sincos(pitchDeg * radian)
	return r3.Vec{
		X: r3.Dot(v, r3.Vec{X: ch, Y: -sh}),
		Y: r3.Dot(v, r3.Vec{X: -sh * sp, Y: -ch * sp, Z: cp}),
		Z: r3.Dot(v, r3.Vec{X: sh * cp, Y: ch * cp, Z: sp}),
	}
}

// singleScatterE returns the E direction of light scattered once from the sun s into the ray d.
func singleScatterE(s, d r3.Vec) r3.Vec { return r3.Unit(r3.Cross(s, d)) }

// passes returns the direction that a sheet of index n passes.
func (s sheet) passes(d r3.Vec, n float64) r3.Vec {
	q := 1 / (n * n)
	return s.pass(d, cosInside(d, q), q)
}

// lineAngleDeg returns the angle between two axes, degrees, 0..90.
func lineAngleDeg(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), math.Abs(r3.Dot(a, b))) / radian
}

// frame calls f for a grid over a 16:9 frame of the given diagonal field, corners and centre
// included.
func frame(diagonalDeg float64, f func(x, y float64)) {
	const nx, ny = 128, 72
	h := math.Tan(diagonalDeg/2*radian) / math.Hypot(16, 9)
	for j := 0; j <= ny; j++ {
		for i := 0; i <= nx; i++ {
			f(16*h*(2*float64(i)/nx-1), 9*h*(2*float64(j)/ny-1))
		}
	}
}

// allKinds is one filter of each build, for properties that all must have.
func allKinds() map[string]Filter {
	return map[string]Filter{
		"bare":      {},
		"polariser": {Kind: Polariser, LossStops: 1.5, MarkDeg: 20},
		"clear":     {Kind: Polariser, LossStops: 1},
		"density":   {Kind: Density, Stops: 9.97},
		"hybrid":    {Kind: Hybrid, Stops: 4, LossStops: 1.5, Grade: "1/4"},
		"variable":  {Kind: Variable, FromStops: 1.6, ToStops: 5, RearDeg: 10, OpensCW: true},
		"unit":      {Kind: Variable, FromStops: 6, ToStops: 9, FixedStops: 4},
		"diffusion": {Kind: Diffusion, Grade: "1"},
	}
}

// leak returns k2/k1 for the ray d. slant is 1/cos θ′, the length of the way through the film.
//
// A slanted ray goes a longer way, and its field is no longer exactly along the absorbing axis:
// ln k2(d) = [ln k2 sin²ξ + ln k1 cos²ξ]/cos θ′ with cos ξ = c·d/n, and k1(d) = k1^(1/cos θ′)
// (ours). Divided, k2/k1 = extinction^(sin²ξ/cos θ′).
func (s sheet) leak(d r3.Vec, slant, q float64) float64 {
	b := s.along(d)
	return exp2(-extinctionStops * (1 - q*b*b) * slant)
}

// onAxisStops returns the loss of unpolarised light on the optical axis, stops.
func (m *Mount) onAxisStops() float64 {
	return -math.Log2(m.Answer(r3.Vec{Z: 1}).T)
}
