package sun

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The plain form with its angles and exponentials, against the fast one, in random skies and
// directions.
func TestFastSkyEqualsPlainSky(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var degree, angle, light stat
	for range 4000 {
		o := optics{tauR: 0.03 + 0.25*r.Float64(), tauA: r.Float64(), albedo: r.Float64(), k: 1 + 3*r.Float64()}
		h, el, az := 90*r.Float64(), 0.5+89.4*r.Float64(), 360*r.Float64()
		p := newPattern(sunAzTest, h, o)
		want := plainSky(o, h, el, az)
		deg, ang, rel, _ := skyAt(&p, el, az)
		degree.add(deg - want.degree)
		light.add(rel/want.radiance - 1)
		if want.degree > 1e-3 {
			angle.add(axisDiffDeg(ang, want.angleDeg))
		}
	}
	atMost(t, "degree", degree.top, 1e-5)
	atMost(t, "direction of E, degrees", angle.top, 1e-7)
	atMost(t, "radiance, of itself", light.top, 1e-5)
}

// Light that passes a sheet along t, by E itself and by the two numbers of Stokes; the published
// form of Malus's law for partly polarised light is 1 + p(2(t·e)² − 1).
func TestStokesEqualsE(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	skies := testSkies()
	for i := range skies {
		p := &skies[i]
		for _, d := range testDirections(p) {
			u1 := anySquare(d)
			u2 := r3.Cross(d, u1)
			if r.IntN(2) == 0 {
				u2 = r3.Scale(-1, u2) // either hand
			}
			c2, s2 := p.Stokes(d, u1, u2)
			degree, e := p.Polarisation(d)
			for turn := 0.0; turn < 180; turn += 37 {
				sin, cos := math.Sincos(turn * rad)
				sheet := r3.Add(r3.Scale(cos, u1), r3.Scale(sin, u2))
				te := r3.Dot(sheet, e)
				near(t, "light through a sheet", c2*math.Cos(2*turn*rad)+s2*math.Sin(2*turn*rad), degree*(2*te*te-1), 2e-6)
			}
		}
	}
}

func TestTablesOfExponentials(t *testing.T) {
	var halo, neg stat
	for g := 0.0; g <= math.Pi; g += 1e-4 {
		halo.add(haloAt(math.Cos(g)) - math.Exp(-3*g))
	}
	for y := 0.0; y < 40; y += 1e-3 {
		neg.add(expNeg(y) - math.Exp(-y))
	}
	atMost(t, "e^(−3γ)", halo.top, 4e-6)
	atMost(t, "e^(−y)", neg.top, 4e-9)
	var log, exp stat
	for x := 1e-6; x < 1e4; x *= 1.0007 {
		log.add(fastLog2(x) - math.Log2(x))
	}
	for x := -30.0; x < 30; x += 0.0037 {
		exp.add(fastExp2(x)/math.Exp2(x) - 1)
	}
	atMost(t, "log2", log.top, 1e-10)
	atMost(t, "2^x, of itself", exp.top, 1e-9)
	near(t, "a cosine above 1 by rounding", haloAt(1+1e-15), 1, 1e-12)
	near(t, "straight behind", haloAt(-1-1e-15), math.Exp(-3*math.Pi), 1e-12)
	near(t, "no light left", expNeg(math.Inf(1)), 0, 0)
}

// midpointLx is the plain sum over 90 × 180 cells of altitude and azimuth.
func midpointLx(luminance func(r3.Vec) float64) float64 {
	const del, daz = 1 * rad, 2 * rad
	var sum float64
	for i := range 90 {
		s, c := math.Sincos((float64(i) + 0.5) * del)
		for j := range 180 {
			d := Direction(2*float64(j)+1, float64(i)+0.5)
			sum += luminance(d) * s * c * del * daz
		}
	}
	return sum
}

