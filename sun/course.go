package sun

import "math"

const (
	// samples is into how many steps a day is divided to find the turning points of the altitude. Over a day there
	// are at most one high and one low, hours apart.
	samples = 24
	// pieces is the most that a course is cut into: by a high and a low, and by a second one of them at an end.
	pieces = 4
	// closely is how closely turning points and crossings are found, in half days: 1 ms.
	closely = 1e-3 / 43200
)

// course is the sine of the sun's altitude over a day or less, cut into pieces that only rise or only fall. Among the stars
// the sun moves so evenly that its places at both ends and in the middle say where it is between (to 3e-6 of a degree), and
// the earth turns evenly. Times are parts of half the span, from −1 to 1.
type course struct {
	middle, half     float64    // seconds after J2000, seconds
	axis, here, east [3]float64 // the sun along the earth's axis, and in the plane of the equator: polynomials in time, times sine or cosine of the latitude
	turned, turns    float64    // by how much the place has turned in the middle, and turns in half the span; radians
	parallax         float64    // radians
	knots            [pieces + 1]float64
	sines            [pieces + 1]float64 // at the knots
	n                int
}

func courseOf(p site, a, b float64) course {
	c := course{middle: (a + b) / 2, half: (b - a) / 2}
	first, mid, last := sunAmongStars(a), sunAmongStars(c.middle), sunAmongStars(b)
	through := func(y0, y1, y2, times float64) [3]float64 {
		return [3]float64{y1 * times, (y2 - y0) / 2 * times, ((y0+y2)/2 - y1) * times}
	}
	c.axis = through(first.z, mid.z, last.z, p.sinLat)
	c.here = through(first.x, mid.x, last.x, p.cosLat)
	c.east = through(first.y, mid.y, last.y, p.cosLat)
	c.turned = mid.siderealRad + p.lonRad
	evenly := siderealDegPerDay * rad * (b - a) / daySeconds
	c.turns = (evenly + math.Remainder(last.siderealRad-first.siderealRad-evenly, 2*math.Pi)) / 2
	c.parallax = parallaxDeg * rad / mid.distanceAU

	c.add(-1)
	// One sample beyond each end, or a turning point within the first or the last step is missed:
	// the day's window ends at midnight, next to the lowest point.
	const step = 2.0 / samples
	before, here := c.sine(-1-step), c.sine(-1)
	for i := range samples + 1 {
		u := -1 + step*float64(i)
		after := c.sine(u + step)
		if here > before && here >= after || here < before && here <= after {
			if t := c.turningPoint(u-step, u+step); t > -1 && t < 1 && c.n < pieces {
				c.add(t)
			}
		}
		before, here = here, after
	}
	c.add(1)
	return c
}

func (c *course) add(u float64) {
	c.knots[c.n], c.sines[c.n] = u, c.sine(u)
	c.n++
}

// sine returns the sine of the altitude as it is from the centre of the earth.
func (c *course) sine(u float64) float64 {
	sin, cos := math.Sincos(c.turned + c.turns*u)
	at := func(k *[3]float64) float64 { return k[0] + u*(k[1]+u*k[2]) }
	return at(&c.axis) + at(&c.here)*cos + at(&c.east)*sin
}

// change returns the same with its first and second derivative.
func (c *course) change(u float64) (f, d, dd float64) {
	sin, cos := math.Sincos(c.turned + c.turns*u)
	at := func(k *[3]float64) (y, dy float64) { return k[0] + u*(k[1]+u*k[2]), k[1] + 2*u*k[2] }
	z, dz := at(&c.axis)
	x, dx := at(&c.here)
	y, dy := at(&c.east)
	f = z + x*cos + y*sin
	d = dz + dx*cos + dy*sin + c.turns*(y*cos-x*sin)
	dd = 2*(c.axis[2]+c.here[2]*cos+c.east[2]*sin) + 2*c.turns*(dy*cos-dx*sin) - c.turns*c.turns*(x*cos+y*sin)
	return f, d, dd
}

// turningPoint finds the highest or lowest point between two instants on both sides of it.
func (c *course) turningPoint(a, b float64) float64 {
	_, left, _ := c.change(a)
	return newton(a, b, left > 0, func(u float64) (float64, float64) {
		_, d, dd := c.change(u)
		return d, dd
	})
}

// newton finds where a function passes through nought between two arguments by Newton's rule, and by halving where that
// leads out. positive tells its sign at the first of the two.
func newton(a, b float64, positive bool, f func(float64) (value, slope float64)) float64 {
	u := (a + b) / 2
	for b-a > closely {
		y, slope := f(u)
		if y > 0 == positive {
			a = u
		} else {
			b = u
		}
		next := u - y/slope
		if !(next >= a && next <= b) { // also where the slope is nought
			next = (a + b) / 2
		}
		if math.Abs(next-u) < closely {
			return next
		}
		u = next
	}
	return u
}

// crossings appends to a list the passages of an altitude in degrees, as seen from the surface.
func (c *course) crossings(list []crossing, altDeg float64) []crossing {
	// From the centre of the earth the sun stands higher, by the parallax times the cosine of the altitude.
	alt := altDeg * rad
	sine := math.Sin(alt + c.parallax*math.Cos(alt+c.parallax*math.Cos(alt)))
	for i := 1; i < c.n; i++ {
		up0, up1 := c.sines[i-1] >= sine, c.sines[i] >= sine
		if up0 == up1 {
			continue
		}
		u := newton(c.knots[i-1], c.knots[i], up0, func(u float64) (float64, float64) {
			f, d, _ := c.change(u)
			return f - sine, d
		})
		list = append(list, crossing{instant(c.middle + u*c.half), up1})
	}
	return list
}
