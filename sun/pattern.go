package sun

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Constants of the degree of polarisation. Those without a source are ours: fitted to a vector
// radiative-transfer calculation at sun heights and albedos other than the ones it is tested on.
const (
	skyFloorDeg   = 0.5 // below this altitude the sky has the light of this altitude
	noPatternDeg  = -4  // sun lower than this: no claim about the degree
	noUsefulCloud = 0.9 // from this cloud cover on a polariser does nothing useful to the sky
	neutralW      = 1e-9

	// The error bar: how far off the aerosol's depth may be, ÷×, guessed from a visibility or told, and what the
	// formulas themselves are off.
	guessedDepthError, givenDepthError = 1.6, 1.15
	formulaError                       = 0.04
)

var (
	sinFloor   = math.Sin(skyFloorDeg * math.Pi / 180)
	haloOffset = math.Exp(-1.5 * math.Pi)
)

// Pattern is how the light of a sky is distributed: its degree and direction of polarisation and
// its relative brightness, at one wavelength and for one place of the sun. It costs little to make
// (no integral over the sky) and nothing to copy; its methods allocate nothing and may be called
// from several goroutines.
//
// The sky has two neutral points, one above and one below the sun, where the light is unpolarised.
// Between them and everywhere else the direction of E follows from the two alone: with a and b the
// vectors from the view square to it towards the one and the other, E bisects them (the field of
// Berry, Dennis & Lee 2004, New J. Phys. 6:162, eq. 4.2, here in vectors, without its poles).
//
// How sure: without aerosol the degree is within 0.003 rms (0.01 at most) of a vector transfer
// calculation and E within 0.5°; with aerosol 0.06 rms and 1.3° rms ([Pattern.DegreeRange] says more).
// Validated for views above 3° and more than 15° from the sun. Not modelled: edges of broken cloud,
// terrain, the polarisation of twilight (a sun below the horizon counts as one on it).
type Pattern struct {
	sunAltDeg    float64 // as given
	sun, square  r3.Vec  // towards the sun, and the point 90° above it on its vertical
	above, below r3.Vec  // neutral points
	between      float64 // cosine of the angle between them
	sin2Above    float64 // squared sine of the distance of each from the sun
	sin2Below    float64
	aerosol              // as it is taken to be
	least, most  aerosol // what lets the degree be highest and lowest within reason
	tau          float64 // whole optical depth
	cloud        float64
	blend        blend
}

// aerosol is what the particles in the air do to the degree.
type aerosol struct {
	pmax    float64 // greatest degree of the molecular sky, aerosol's depolarisation included
	beta    float64 // aerosol's share of the optical depth
	dulling float64 // how much aerosol takes off the degree near the horizon
}

// newAerosol takes the molecular sky's 1/pmax, the two depths, and how strongly the aerosol depolarises.
func newAerosol(base, tauR, tauA, k float64) aerosol {
	h := aerosol{pmax: 1 / (base * (1 + k*tauA)), dulling: 0.35 * (1 - math.Exp(-tauA/0.12))}
	if tau := tauR + tauA; tau > 0 {
		h.beta = tauA / tau
	}
	return h
}

// optics is the air at one wavelength, as the formulas take it.
type optics struct {
	tauR, tauA, albedo float64
	k, kLeast, kMost   float64
	depthError         float64 // ÷×
	cloud              Cloud
}

// NewPattern makes the pattern for a sun at an azimuth and (apparent) altitude in degrees, in the
// given air, at a wavelength in nanometres (550 for luminance and for measures; validated 450..650).
// A sun below the horizon counts as one on it.
func NewPattern(sunAzDeg, sunAltDeg float64, a Air, nm float64) Pattern {
	a = a.sound()
	o := optics{
		tauR: RayleighDepth(nm, a.PressureHPa), tauA: AerosolDepthAt(a.AOD, nm), albedo: a.Albedo,
		depthError: guessedDepthError, cloud: a.Cloud,
	}
	o.k, o.kLeast, o.kMost = a.Kind.k()
	if a.DepthGiven {
		o.depthError = givenDepthError
	}
	return newPattern(sunAzDeg, sunAltDeg, o)
}

