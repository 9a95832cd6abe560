package sun

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// testSkies are airs and suns from edge to edge, a vertical sun and one below the horizon among
// them.
func testSkies() []Pattern {
	var all []Pattern
	for _, h := range []float64{-30, -5, -0.1, 0, 3, 20, 45, 75, 89.999, 90} {
		for _, a := range []Air{
			{PressureHPa: 1013},
			{AOD: 0.08, PressureHPa: 900, Albedo: 0.15, Cloud: Cloud{0.3, 0.4}, DepthGiven: true},
			{AOD: 2, PressureHPa: 1013, Albedo: 1, Cloud: Cloud{0.7, 0.8}, Kind: AirDust},
			{AOD: 0.3, PressureHPa: 1013, Albedo: 0.8, Cloud: Cloud{1, 1}, Kind: AirTown},
		} {
			all = append(all, NewPattern(217, h, a, 550))
		}
	}
	return append(all, NewPattern(0, 40, Air{}, 550), NewPattern(-77, 95, Air{AOD: -1, PressureHPa: -5, Albedo: 3, Cloud: Cloud{7, -7}}, 450))
}

// testDirections are random directions all round, and every special one of a pattern.
func testDirections(p *Pattern) []r3.Vec {
	r := rand.New(rand.NewPCG(1, 2))
	ds := []r3.Vec{{Z: 1}, {Z: -1}, {X: 1}, {Y: -1}, p.sun, r3.Scale(-1, p.sun), p.above, p.below,
		p.square, r3.Scale(-1, p.above), r3.Scale(-1, p.below), Direction(0, 89.9999999), Direction(37, 1e-12)}
	for range 300 {
		ds = append(ds, r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}))
	}
	for _, d := range []r3.Vec{p.sun, p.above, p.below} {
		for _, far := range []float64{1e-12, 1e-9, 1e-7, 1e-5, 1e-3} {
			ds = append(ds, r3.Unit(r3.Add(d, r3.Scale(far, anySquare(d)))))
		}
	}
	return ds
}

func TestSkyIsSoundInEveryDirection(t *testing.T) {
	skies := testSkies()
	for i := range skies {
		p := &skies[i]
		s := p.Sky(10000)
		for _, d := range testDirections(p) {
			degree, e := p.Polarisation(d)
			if !(degree >= 0 && degree <= 1) || degree != p.degree(d) {
				t.Fatalf("sky %d towards %v: degree %g, alone %g", i, d, degree, p.degree(d))
			}
			if !(math.Abs(r3.Norm(e)-1) < 1e-12) || !(math.Abs(r3.Dot(e, d)) < 1e-6) {
				t.Fatalf("sky %d towards %v: E %v, length %g, along the ray %g", i, d, e, r3.Norm(e), r3.Dot(e, d))
			}
			if angle := EVectorDeg(d, e); !(angle > -90 && angle <= 90) {
				t.Fatalf("sky %d towards %v: angle %g", i, d, angle)
			}
			low, high := p.DegreeRange(d)
			if !(low >= 0 && low <= degree && degree <= high && high <= 1) {
				t.Fatalf("sky %d towards %v: %g not within %g..%g", i, d, degree, low, high)
			}
			if l := s.Luminance(d); !(l > 0) || math.IsInf(l, 0) {
				t.Fatalf("sky %d towards %v: luminance %g", i, d, l)
			}
			if ray := s.At(d); ray != (Ray{s.Luminance(d), degree, e}) {
				t.Fatalf("sky %d towards %v: the parts and the whole differ: %v", i, d, ray)
			}
		}
	}
}

// A sky is its own mirror image in the sun's vertical plane.
func TestSkyMirrorsAboutTheSunsVertical(t *testing.T) {
	skies := testSkies()
	for i := range skies {
		p := &skies[i]
		side := r3.Unit(r3.Cross(p.square, p.sun))
		mirror := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(2*r3.Dot(v, side), side)) }
		for _, d := range testDirections(p)[13:313] {
			da, ea := p.Polarisation(d)
			db, eb := p.Polarisation(mirror(d))
			near(t, "degree", db, da, 1e-9)
			near(t, "radiance", p.Radiance(mirror(d))/p.Radiance(d), 1, 1e-9)
			if da > 1e-3 {
				near(t, "E", math.Abs(r3.Dot(mirror(ea), eb)), 1, 1e-9)
			}
		}
	}
}

// Far from the neutral points E is square to the plane through the sun, as in a single scattering.
func TestEIsSquareToTheSunSideways(t *testing.T) {
	p := NewPattern(100, 10, Air{AOD: 0.02, PressureHPa: 1013}, 550)
	for _, d := range []r3.Vec{p.square, r3.Unit(r3.Cross(p.sun, p.square)), {Z: 1}} {
		_, e := p.Polarisation(d)
		near(t, "E towards the sun", r3.Dot(e, r3.Unit(r3.Sub(p.sun, r3.Scale(r3.Dot(d, p.sun), d)))), 0, 0.02)
	}
}

