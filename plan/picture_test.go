package plan

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// sunAt moves the take-off of a shot to the time of that afternoon when the sun stands so high, degrees.
func sunAt(t testing.TB, s *Shot, altitudeDeg float64) Moment {
	t.Helper()
	low, high := s.TakeOff.Add(-5*time.Hour), s.TakeOff.Add(3*time.Hour) // from 14:00 to 22:00
	for high.Sub(low) > time.Second {
		s.TakeOff = low.Add(high.Sub(low) / 2)
		if s.MomentAt(5).Sun[0].AltitudeDeg > altitudeDeg {
			low = s.TakeOff
		} else {
			high = s.TakeOff
		}
	}
	m := s.MomentAt(5)
	if math.Abs(m.Sun[0].AltitudeDeg-altitudeDeg) > .01 {
		t.Fatalf("the sun stands at %.2f°, wanted %g°", m.Sun[0].AltitudeDeg, altitudeDeg)
	}
	return m
}

// turnedFromSun makes the shot look so many degrees clockwise from the sun's azimuth.
func turnedFromSun(t testing.TB, r *Report, sunAltDeg, offDeg, pitch float64) Moment {
	t.Helper()
	s := r.Shot
	m := sunAt(t, s, sunAltDeg)
	s.Legs[0].Heading = Sweep{From: m.Sun[0].AzimuthDeg + offDeg}
	s.Legs[0].Pitch = [2]float64{pitch, pitch}
	return s.MomentAt(5)
}

// With a low sun and a clear sky, still water shows a dark patch without any filter, about 53° from
// straight down at a right angle to the sun: the sky's light, polarised upright there, hardly is
// mirrored at Brewster's angle (Applied Optics 56:8353, 2017, abstract).
//
// The mirrored light, against that of the same sky without polarisation, is least there, and on the ring of
// water 53° from straight down the place beside the sun is the darkest. The darkest pixel of all lies
// six degrees nearer to straight down, because the sky that is mirrored there is itself darker; from 50 m,
// with more air in front of the water, fourteen.
func TestDarkPatchOnStillWater(t *testing.T) {
	for _, side := range []float64{90, -90} {
		r := seaShot(t, Water, 0, 0)
		r.Shot.Light.WindMS, r.Shot.Light.VisibilityKm = 0, 60
		r.Shot.Legs[0].Height = [2]float64{5, 5} // the air in front of the water would fill the patch
		m := turnedFromSun(t, r, 3, side, -45)
		v := NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
		const w, h = 96, 54
		p := drawn(t, r, "none", 0, w, h)
		sc := r.Shot.Scene(m, 0)
		unpolarised := func(d, u1, u2 r3.Vec) (float64, float64, float64) {
			l, _, _ := sc.dome.light(d, u1, u2)
			return l, 0, 0
		}
		plain := *sc
		plain.table = water.NewTable(&sc.surface, unpolarised)
		q := plain.draw(v, nil, w, h)
		where := func(k int) (fromDown, off float64) {
			d := v.Ray((2*float64(k%w)+1-w)/w, (h-2*float64(k/w)-1)/h)
			return math.Acos(-d.Z) * 180 / math.Pi, math.Remainder(math.Atan2(d.X, d.Y)*180/math.Pi-m.Sun[0].AzimuthDeg, 360)
		}
		own := sc.land.sky.luminance() + sc.land.sun.luminance()
		mirrored := func(k int) float64 { return (p.Bare[k] - own) / (q.Bare[k] - own) }
		deepest, darkest := 0, 0
		for k := range p.Bare {
			if mirrored(k) < mirrored(deepest) {
				deepest = k
			}
			if p.Bare[k] < p.Bare[darkest] {
				darkest = k
			}
		}
		fromDown, off := where(deepest)
		stops := math.Log2(mirrored(deepest))
		pixelDown, pixelOff := where(darkest)
		t.Logf("deepest, %.2f stops, %.1f° from straight down and %.1f° from the sun's azimuth; darkest pixel %.1f° and %.1f°",
			stops, fromDown, off, pixelDown, pixelOff)
		if math.Abs(fromDown-53) > 5 || math.Abs(off-side) > 8 || stops > -.5 {
			t.Errorf("the patch is deepest, %.2f stops, %.1f° from straight down and %.1f° from the sun's azimuth", stops, fromDown, off)
		}
		if pixelDown < 45 || pixelDown > 58 || math.Abs(pixelOff-side) > 8 {
			t.Errorf("the darkest water is %.1f° from straight down and %.1f° from the sun's azimuth", pixelDown, pixelOff)
		}
		// Along the ring of water 53° from straight down the place beside the sun is the darkest.
		ring := func(off float64) float64 {
			s, c := math.Sincos((m.Sun[0].AzimuthDeg + off) * math.Pi / 180)
			sd, cd := math.Sincos(53 * math.Pi / 180)
			var g glance
			sc.lookDown(&g, r3.Vec{X: sd * s, Y: sd * c, Z: -cd}, r3.Vec{}, false)
			return g.lum
		}
		for _, far := range []float64{-50, 50} {
			if d := math.Log2(ring(side) / ring(side+far)); d > -.3 {
				t.Errorf("the patch is %.2f stops against the water %g° to the side", d, far)
			}
		}
	}
}