func newPattern(sunAzDeg, sunAltDeg float64, o optics) Pattern {
	h := min(max(sunAltDeg, 0), 90) * math.Pi / 180
	sinH, cosH := math.Sincos(h)
	if sunAltDeg >= 90 {
		cosH = 0
	}
	sinA, cosA := math.Sincos(sunAzDeg * math.Pi / 180)
	p := Pattern{
		sunAltDeg: sunAltDeg,
		sun:       r3.Vec{X: cosH * sinA, Y: cosH * cosA, Z: sinH},
		square:    r3.Vec{X: -sinH * sinA, Y: -sinH * cosA, Z: cosH},
		tau:       o.tauR + o.tauA,
		cloud:     o.cloud.Cover,
	}
	base := 1.06 + 0.77*o.tauR + o.albedo*(2.50*sinH+0.10)
	p.aerosol = newAerosol(base, o.tauR, o.tauA, o.k)
	p.most = newAerosol(base, o.tauR, o.tauA*o.depthError, o.kMost)
	p.least = newAerosol(base, o.tauR, o.tauA/o.depthError, o.kLeast)
	p.place(neutralDistances(o.tauR, sinH, cosH))
	p.blend = newBlend(o.cloud, p.sun.Z)
	return p
}

// place puts the neutral points so many degrees above and below the sun.
func (p *Pattern) place(aboveDeg, belowDeg float64) {
	sa, ca := math.Sincos(aboveDeg * math.Pi / 180)
	sb, cb := math.Sincos(belowDeg * math.Pi / 180)
	p.above = r3.Add(r3.Scale(ca, p.sun), r3.Scale(sa, p.square))
	p.below = r3.Sub(r3.Scale(cb, p.sun), r3.Scale(sb, p.square))
	p.between = r3.Dot(p.above, p.below)
	p.sin2Above, p.sin2Below = sa*sa, sb*sb
}

// neutralDistances returns how far above and below the sun the neutral points stand, in degrees, for
// a Rayleigh depth and a sun at the altitude with that sine and cosine (ours, fitted; aerosol
// moves them too, which is not modelled).
func neutralDistances(tauR, sinH, cosH float64) (above, below float64) {
	above = 35.86 * math.Pow(tauR, 0.3024) * math.Pow(cosH, 1.053) * (1 - 0.251*sinH)
	below = 39.88 * math.Pow(tauR, 0.3496) * math.Pow(cosH, 1.2886) * (1 + 0.154*sinH)
	return above, below
}

// UsefulSky tells whether a polariser can do anything useful to this sky: not from 9/10 of cloud.
func (p *Pattern) UsefulSky() bool { return p.cloud < noUsefulCloud }

// view is a direction as the formulas take it.
type view struct {
	cosSun float64 // cosine of the angle to the sun
	halo   float64 // e^(−3γ)
	sinEl  float64 // sine of the altitude, not below the floor
}

func (p *Pattern) view(d r3.Vec) view {
	c := r3.Dot(d, p.sun)
	v := view{cosSun: c, halo: haloAt(c), sinEl: d.Z}
	if !(v.sinEl > sinFloor) {
		v.sinEl = sinFloor
	}
	return v
}

// peak is the scattering function of aerosol: flat sideways, steep towards the sun.
func (v view) peak() float64 { return 1 + 16*(v.halo-haloOffset) + 0.30*v.cosSun*v.cosSun }

// neutrality returns what the degree is made from: cb and cr are the cosines of the angles from d to
// the neutral points, w the product of their sines, and share/whole is w made 1 at its greatest on
// each circle round the sun. The two stay apart so that the degree needs one division. (Five
// results and no struct: the compiler keeps these in registers.)
func (p *Pattern) neutrality(d r3.Vec, cosSun float64) (cb, cr, w, share, whole float64) {
	cb, cr = r3.Dot(d, p.above), r3.Dot(d, p.below)
	if ww := (1 - cb*cb) * (1 - cr*cr); ww > 0 {
		w = math.Sqrt(ww)
	}
	s := 1 - cosSun*cosSun
	if !(s > 1e-12) {
		s = 1e-12
	}
	q := r3.Dot(d, p.square)
	q *= q
	whole = math.Sqrt((s - p.sin2Above*q) * (s - p.sin2Below*q))
	share = w * s
	if share > whole {
		share = whole
	}
	return cb, cr, w, share, whole
}