// The illuminance that a sky gives is the one it was made for, in clear, hazy and cloudy skies.
func TestSkyGivesItsIlluminance(t *testing.T) {
	var off stat
	for i, p := range testSkies() {
		s := p.Sky(12345)
		lx := midpointLx(s.Luminance)
		off.add(lx/12345 - 1)
		if math.Abs(lx/12345-1) > 1e-4 {
			t.Errorf("sky %d (sun %g, cloud %g): %.2f lx of 12345", i, p.sunAltDeg, p.cloud, lx)
		}
	}
	t.Logf("of %d skies: rms %.1e, max %.1e of the illuminance", off.n, off.rms(), off.top)
	near(t, "a negative illuminance", NewSky(0, 30, Air{}, 550, -5).Luminance(r3.Vec{Z: 1}), 0, 0)
}

// Luminance of the zenith of a clear sky (AOD .08, albedo .15), worked out separately with the plain
// sum, for the sky's part of the illuminance at three heights of the sun.
func TestZenithLuminance(t *testing.T) {
	for _, c := range []struct{ h, lx, want float64 }{{10, 5528, 735}, {30, 10062, 1530}, {60, 13636, 3867}} {
		s := NewSky(0, c.h, Air{AOD: 0.08, PressureHPa: 1013.25, Albedo: 0.15}, 550, c.lx)
		near(t, "zenith luminance", s.Luminance(r3.Vec{Z: 1}), c.want, 1)
	}
}

// A blend at the covers where one standard sky stands alone is that sky.
func TestCloudySkyIsStandardSky(t *testing.T) {
	for _, c := range []struct {
		cloud Cloud
		kind  int
	}{
		{Cloud{0.5, 0}, 8}, {Cloud{0.5, 1}, 9}, {Cloud{0.85, 0}, 4}, {Cloud{0.85, 1}, 3}, {Cloud{1, 0}, 1}, {Cloud{1, 1}, 1},
	} {
		p := NewPattern(0, 35, Air{AOD: 0.1, PressureHPa: 1013, Cloud: c.cloud}, 550)
		s := StandardSkyType(c.kind)
		for el := 5.0; el < 90; el += 12 {
			for az := 0.0; az < 360; az += 31 {
				d := Direction(az, el)
				want := relativeLuminance(s, 90-el, p.scatteringDeg(d), 55)
				near(t, "relative luminance", p.Radiance(d)/p.Radiance(r3.Vec{Z: 1})/want, 1, 1e-5)
			}
		}
	}
}

// The logarithm of the luminance relative to the zenith is weighted linearly, along the cover and along the sun.
func TestCloudBlend(t *testing.T) {
	lnRel := func(cover, hidden float64, d r3.Vec) float64 {
		p := NewPattern(0, 35, Air{AOD: 0.1, PressureHPa: 1013, Albedo: 0.15, Cloud: Cloud{cover, hidden}}, 550)
		return math.Log(p.Radiance(d) / p.Radiance(r3.Vec{Z: 1}))
	}
	for _, d := range []r3.Vec{Direction(0, 30), Direction(120, 8), Direction(200, 50)} {
		for _, hidden := range []float64{0, 0.3, 1} {
			near(t, "half way to half a sky", lnRel(0.25, hidden, d), (lnRel(0, hidden, d)+lnRel(0.5, hidden, d))/2, 1e-9)
			near(t, "half way to .85", lnRel(0.675, hidden, d), (lnRel(0.5, hidden, d)+lnRel(0.85, hidden, d))/2, 1e-9)
			near(t, "half way to type 1", lnRel(0.925, hidden, d), (lnRel(0.85, hidden, d)+lnRel(1, hidden, d))/2, 1e-9)
		}
		for _, cover := range []float64{0.2, 0.5, 0.7, 0.9} {
			near(t, "a third of the way into hiding", lnRel(cover, 1.0/3, d), (2*lnRel(cover, 0, d)+lnRel(cover, 1, d))/3, 1e-9)
		}
	}
}