// The air in front of the land and the sky behind it meet without a seam: what steps at the horizon is
// only what can still be seen of the land there, and in haze nothing. In luminance and in the part that is
// polarised, for every class of haze.
func TestNoSeamAtTheHorizon(t *testing.T) {
	for _, km := range []float64{100, 40, 20, 10, 5} {
		for _, ground := range []Ground{Water, Forest} {
			for _, off := range []float64{20, 90, 170} {
				r := seaShot(t, ground, 0, 0)
				r.Shot.Light.VisibilityKm = km
				r.Shot.Legs[0].Height = [2]float64{120, 120}
				m := turnedFromSun(t, r, 20, off, 0)
				sc := r.Shot.Scene(m, 0)
				sun := sc.discFor(1e-3)
				at := func(aboveHorizon float64) glance { // radians
					a := -math.Asin(sc.distance.sinDip) + aboveHorizon
					s, c := math.Sincos(m.HeadingDeg * math.Pi / 180)
					d := r3.Vec{X: s * math.Cos(a), Y: c * math.Cos(a), Z: math.Sin(a)}
					var g glance
					sc.look(&g, d, r3.Vec{X: -s * math.Sin(a), Y: -c * math.Sin(a), Z: math.Cos(a)}, true, &sun)
					return g
				}
				above, below := at(1e-9), at(-1e-9)
				through := math.Exp(-sc.perM * sc.distance.along(sc.distance.sinDip+1e-9))
				lum := math.Abs(math.Log2(below.lum / above.lum))
				degree := math.Abs(below.pol/below.lum - above.pol/above.lum)
				// at most all of what can still be seen of the land, black against the sky
				if limit := -math.Log2(1-through) + .01; lum > limit {
					t.Errorf("%g km, %s, %g° off: a step of %.3f stops, %.3f of the land is seen", km, ground, off, lum, through)
				}
				if degree > through+.005 {
					t.Errorf("%g km, %s, %g° off: a step of %.3f in the polarised part, %.3f of the land is seen", km, ground, off, degree, through)
				}
				if km <= 10 && (lum > .02 || degree > .005) {
					t.Errorf("%g km, %s, %g° off: a step of %.3f stops and %.4f in the polarised part", km, ground, off, lum, degree)
				}
			}
		}
	}
}

// Land with the sun behind the camera is brighter than land seen against the sun, side light between
// (front, side and back light of a photographer; common practice, no source), and snow, which has no
// shadows of its own, does not care.
func TestLandByTheSideOfTheSun(t *testing.T) {
	for _, ground := range []Ground{Grass, Forest, Rock, Town, Sand, Snow} {
		var side []float64
		for _, off := range []float64{180, 90, 0} {
			r := seaShot(t, ground, 0, 0)
			r.Shot.Light.VisibilityKm = 100
			m := turnedFromSun(t, r, 35, off, -25)
			sc := r.Shot.Scene(m, 0)
			v := NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
			d := v.Ray(0, 0)
			lit := sc.land.relief.sunlit(r3.Dot(d, sc.sunDir), sc.land.sunUp)
			side = append(side, sc.land.sky.luminance()+sc.land.sun.luminance()*lit)
		}
		front, back := math.Log2(side[0]/side[1]), math.Log2(side[2]/side[1])
		if ground == Snow {
			if math.Abs(front) > .05 || math.Abs(back) > .05 {
				t.Errorf("snow changes by %.2f and %.2f stops", front, back)
			}
			continue
		}
		if !(front > .1 && back < -.1) {
			t.Errorf("%s: front light %+.2f stops against side light, back light %+.2f", ground, front, back)
		}
	}
}

// Leaves and rock have a sheen towards a sun that is not behind the camera, which a polariser takes; bare
// sand has none.
func TestSheenOfTheGround(t *testing.T) {
	cut := func(ground Ground) float64 {
		r := seaShot(t, ground, 0, 0)
		r.Shot.Light.VisibilityKm = 100
		turnedFromSun(t, r, 40, 20, -40)
		level, upright := drawn(t, r, "CPL", 90, 9, 5), drawn(t, r, "CPL", 0, 9, 5)
		return upright.Loss[22] - level.Loss[22]
	}
	for _, ground := range []Ground{Forest, Grass, Rock} {
		if c := cut(ground); c < .1 {
			t.Errorf("%s: the pass axis upright takes %.3f stops more than level", ground, c)
		}
	}
	if c := cut(Sand); math.Abs(c) > .03 {
		t.Errorf("sand: %.3f stops", c)
	}
}

