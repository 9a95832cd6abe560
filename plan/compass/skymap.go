package compass

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// The sky is drawn as a map: the zenith in the middle, the horizon at the edge, north up and east to
// the right, as on a map of the ground and not as the sky looks to one who lies under it. The
// projection is the stereographic one (from memory: Snyder 1987, Map Projections, USGS Professional Paper 1395,
// chapter 21). It keeps angles, so a stroke crosses a line of the map as E crosses that line in the sky,
// and it gives the low sky, which is the part that frames see, the most room.

// onMap returns the place of a direction (a unit vector in East-North-Up): x to the east and y to the
// north, the horizon being the circle of radius 1 about the zenith. Below the horizon the radius grows
// past 1; the nadir has no place and is put far out.
func onMap(d r3.Vec) (x, y float64) {
	k := 1 / math.Max(1+d.Z, 1e-9)
	return k * d.X, k * d.Y
}

// fromMap returns the direction of a place on the map.
func fromMap(x, y float64) r3.Vec {
	r := x*x + y*y
	return r3.Vec{X: 2 * x / (1 + r), Y: 2 * y / (1 + r), Z: (1 - r) / (1 + r)}
}

// SkyMap is the sky over the aircraft at one moment, N by N places row by row from the north-west
// corner. Places outside the horizon hold NaN.
type SkyMap struct {
	N      int
	Degree []float64 // of linear polarisation, 0..1
	E      []float64 // direction of E on the map, degrees clockwise from north, 0 <= E < 180
	// Effect is what the filter of the leg's flight, as it is mounted, does to the middle of a frame that is
	// pointed there: stops against a density of the same loss, negative darkens.
	Effect  []float64
	Sun     sun.Position
	Useful  bool // a polariser can do something to this sky; not under an overcast
	Vouched bool // the sun is high enough for the sky model to be held against anything: above −4°
}

// twilightDeg is the altitude of the sun below which the sky's model claims nothing.
const twilightDeg = -4

// SkyMapAt lays the sky out for a second of the flight (counted as [Shot.MomentAt] counts), at the sun
// of the first take. The report must have legs.
func SkyMapAt(r *plan.Report, second float64, n int) *SkyMap {
	mo := r.MomentAt(second)
	p := mo.Sun[0]
	pattern := r.PatternAt(&mo)
	m := &SkyMap{N: max(n, 1), Sun: p, Useful: pattern.UsefulSky(), Vouched: p.GeometricDeg >= twilightDeg}
	m.fill(&pattern, r.MountedOn(mo.Leg).Centre())
	return m
}

func (m *SkyMap) fill(sky frame.Sky, a kit.Answer) {
	n := m.N
	all := make([]float64, 3*n*n)
	m.Degree, m.E, m.Effect = all[:n*n:n*n], all[n*n:2*n*n:2*n*n], all[2*n*n:]
	c, s := a.D*(a.Pass.X*a.Pass.X-a.Pass.Y*a.Pass.Y), 2*a.D*a.Pass.X*a.Pass.Y
	for k := range m.Degree {
		x, y := m.Place(k)
		if x*x+y*y > 1 {
			m.Degree[k], m.E[k], m.Effect[k] = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		d := fromMap(x, y)
		right, up, sinAz, cosAz := levelAxes(d)
		q, u := sky.Stokes(d, right, up)
		m.Degree[k] = min(math.Hypot(q, u), 1)
		// On the map, up is towards the middle and right is clockwise about it.
		t, b := math.Sincos(math.Atan2(u, q) / 2)
		m.E[k] = angle.Axis180(math.Atan2(b*cosAz-t*sinAz, -b*sinAz-t*cosAz) * 180 / math.Pi)
		m.Effect[k] = math.Log2(max(1+c*q+s*u, 2e-5))
	}
}

// Place returns where on the map the k-th place lies, in the units of [onMap].
func (m *SkyMap) Place(k int) (x, y float64) {
	n := float64(m.N)
	return (2*float64(k%m.N) + 1 - n) / n, (n - 2*float64(k/m.N) - 1) / n
}

// greatest returns the greatest degree of polarisation on the map, and where.
func (m *SkyMap) greatest() (degree float64, at Bearing) {
	for k, p := range m.Degree {
		if p > degree {
			degree = p
			at = skyBearing(fromMap(m.Place(k)))
		}
	}
	return degree, at
}

// levelAxes returns the axes of a level camera that looks along d, right and up, and sine and cosine of
// its heading. At the zenith the camera heads north.
func levelAxes(d r3.Vec) (right, up r3.Vec, sinAz, cosAz float64) {
	sinAz, cosAz = 0, 1
	flat := math.Hypot(d.X, d.Y)
	if flat > 1e-12 {
		sinAz, cosAz = d.X/flat, d.Y/flat
	}
	return r3.Vec{X: cosAz, Y: -sinAz}, r3.Vec{X: -sinAz * d.Z, Y: -cosAz * d.Z, Z: flat}, sinAz, cosAz
}