// degree is the degree without cloud: with m = share/whole, pmax·m·dull / ((1−β)(1 + pmax(1−m)) + β·peak).
func (h *aerosol) degree(share, whole float64, v view) float64 {
	dull := 1.0
	if h.dulling != 0 {
		dull -= h.dulling * expNeg(v.sinEl*(1/0.17))
	}
	air := (1 - h.beta) * h.pmax
	return h.pmax * share * dull / ((1-h.beta+air+h.beta*v.peak())*whole - air*share)
}

// underCloud thins a degree: ours, bounded by the 0.16 that Hegedüs, Åkesson & Horváth 2007 (J. Opt.
// Soc. Am. A 24:2347, abstract) found at most under an overcast sky.
func (p *Pattern) underCloud(degree float64) float64 {
	c := p.cloud
	if c == 0 {
		return degree
	}
	return degree*(1-c)*(1-0.3*c) + c*min(0.16, 0.2*degree)
}

// Polarisation returns the degree of linear polarisation, 0..1, of the sky in direction d (a unit vector
// in East-North-Up) and the direction of the electric field: a unit vector square to d, its sign free.
// At a neutral point, where there is no direction, it is any unit vector square to d.
func (p *Pattern) Polarisation(d r3.Vec) (degree float64, e r3.Vec) {
	v := p.view(d)
	return p.polarisation(d, v)
}

func (p *Pattern) polarisation(d r3.Vec, v view) (degree float64, e r3.Vec) {
	cb, cr, w, share, whole := p.neutrality(d, v.cosSun)
	degree = p.underCloud(p.aerosol.degree(share, whole, v))
	if w < neutralW {
		return degree, anySquare(d)
	}
	// With a = d × above and b = d × below, E lies along a|b| + b|a|, and equally along
	// d × (a|b| − b|a|); the longer of the two is well conditioned. Both are scaled by |b| here,
	// which saves two roots: |b|² = 1 − cr² and |a||b| = w.
	bb := 1 - cr*cr
	a, b := r3.Cross(d, p.above), r3.Cross(d, p.below)
	if p.between >= cb*cr { // a·b ≥ 0
		e = r3.Vec{X: a.X*bb + b.X*w, Y: a.Y*bb + b.Y*w, Z: a.Z*bb + b.Z*w}
	} else {
		e = r3.Cross(d, r3.Vec{X: a.X*bb - b.X*w, Y: a.Y*bb - b.Y*w, Z: a.Z*bb - b.Z*w})
	}
	f := 1 / math.Sqrt(e.X*e.X+e.Y*e.Y+e.Z*e.Z)
	return degree, r3.Vec{X: e.X * f, Y: e.Y * f, Z: e.Z * f}
}

// Stokes returns the polarisation in direction d against two unit vectors u1, u2 square to d and to
// each other: degree·(c²−s²) and degree·2cs with c = e·u1, s = e·u2. Light that passes a sheet along
// t = cos τ u1 + sin τ u2 is then 1 + cos2·cos 2τ + sin2·sin 2τ in units of half the unpolarised
// light. There is no root of E in it and no case for neutral points, so it is the cheaper way when
// many settings of a ring are tried.
func (p *Pattern) Stokes(d, u1, u2 r3.Vec) (degreeCos2, degreeSin2 float64) {
	v := p.view(d)
	dull := 1.0
	if p.dulling != 0 {
		dull -= p.dulling * expNeg(v.sinEl*(1/0.17))
	}
	return p.stokes(d, u1, u2, v.cosSun, v.peak(), dull)
}