// The ridge of the card stands in front of the sky, as high as the card says.
func TestSkylineIsDrawn(t *testing.T) {
	r := seaShot(t, Water, 350, 0)
	r.Shot.Skyline = [][2]float64{{340, 8}, {350, 8}, {0, 8}}
	const w, h = 33, 541
	p := drawn(t, r, "none", 0, w, h)
	v := NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, 350, 0)
	top := 0
	for p.Sky[top*w+w/2] {
		top++
	}
	y := (h - 2*float64(top) - 1) / h * v.HalfHeight
	if alt := math.Atan(y) * 180 / math.Pi; math.Abs(alt-8) > .2 {
		t.Errorf("the ridge is drawn %.2f° high, the card says 8°", alt)
	}
	if !p.Sky[top*w] {
		t.Error("beside the ridge there is sky")
	}
	if step := p.Bare[(top-1)*w+w/2] / p.Bare[top*w+w/2]; step < 1.2 {
		t.Errorf("the ridge should stand out from the sky: %.2f", step)
	}
}

// No filter gives light: the filtered picture is nowhere brighter than the bare one.
func TestFilteredIsNeverBrighter(t *testing.T) {
	for _, ground := range []Ground{Water, Forest} {
		for _, off := range []float64{0, 90, 180} {
			r := seaShot(t, ground, 0, 0)
			turnedFromSun(t, r, 8, off, -12)
			for _, f := range r.Bag.Filters {
				for _, setting := range f.Settings() {
					p, err := r.Frame(FrameOptions{Second: 5, Filter: f.Name, Setting: setting, Ring: 40, W: 24, H: 14})
					if err != nil {
						t.Fatal(err)
					}
					for k, l := range p.Loss {
						if l < 0 || math.IsNaN(l) || !(p.Bare[k] > 0) {
							t.Fatalf("%s at %g over %s, pixel %d: %g cd/m², loss %g", f.Name, setting, ground, k, p.Bare[k], l)
						}
					}
				}
			}
		}
	}
}

// The light is mirror-symmetric about the sun's vertical: as far to its right as to its left, and with the
// ring mirrored, the picture is the same one turned over.
func TestPictureMirrorsAboutTheSun(t *testing.T) {
	for _, ground := range []Ground{Water, Grass} {
		for _, pitch := range []float64{0, -35, -80} {
			var side [2]*Picture
			for i, off := range []float64{50, -50} {
				r := seaShot(t, ground, 0, 0)
				turnedFromSun(t, r, 12, off, pitch)
				ring := 25.0
				if i == 1 {
					ring = 155
				}
				side[i] = drawn(t, r, "CPL", ring, 32, 18)
			}
			for k := range side[0].Bare {
				m := k/32*32 + 31 - k%32
				a, b := side[0], side[1]
				if math.Abs(math.Log2(a.Bare[k]/b.Bare[m])) > 2e-3 || math.Abs(a.Loss[k]-b.Loss[m]) > 2e-3 {
					t.Fatalf("%s, pitch %g, pixel %d: %g cd/m², loss %g; mirrored %g, %g", ground, pitch, k, a.Bare[k], a.Loss[k], b.Bare[m], b.Loss[m])
				}
			}
		}
	}
}

// A glint path leads over the water to the sun and is brightest about the sun's mirror point; the shadow
// point lies opposite the sun. Under cloud there is neither.
func TestGlintAndShadow(t *testing.T) {
	r := seaShot(t, Water, 0, 0)
	turnedFromSun(t, r, 15, 0, -15)
	const w, h = 65, 37
	p := drawn(t, r, "none", 0, w, h)
	if !p.Mirror.In || math.Abs(p.Mirror.X) > .01 || math.Abs(p.Mirror.Y) > .05 || p.Shadow.In {
		t.Errorf("looking down at the mirror point: mirror %+v, shadow %+v", p.Mirror, p.Shadow)
	}
	at := func(x, y float64) float64 {
		return p.Bare[int((1-y)/2*h)*w+int((x+1)/2*w)]
	}
	if a, b := at(0, 0), at(.9, 0); a < 5*b {
		t.Errorf("the glint has %.0f cd/m², the water beside it %.0f", a, b)
	}
	if a, b := at(0, -.8), at(.9, -.8); a < 2*b {
		t.Errorf("the path towards the camera has %.0f cd/m², beside it %.0f", a, b)
	}
	r = seaShot(t, Grass, 0, 0)
	turnedFromSun(t, r, 15, 180, -15)
	if p = drawn(t, r, "none", 0, w, h); !p.Shadow.In || math.Abs(p.Shadow.X) > .01 || math.Abs(p.Shadow.Y) > .05 || p.Mirror.In {
		t.Errorf("with the sun behind: mirror %+v, shadow %+v", p.Mirror, p.Shadow)
	}
	r.Shot.Light.CloudPct = 100
	if p = drawn(t, r, "none", 0, w, h); p.Shadow.In || p.Mirror.In {
		t.Errorf("under cloud: mirror %+v, shadow %+v", p.Mirror, p.Shadow)
	}
}

