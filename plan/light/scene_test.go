package light

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// luminances looks along the middles of w × h pixels, without a sheet and without the sun's disc.
func luminances(sc *Scene, v shot.View, w, h int) []float64 {
	out := make([]float64, 0, w*h)
	for j := range h {
		for i := range w {
			var g Seen
			d := v.Ray((2*float64(i)+1-float64(w))/float64(w), (float64(h)-2*float64(j)-1)/float64(h))
			sc.Look(&g, d, r3.Vec{}, false, &Disc{cosEdge: 2})
			out = append(out, g.Luminance)
		}
	}
	return out
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
		s := plantest.SeaShot(shot.Water, 0, 0)
		s.Light.WindMS, s.Light.VisibilityKm = 0, 60
		s.Legs[0].Height = [2]float64{5, 5} // the air in front of the water would fill the patch
		m := plantest.TurnedFromSun(t, s, 3, side, -45)
		v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
		const w, h = 96, 54
		sc := SceneAt(s, m, 0)
		p := luminances(sc, v, w, h)
		unpolarised := func(d, u1, u2 r3.Vec) (float64, float64, float64) {
			l, _, _ := sc.dome.light(d, u1, u2)
			return l, 0, 0
		}
		plain := *sc
		plain.mirror = water.NewSmooth(&sc.surface, unpolarised)
		q := luminances(&plain, v, w, h)
		where := func(k int) (fromDown, off float64) {
			d := v.Ray((2*float64(k%w)+1-w)/w, (h-2*float64(k/w)-1)/h)
			return math.Acos(-d.Z) * 180 / math.Pi, math.Remainder(math.Atan2(d.X, d.Y)*180/math.Pi-m.Sun[0].AzimuthDeg, 360)
		}
		own := sc.land.sky.Luminance() + sc.land.sun.Luminance()
		mirrored := func(k int) float64 { return (p[k] - own) / (q[k] - own) }
		deepest, darkest := 0, 0
		for k := range p {
			if mirrored(k) < mirrored(deepest) {
				deepest = k
			}
			if p[k] < p[darkest] {
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
			sn, c := math.Sincos((m.Sun[0].AzimuthDeg + off) * math.Pi / 180)
			sd, cd := math.Sincos(53 * math.Pi / 180)
			var g Seen
			sc.lookDown(&g, r3.Vec{X: sd * sn, Y: sd * c, Z: -cd}, r3.Vec{}, false)
			return g.Luminance
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
		for _, ground := range []shot.Ground{shot.Water, shot.Forest} {
			for _, off := range []float64{20, 90, 170} {
				s := plantest.SeaShot(ground, 0, 0)
				s.Light.VisibilityKm = km
				s.Legs[0].Height = [2]float64{120, 120}
				m := plantest.TurnedFromSun(t, s, 20, off, 0)
				sc := SceneAt(s, m, 0)
				sun := sc.DiscFor(1e-3)
				at := func(aboveHorizon float64) Seen { // radians
					a := -math.Asin(sc.Distance.SinDip) + aboveHorizon
					sn, c := math.Sincos(m.HeadingDeg * math.Pi / 180)
					d := r3.Vec{X: sn * math.Cos(a), Y: c * math.Cos(a), Z: math.Sin(a)}
					var g Seen
					sc.Look(&g, d, r3.Vec{X: -sn * math.Sin(a), Y: -c * math.Sin(a), Z: math.Cos(a)}, true, &sun)
					return g
				}
				above, below := at(1e-9), at(-1e-9)
				through := math.Exp(-sc.perM * sc.Distance.along(sc.Distance.SinDip+1e-9))
				lum := math.Abs(math.Log2(below.Luminance / above.Luminance))
				degree := math.Abs(below.Polarised/below.Luminance - above.Polarised/above.Luminance)
				// At most all of what can still be seen of the land, black against the sky
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
	for _, ground := range []shot.Ground{shot.Grass, shot.Forest, shot.Rock, shot.Town, shot.Sand, shot.Snow} {
		var side []float64
		for _, off := range []float64{180, 90, 0} {
			s := plantest.SeaShot(ground, 0, 0)
			s.Light.VisibilityKm = 100
			m := plantest.TurnedFromSun(t, s, 35, off, -25)
			sc := SceneAt(s, m, 0)
			v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
			d := v.Ray(0, 0)
			lit := sc.land.relief.sunlit(r3.Dot(d, sc.SunDir), sc.land.sunUp)
			side = append(side, sc.land.sky.Luminance()+sc.land.sun.Luminance()*lit)
		}
		front, back := math.Log2(side[0]/side[1]), math.Log2(side[2]/side[1])
		if ground == shot.Snow {
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

// A scene that was asked for is kept for the next question, and never given for another moment, take or ridge.
func TestScenesAreKept(t *testing.T) {
	s := plantest.SeaShot(shot.Water, 350, -5)
	path := shot.Path(s, 3)
	first, end := path[0], path[len(path)-1]
	ridge := *s
	ridge.Skyline = [][2]float64{{0, 10}, {180, 10}}
	var kept Scenes
	same := kept.At(s, first, 0)
	if kept.At(s, first, 0) != same {
		t.Error("it is built twice")
	}
	if kept.At(&ridge, first, 0) == same {
		t.Error("the ridge is not in it")
	}
	later := end
	later.Sun[0].AltitudeDeg -= 5
	later.Sun[0].GeometricDeg -= 5
	if kept.At(s, later, 0) == same {
		t.Error("the sun of another moment")
	}
	for i := range 4 { // more than are kept
		later.Sun[0].AltitudeDeg -= float64(i + 1)
		kept.At(s, later, 0)
	}
	again := kept.At(s, first, 0)
	if again == same {
		t.Error("it was kept for ever")
	}
	var none *Scenes
	if a, b := none.At(s, first, 0), none.At(s, first, 0); a == b {
		t.Error("a cache that is not there keeps")
	}
}

// A ground is named by the card's words, and by no others.
func TestAlbedoByName(t *testing.T) {
	for _, name := range shot.GroundNames() {
		if got, ok := AlbedoByName(name); !ok || got != GroundAlbedo(shot.Ground(name)) || !(got > 0 && got < 1) {
			t.Errorf("%s: %g, %v", name, got, ok)
		}
	}
	if _, ok := AlbedoByName("lawn"); ok {
		t.Error("no such ground")
	}
}
