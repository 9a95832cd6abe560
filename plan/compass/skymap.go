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
	Most    MostPolarised // wherever the places of the map lie
	Useful  bool          // a polariser can do something to this sky; not under an overcast
	Vouched bool          // the sun is high enough for the sky model to be held against anything: above −4°
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
	m.Most = mostPolarised(&pattern, p.AzimuthDeg)
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

// MostPolarised is where a sky is polarised most.
type MostPolarised struct {
	Degree float64 // 0..1
	At     Bearing
}

// The greatest degree is looked for in steps of 3°, and about the best of them in ever finer ones down to a fifth: it is flat there, and
// its direction is told in whole degrees (ours).
const (
	searchDeg = 3.0
	closeDeg  = 0.2
)

// mostPolarised looks for the greatest degree of polarisation above the horizon. It goes by the sky alone, from the
// sun's bearing on one side round to the opposite one.
func mostPolarised(sky frame.Sky, sunAzDeg float64) MostPolarised {
	degree := func(off, alt float64) float64 {
		d := sun.Direction(sunAzDeg+off, alt)
		right, up, _, _ := levelAxes(d)
		q, u := sky.Stokes(d, right, up)
		return math.Hypot(q, u)
	}
	var most, bestOff, bestAlt float64
	look := func(off, reachOff, stepOff, alt, reachAlt, stepAlt float64) {
		for i := -math.Round(reachOff / stepOff); i <= math.Round(reachOff/stepOff); i++ {
			for k := -math.Round(reachAlt / stepAlt); k <= math.Round(reachAlt/stepAlt); k++ {
				o, a := min(max(off+i*stepOff, 0), 180), min(max(alt+k*stepAlt, 0), 90)
				if p := degree(o, a); p > most+1e-9 {
					most, bestOff, bestAlt = p, o, a
				}
			}
		}
	}
	look(90, 90, searchDeg, 45, 45, searchDeg)
	for step := searchDeg / 2; step >= closeDeg; step /= 2 {
		// a degree of azimuth is little near the zenith
		stepOff := min(45, step/max(math.Cos(bestAlt*math.Pi/180), 1e-3))
		look(bestOff, 2*stepOff, stepOff, bestAlt, 2*step, step)
	}
	// A ridge of nearly the same degree runs across the sky, square to the sun. What of it lies opposite the sun speaks
	// for all of it, where that is as good.
	ridge, ridgeAlt := 0.0, 0.0
	for alt := 0.0; alt <= 90; alt += closeDeg {
		if p := degree(180, alt); p > ridge+1e-9 {
			ridge, ridgeAlt = p, alt
		}
	}
	if ridge > most-asGood {
		bestOff, bestAlt = 180, ridgeAlt
	}
	return MostPolarised{Degree: min(most, 1), At: Bearing{AzimuthDeg: angle.Wrap360(sunAzDeg + bestOff), AltitudeDeg: bestAlt}}
}

// asGood is the degree of polarisation that nobody can tell (ours).
const asGood = 0.005

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
