package plan

import (
	"math"
	"testing"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/shot"
)

// Leaves and rock have a sheen towards a sun that is not behind the camera, which a polariser takes; bare
// sand has none.
func TestSheenOfTheGround(t *testing.T) {
	cut := func(ground shot.Ground) float64 {
		r := seaShot(ground, 0, 0)
		r.Shot.Light.VisibilityKm = 100
		plantest.TurnedFromSun(t, r.Shot, 40, 20, -40)
		level, upright := drawn(t, r, "CPL", 90, 9, 5), drawn(t, r, "CPL", 0, 9, 5)
		return upright.Loss[22] - level.Loss[22]
	}
	for _, ground := range []shot.Ground{shot.Forest, shot.Grass, shot.Rock} {
		if c := cut(ground); c < .1 {
			t.Errorf("%s: the pass axis upright takes %.3f stops more than level", ground, c)
		}
	}
	if c := cut(shot.Sand); math.Abs(c) > .03 {
		t.Errorf("sand: %.3f stops", c)
	}
}

// The ridge of the card stands in front of the sky, as high as the card says.
func TestSkylineIsDrawn(t *testing.T) {
	r := seaShot(shot.Water, 350, 0)
	r.Shot.Skyline = [][2]float64{{340, 8}, {350, 8}, {0, 8}}
	const w, h = 33, 541
	p := drawn(t, r, "none", 0, w, h)
	v := shot.NewView(r.Shot.Camera, r.Shot.Legs[0].Mode, false, 350, 0)
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
	for _, ground := range []shot.Ground{shot.Water, shot.Forest} {
		for _, off := range []float64{0, 90, 180} {
			r := seaShot(ground, 0, 0)
			plantest.TurnedFromSun(t, r.Shot, 8, off, -12)
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
	for _, ground := range []shot.Ground{shot.Water, shot.Grass} {
		for _, pitch := range []float64{0, -35, -80} {
			var side [2]*picture.Picture
			for i, off := range []float64{50, -50} {
				r := seaShot(ground, 0, 0)
				plantest.TurnedFromSun(t, r.Shot, 12, off, pitch)
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
	r := seaShot(shot.Water, 0, 0)
	plantest.TurnedFromSun(t, r.Shot, 15, 0, -15)
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
	r = seaShot(shot.Grass, 0, 0)
	plantest.TurnedFromSun(t, r.Shot, 15, 180, -15)
	if p = drawn(t, r, "none", 0, w, h); !p.Shadow.In || math.Abs(p.Shadow.X) > .01 || math.Abs(p.Shadow.Y) > .05 || p.Mirror.In {
		t.Errorf("with the sun behind: mirror %+v, shadow %+v", p.Mirror, p.Shadow)
	}
	r.Shot.Light.CloudPct = 100
	if p = drawn(t, r, "none", 0, w, h); p.Shadow.In || p.Mirror.In {
		t.Errorf("under cloud: mirror %+v, shadow %+v", p.Mirror, p.Shadow)
	}
}

// Under the white balance of the call a covered sky is grey, a clear zenith blue, and the sky about a low
// sun warmer than that beside it.
func TestColourOfTheSky(t *testing.T) {
	// red and blue of green at the middle of a picture, linear, at the scene's white balance
	at := func(sunAltDeg, off, pitch, cloud float64) (red, blue float64) {
		r := seaShot(shot.Grass, 0, 0)
		r.Shot.Light.CloudPct = cloud
		m := plantest.TurnedFromSun(t, r.Shot, sunAltDeg, off, pitch)
		air := light.AirAt(r.Shot, 0, shot.Grass)
		gains := light.WhiteGains(exposure.SceneK(m.Sun[0].AltitudeDeg, air.Cloud.Cover, air.Cloud.Shines()))
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