// Sign: looking north, east is to the right; E from upper left to lower right (11 o'clock) lies
// anticlockwise of the vertical. Above a sun on the left, E leans to the left too.
func TestEVectorSign(t *testing.T) {
	north := r3.Vec{Y: 1}
	for _, c := range []struct {
		e    r3.Vec
		want float64
	}{
		{r3.Vec{Z: 1}, 0}, {r3.Vec{Z: -1}, 0}, {r3.Vec{X: 1}, 90}, {r3.Vec{X: -1}, 90},
		{r3.Vec{X: -0.5, Z: math.Sqrt(0.75)}, 30}, {r3.Vec{X: 0.5, Z: math.Sqrt(0.75)}, -30},
		{r3.Vec{X: 0.5, Z: -math.Sqrt(0.75)}, 30},
	} {
		near(t, "angle", EVectorDeg(north, c.e), c.want, 1e-12)
	}
	near(t, "zenith, E east-west", EVectorDeg(r3.Vec{Z: 1}, r3.Vec{X: 1}), 90, 1e-12)
	near(t, "zenith, E north-south", EVectorDeg(r3.Vec{Z: 1}, r3.Vec{Y: 1}), 0, 1e-12)

	// Sun in the east at 30°, view to the north at its height: E is square to the great circle
	// to the sun, which leaves the view to the right and upwards (by symmetry), so E goes up to
	// the left: positive.
	p := NewPattern(90, 30, Air{PressureHPa: 1013}, 550)
	d := Direction(0, 30)
	if _, e := p.Polarisation(d); EVectorDeg(d, e) < 10 {
		t.Errorf("E beside a sun on the right: %.1f°, must lean left", EVectorDeg(d, e))
	}
	d = Direction(180, 30)
	if _, e := p.Polarisation(d); EVectorDeg(d, e) > -10 {
		t.Errorf("E beside a sun on the left: %.1f°, must lean right", EVectorDeg(d, e))
	}
}

// The light of a ray is continuous: at the zenith, through the neutral points, at the sun and over
// the horizon. What is compared is the Stokes vector in fixed axes, as E alone turns at a neutral
// point.
func TestSkyIsContinuous(t *testing.T) {
	p := NewPattern(30, 50, Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}, 550)
	tensor := func(d r3.Vec) [6]float64 {
		degree, e := p.Polarisation(d)
		e = r3.Scale(math.Sqrt(degree), e)
		return [6]float64{e.X * e.X, e.Y * e.Y, e.Z * e.Z, e.X * e.Y, e.Y * e.Z, e.Z * e.X}
	}
	for name, at := range map[string]r3.Vec{"zenith": {Z: 1}, "above": p.above, "below": p.below,
		"sun": p.sun, "horizon": {X: 1}, "half a degree": Direction(200, 0.5)} {
		for turn := 0.0; turn < 360; turn += 15 {
			u := anySquare(at)
			dir := r3.Add(r3.Scale(math.Cos(turn*rad), u), r3.Scale(math.Sin(turn*rad), r3.Cross(at, u)))
			a, b := r3.Unit(r3.Add(at, r3.Scale(1e-5, dir))), r3.Unit(r3.Sub(at, r3.Scale(1e-5, dir)))
			ta, tb := tensor(a), tensor(b)
			for i := range ta {
				near(t, name, ta[i], tb[i], 2e-3)
			}
			near(t, name+" radiance", p.Radiance(a)/p.Radiance(b), 1, 2e-3)
		}
	}
	for _, n := range []r3.Vec{p.above, p.below} {
		if degree := p.degree(n); degree > 1e-6 {
			t.Errorf("a neutral point has the degree %g", degree)
		}
	}
	// E turns by 90° from one side of a neutral point to the other, along the vertical.
	for _, n := range []r3.Vec{p.above, p.below} {
		_, e1 := p.Polarisation(r3.Unit(r3.Add(n, r3.Scale(0.01, p.square))))
		_, e2 := p.Polarisation(r3.Unit(r3.Sub(n, r3.Scale(0.01, p.square))))
		near(t, "E across a neutral point", math.Abs(r3.Dot(e1, e2)), 0, 0.05)
	}
}

func TestSunBelowHorizonCountsAsOnIt(t *testing.T) {
	a := Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}
	low, on := NewPattern(250, -3, a, 550), NewPattern(250, 0, a, 550)
	d := Direction(340, 25)
	near(t, "degree", low.degree(d), on.degree(d), 0)
	near(t, "radiance", low.Radiance(d), on.Radiance(d), 0)
}

// Cloud: the degree's rule, its bound and the word about use.
func TestCloudThinsPolarisation(t *testing.T) {
	d := Direction(90, 30)
	a := Air{AOD: 0.05, PressureHPa: 1013, Albedo: 0.1}
	clear := NewPattern(0, 20, a, 550)
	pc, ec := clear.Polarisation(d)
	before := pc
	for _, cloud := range []float64{0.1, 0.3, 0.5, 0.7, 0.9, 1} {
		a.Cloud.Cover = cloud
		p := NewPattern(0, 20, a, 550)
		degree, e := p.Polarisation(d)
		near(t, "degree", degree, pc*(1-cloud)*(1-0.3*cloud)+cloud*min(0.16, 0.2*pc), 1e-12)
		near(t, "E under cloud", math.Abs(r3.Dot(e, ec)), 1, 1e-12)
		if degree >= before {
			t.Errorf("cloud %g: the degree %.3f does not fall", cloud, degree)
		}
		before = degree
		if p.UsefulSky() != (cloud < 0.9) {
			t.Errorf("cloud %g: UsefulSky is %v", cloud, p.UsefulSky())
		}
	}
	// At most 0.16 under full cloud: Hegedüs, Åkesson & Horváth 2007, J. Opt. Soc. Am. A 24:2347.
	if before > 0.16 {
		t.Errorf("overcast sky of degree %.3f", before)
	}
}