// Colour comes from the same pattern at other wavelengths: a clear sky is blue high up, an overcast white,
// and without haze the degree falls towards the blue, where light is scattered more often.
func TestColourOfThePattern(t *testing.T) {
	at := func(a Air, sunAlt float64, d r3.Vec) (radiance, degree [3]float64) {
		for i, nm := range []float64{650, 550, 450} {
			p := NewPattern(0, sunAlt, a, nm)
			radiance[i], degree[i] = p.Radiance(d), p.degree(d)
		}
		return radiance, degree
	}
	a := Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}
	if z, _ := at(a, 40, r3.Vec{Z: 1}); !(z[2] > 1.5*z[1] && z[1] > 1.3*z[0]) {
		t.Errorf("zenith of a clear sky: %v", z)
	}
	a.Cloud = Cloud{1, 1}
	over, _ := at(a, 40, Direction(90, 50))
	near(t, "grey overcast", over[0]/over[2], 1, 1e-9)
	if _, g := at(Air{PressureHPa: 1013, Albedo: 0.1}, 10, Direction(90, 30)); !(g[0] > g[1] && g[1] > g[2]) {
		t.Errorf("degree without haze must fall towards the blue: %v", g)
	}
}

// frame is the rays of a picture 160 × 90 that looks 10° up, 84° wide on the diagonal.
func frame() []r3.Vec {
	var ds []r3.Vec
	sp, cp := math.Sincos(10 * rad)
	for j := range 90 {
		for i := range 160 {
			x, y := (float64(i)+0.5-80)/80*0.78, (45-float64(j)-0.5)/80*0.78
			ds = append(ds, r3.Unit(r3.Vec{X: x, Y: cp - y*sp, Z: sp + y*cp}))
		}
	}
	return ds
}

var skySink float64

func TestSkyAllocatesNothing(t *testing.T) {
	d := Direction(100, 30)
	n := testing.AllocsPerRun(100, func() {
		p := NewPattern(70, 20, Air{AOD: 0.08, PressureHPa: 1013}, 550)
		degree, e := p.Polarisation(d)
		c, s := p.Stokes(d, r3.Vec{X: 1}, r3.Vec{Z: 1})
		skySink += degree + e.X + p.Radiance(d) + c + s
	})
	if n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// BenchmarkSkyFrame160x90 is degree, direction of E and radiance of the 14,400 rays of a frame.
// Asked: 1 ms.
func BenchmarkSkyFrame160x90(b *testing.B) {
	ds := frame()
	bright, dark := States(0.7, ShineAuto)
	for _, c := range []struct {
		name  string
		cloud Cloud
	}{{"clear", Cloud{}}, {"cloud30", Cloud{Cover: 0.3}}, {"cloud70", dark}, {"cloud70bright", bright}} {
		p := NewPattern(70, 20, Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15, Cloud: c.cloud}, 550)
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				sum := 0.0
				for _, d := range ds {
					degree, e := p.Polarisation(d)
					sum += degree + e.X + e.Y + e.Z + p.Radiance(d)
				}
				skySink += sum
			}
		})
		s := p.Sky(10000)
		b.Run(c.name+"/at", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				sum := 0.0
				for _, d := range ds {
					ray := s.At(d)
					sum += ray.Degree + ray.E.X + ray.E.Y + ray.E.Z + ray.Luminance
				}
				skySink += sum
			}
		})
	}
}

func BenchmarkStokes160x90(b *testing.B) {
	ds := frame()
	p := NewPattern(70, 20, Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}, 550)
	u1, u2 := r3.Vec{X: 1}, r3.Vec{Z: 1}
	b.ReportAllocs()
	for range b.N {
		for _, d := range ds {
			c, s := p.Stokes(d, u1, u2)
			skySink += c + s
		}
	}
}

func BenchmarkNewPattern(b *testing.B) {
	b.ReportAllocs()
	for range b.N {
		p := NewPattern(70, 20, Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}, 550)
		skySink += p.pmax
	}
}

func BenchmarkNewSky(b *testing.B) {
	for _, c := range []struct {
		name  string
		cloud Cloud
	}{{"clear", Cloud{}}, {"cloud30", Cloud{Cover: 0.3}}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				skySink += NewSky(70, 20, Air{AOD: 0.08, PressureHPa: 1013, Cloud: c.cloud}, 550, 1e4).scale
			}
		})
	}
}