// A picture that the cores share is the one that a single core draws.
func TestBandsMakeTheSamePicture(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {700, 3}, {400, 400}, {3, 70000}} {
		w, h := size[0], size[1]
		rows := make([]int, h)
		inBands(w, h, func(from, to int) {
			for j := from; j < to; j++ {
				rows[j]++ // the race detector tells when two bands share a row
			}
		})
		for j, n := range rows {
			if n != 1 {
				t.Fatalf("%d by %d: row %d is drawn %d times", w, h, j, n)
			}
		}
	}
	r := seaShot(t, Water, 350, 0)
	m := r.Shot.MomentAt(5)
	v := NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
	sc := r.Shot.Scene(m, 0)
	const w, h = 512, 289
	all := sc.draw(v, nil, w, h)
	one := &Picture{W: w, H: h, Bare: make([]float64, w*h), Loss: make([]float64, w*h), Sky: make([]bool, w*h), Colour: make([][3]float32, w*h)}
	sc.drawRows(one, v, nil, 0, h)
	for k := range one.Bare {
		if one.Bare[k] != all.Bare[k] || one.Sky[k] != all.Sky[k] {
			t.Fatalf("pixel %d: %g and %g", k, one.Bare[k], all.Bare[k])
		}
	}
}

// Under the white balance of the call a covered sky is grey, a clear zenith blue, and the sky about a low
// sun warmer than that beside it.
func TestColourOfTheSky(t *testing.T) {
	// red and blue of green at the middle of a picture, linear, at the scene's white balance
	at := func(sunAltDeg, off, pitch, cloud float64) (red, blue float64) {
		r := seaShot(t, Grass, 0, 0)
		r.Shot.Light.CloudPct = cloud
		m := turnedFromSun(t, r, sunAltDeg, off, pitch)
		air := r.Shot.AirAt(0, Grass)
		gains := whiteGains(exposure.SceneK(m.Sun[0].AltitudeDeg, air.Cloud.Cover, air.Cloud.Shines()))
		c := drawn(t, r, "none", 0, 3, 3).Colour[4]
		red, green, blue := float64(c[0])*gains[0], float64(c[1])*gains[1], float64(c[2])*gains[2]
		return red / green, blue / green
	}
	if r, b := at(35, 90, 30, 100); math.Abs(r-1) > .06 || math.Abs(b-1) > .06 {
		t.Errorf("a covered sky: red %.3f, blue %.3f of green", r, b)
	}
	if r, b := at(45, 180, 60, 0); r > .75 || b < 1.5 {
		t.Errorf("a clear sky high up: red %.3f, blue %.3f of green", r, b)
	}
	nearR, nearB := at(3, 12, 4, 0)
	farR, farB := at(3, 120, 4, 0)
	if nearR/nearB < 1.1*farR/farB {
		t.Errorf("towards a low sun red %.3f and blue %.3f of green, away from it %.3f and %.3f", nearR, nearB, farR, farB)
	}
	lateR, lateB := at(-5, 12, 4, 0)
	if lateR < lateB {
		t.Errorf("the glow after sunset: red %.3f, blue %.3f of green", lateR, lateB)
	}
}

// A forest is wet or dry a forest: it has no glint path, whatever the aim.
func TestLeavesHaveNoFilm(t *testing.T) {
	for _, aim := range []Aim{AimWater, AimKeep, AimSky} {
		for _, g := range []Ground{Forest, Grass} {
			if m := mirrorsOf(g, aim); m.sigma2 == 0 || m.cover == 0 {
				t.Errorf("%s with aim %s: %+v", g, aim, m)
			}
		}
	}
	if m := mirrorsOf(Town, AimKeep); m.sigma2 != 0 || m.cover == 0 {
		t.Errorf("a wet street: %+v", m)
	}
	if m := mirrorsOf(Snow, AimWater); m.cover != 0 {
		t.Errorf("snow: %+v", m)
	}
}
