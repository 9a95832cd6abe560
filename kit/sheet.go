package kit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Optics of one polarising sheet.
//
// A sheet absorbs the field along its material axis c. What passes a ray d is square to both, so
// its direction is c × d: the geometric model of Korger et al. 2013 (Optics Express 21:27032; the
// paper was not read in full, the rule was read in two optical codes). Projecting the pass axis on
// the plane square to the ray looks as good and is wrong: it is off by up to 16.8° 42° off the
// axis, and of a pair of sheets it darkens the wrong corners.
const (
	// filmIndex is the refractive index of the polarising film and of the glass that carries it
	// (from memory). A ray is less tilted inside.
	filmIndex = 1.5

	// Extinction is k2/k1 of a sheet: how much light along the absorbing axis passes, against
	// light along the passing one (ours).
	Extinction = 1e-4

	// defaultLossStops is what a polariser takes from unpolarised light unless its owner says
	// otherwise (common practice, no source).
	defaultLossStops = 1.5

	// maxStops bounds every loss, so that the fast power of two stays in its range.
	maxStops = 300
)

// extinctionStops is Extinction in stops: −log2(1e−4).
const extinctionStops = 13.287712379549449

// sheet is a polarising sheet at some ring position.
type sheet struct {
	cx, cy float64 // absorbing axis in camera coordinates (right, up); its forward part is 0
}

// newSheet places a sheet with its pass axis at the given clock angle in the picture.
func newSheet(passAxisDeg float64) sheet {
	s, c := math.Sincos(passAxisDeg * math.Pi / 180)
	return sheet{cx: c, cy: -s}
}

// along returns the part of a ray along the absorbing axis.
func (s sheet) along(d r3.Vec) float64 { return s.cx*d.X + s.cy*d.Y }

// pass returns the unit vector along the E that passes for the ray d. cosIn is the cosine of the
// ray's tilt inside the film, q is 1/n².
//
// Refraction at the front face turns the ray but not the part of the field square to the plane of
// incidence; carried back to the air, the absorbing axis acts as c + h (c·d)(dx, dy, 0) with
// h = (1 − 1/n²)/(dz (cos θ′ + dz)) (ours, exact; see TestFilmRefraction). The common factor
// dz (cos θ′ + dz) is multiplied in rather than divided out because the result is normalised.
func (s sheet) pass(d r3.Vec, cosIn, q float64) r3.Vec {
	g := d.Z * (cosIn + d.Z)
	h := (1 - q) * (s.cx*d.X + s.cy*d.Y)
	ax, ay := s.cx*g+h*d.X, s.cy*g+h*d.Y
	x, y, z := ay*d.Z, -ax*d.Z, ax*d.Y-ay*d.X
	n2 := x*x + y*y + z*z
	if n2 < 1e-200 { // a ray in the plane of the sheet along its axis: any direction will do
		return r3.Vec{X: -s.cy, Y: s.cx}
	}
	k := 1 / math.Sqrt(n2)
	return r3.Vec{X: x * k, Y: y * k, Z: z * k}
}

// cosInside returns the cosine of a ray's tilt inside the film by Snell's law.
func cosInside(d r3.Vec, q float64) float64 { return math.Sqrt(1 - q*(d.X*d.X+d.Y*d.Y)) }

// sheetK1 returns the transmittance along the passing axis of a sheet that takes lossStops from
// unpolarised light: k1 = 2^(1−loss)/(1 + k2/k1).
func sheetK1(lossStops float64) float64 { return math.Exp2(1-lossStops) / (1 + Extinction) }
