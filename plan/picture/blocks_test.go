package picture

import (
	"math"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// through is the mount of a filter of the generic bag.
func through(t *testing.T, name string, ring, setting float64) *kit.Mount {
	t.Helper()
	f, ok := kit.Generic().FilterByName(name)
	if !ok {
		t.Fatalf("no filter %q", name)
	}
	m := f.Mount(ring, setting)
	return &m
}

// pixelByPixel draws without blocks.
func pixelByPixel(sc *light.Scene, v shot.View, mount *kit.Mount, w, h int) *Picture {
	p := &Picture{W: w, H: h, Bare: make([]float64, w*h), Loss: make([]float64, w*h), Sky: make([]bool, w*h), Colour: make([][3]float32, w*h)}
	e := newEye(sc, v, mount, w, h)
	e.drawRows(p, 0, h)
	return p
}

// Blocks show what every pixel sees. A step of eight bits is a fiftieth of a stop in the middle tones: no byte of what is
// developed is off by more than one, light and loss are within half a step but for one pixel in two hundred, and the worst
// ones within one and a half. Which pixels are sky is the same, and what is on the lens changes nothing of the bare picture.
func TestBlocksShowWhatEveryPixelSees(t *testing.T) {
	mounts := map[string]*kit.Mount{
		"CPL at 0": through(t, "CPL", 0, 0), "CPL at 40": through(t, "CPL", 40, 0), "variable at 5": through(t, "variable 1.6-5", 70, 5),
	}
	for _, c := range []struct {
		name                            string
		ground                          shot.Ground
		sunAlt, off, pitch, cloud, wind float64
		ridge                           bool
		wide                            float64
	}{
		{"sea, sun abeam", shot.Water, 12, 90, 0, 0, 3, false, 1},
		{"into a low sun over water", shot.Water, 4, 10, -8, 0, 1, false, 1},
		{"a narrow way of glitter", shot.Water, 2, 0, -3, 0, .6, false, 1},
		{"glitter from above", shot.Water, 38, 0, -50, 0, 4, false, 1},
		{"the sun in still water", shot.Water, 30, 5, -30, 0, 0, false, 1},
		{"still water, down", shot.Water, 35, 120, -60, 0, 0, false, 1},
		{"straight down", shot.Water, 40, 30, -90, 0, 5, false, 1},
		{"shadow point", shot.Grass, 30, 180, -30, 0, 3, false, 1},
		{"about the zenith", shot.Town, 5, 0, 70, 0, 3, false, 1},
		{"about the sun", shot.Town, 25, 0, 25, 0, 3, false, 1},
		{"leaves, cloud", shot.Forest, 30, 60, -20, 60, 3, false, 1},
		{"overcast", shot.Rock, 30, 200, -5, 100, 3, false, 1},
		{"after sunset", shot.Water, -3, 20, 0, 0, 3, false, 1},
		{"a ridge", shot.Water, 12, 70, 0, 0, 3, true, 1},
		{"a ridge, wide", shot.Grass, 12, 130, -10, 0, 3, true, 2},
		{"wide", shot.Water, 20, 60, 5, 0, 3, false, 2.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := plantest.SeaShot(c.ground, 0, 0)
			s.Light.CloudPct, s.Light.WindMS = c.cloud, c.wind
			if c.cloud == 100 {
				s.Light.Sun = sun.Hidden
			}
			m := plantest.TurnedFromSun(t, s, c.sunAlt, c.off, c.pitch)
			if c.ridge {
				to := func(deg float64) float64 { return math.Mod(m.HeadingDeg+deg+720, 360) }
				s.Skyline = [][2]float64{{to(-20), 8}, {to(-10), 9}, {to(0), 0}, {to(5), 3}, {to(6), 12}, {to(7), 2}}
			}
			sc := light.SceneAt(s, m, 0)
			v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.HeadingDeg, m.PitchDeg)
			v.HalfWidth, v.HalfHeight = v.HalfWidth*c.wide, v.HalfHeight*c.wide
			for _, size := range [][2]int{{120, 60}, {160, 90}, {400, 225}} {
				w, h := size[0], size[1]
				bare := Draw(sc, v, nil, w, h)
				for name, mount := range mounts {
					want, got := pixelByPixel(sc, v, mount, w, h), Draw(sc, v, mount, w, h)
					a, b, worst := 0, 0, 0.0
					for k := range want.Bare {
						if got.Bare[k] != bare.Bare[k] || got.Colour[k] != bare.Colour[k] {
							t.Fatalf("%s, %v: what is on the lens changes the bare pixel %d,%d", name, size, k%w, k/w)
						}
						if got.Sky[k] != want.Sky[k] {
							t.Fatalf("%s, %v: pixel %d,%d: sky %v", name, size, k%w, k/w, got.Sky[k])
						}
						off := max(math.Abs(math.Log2(got.Bare[k]/want.Bare[k])), math.Abs(got.Loss[k]-want.Loss[k]))
						if worst = max(worst, off); off > .01 {
							a++
						}
					}
					o := DevelopOptions{FromX: w / 2}
					o.Bare.EV100 = want.MeterEV()
					o.Filtered.EV100 = o.Bare.EV100 - want.MeanLoss()
					is := got.Develop(o, nil)
					for i, x := range want.Develop(o, nil) {
						if d := int(x) - int(is[i]); d*d > 1 {
							b++
						}
					}
					t.Logf("%-14s %v: %d pixels half a step off, the worst %.4f stops; %d of more than one step", name, size, a, worst, b)
					if a > w*h/200 || worst > .03 || b > 0 {
						t.Errorf("%s, %v: %d pixels half a step off, the worst %.4f stops; %d of more than one step", name, size, a, worst, b)
					}
				}
			}
		})
	}
}