// stokes is the same for whoever has the aerosol's part of it. The degree over w, which the two need, is one division: the
// share of the whole is w·s but where rounding makes it more.
func (p *Pattern) stokes(d, u1, u2 r3.Vec, cosSun, peak, dull float64) (degreeCos2, degreeSin2 float64) {
	cb, cr := r3.Dot(d, p.above), r3.Dot(d, p.below)
	ww := (1 - cb*cb) * (1 - cr*cr)
	if !(ww >= neutralW*neutralW) {
		return 0, 0
	}
	f := p.degreeOver(ww, cosSun, r3.Dot(d, p.square), peak, dull)
	a1, a2 := r3.Dot(u1, p.above), r3.Dot(u2, p.above)
	b1, b2 := r3.Dot(u1, p.below), r3.Dot(u2, p.below)
	return f * (a2*b2 - a1*b1), -f * (a1*b2 + a2*b1)
}

// degreeOver returns the degree over w, whose square is ww: the product of the sines of the distances from the neutral points.
// cosSquare is the cosine of the angle to the point 90° above the sun.
func (p *Pattern) degreeOver(ww, cosSun, cosSquare, peak, dull float64) float64 {
	s := max(1-cosSun*cosSun, 1e-12)
	q := cosSquare * cosSquare
	whole2 := (s - p.sin2Above*q) * (s - p.sin2Below*q)
	w, whole := math.Sqrt(ww), math.Sqrt(whole2)
	share := w * s
	if share > whole {
		share, s = whole, whole/w
	}
	air := (1 - p.beta) * p.pmax
	f := p.pmax * s * dull / ((1-p.beta+air+p.beta*peak)*whole - air*share)
	if p.cloud != 0 {
		f = p.underCloud(f*w) / w
	}
	return f
}

// DegreeRange returns the error bar of the degree in direction d. It is not even about the degree: it runs from
// what dust or smoke 1.6 times as deep would leave to what clean fine haze 1.6 times thinner would, and 0.04
// further at both ends for the formulas themselves. A depth that is given counts as known within 1.15 times, a
// kind of air that is named within 1.4 times of its depolarisation. With the sun below the horizon the bar
// widens, and from −4° nothing is claimed: 0, 1. All of this is ours; of the values of a vector transfer
// calculation with three kinds of aerosol nine in ten and more lie inside, also at a right angle to the sun.
func (p *Pattern) DegreeRange(d r3.Vec) (low, high float64) {
	v := p.view(d)
	_, _, _, share, whole := p.neutrality(d, v.cosSun)
	low = clip01(p.underCloud(p.most.degree(share, whole, v)) - formulaError)
	high = clip01(p.underCloud(p.least.degree(share, whole, v)) + formulaError)
	dusk := clip01(p.sunAltDeg / noPatternDeg)
	return low * (1 - dusk), high + (1-high)*dusk
}

// EVectorDeg returns the direction of E as an angle in degrees from the vertical plane through the
// ray, positive anticlockwise as the observer who looks along d sees it, in (−90, 90]. At the zenith
// and the nadir, which have no vertical plane, the one through north is taken.
func EVectorDeg(d, e r3.Vec) float64 {
	right := r3.Vec{X: d.Y, Y: -d.X} // d × up
	if n := math.Hypot(right.X, right.Y); n < 1e-12 {
		right = r3.Vec{X: 1}
	} else {
		right = r3.Scale(1/n, right)
	}
	up := r3.Cross(right, d)
	deg := math.Atan2(-r3.Dot(e, right), r3.Dot(e, up)) * 180 / math.Pi
	if deg > 90 {
		deg -= 180
	}
	if deg <= -90+1e-9 { // level is +90, also when rounding puts it a hair on the other side
		deg = min(deg+180, 90)
	}
	return deg
}

// anySquare returns a unit vector square to d, level where there is one.
func anySquare(d r3.Vec) r3.Vec {
	if n := math.Hypot(d.X, d.Y); n > 1e-6 {
		return r3.Vec{X: d.Y / n, Y: -d.X / n}
	}
	return r3.Unit(r3.Cross(d, r3.Vec{Y: 1}))
}

func clip01(x float64) float64 { return min(max(x, 0), 1) }
