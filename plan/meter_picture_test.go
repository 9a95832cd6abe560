package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// pixelMeter is the definition of the meter worked out plainly on every pixel of a drawn frame, through the filter
// that it was drawn with.
type pixelMeter struct {
	lum  []float64 // through the filter, of the pixels that count
	sky  []float64 // the bare sky among them
	land float64   // what the land asks for, through the filter
}

// pixelsOf draws the frame of a moment, 160x90, and leaves out what lies within 5° of the sun or, over water, of
// where level water shows it, open water or a film on a wet ground.
func pixelsOf(s *shot.Shot, m shot.Moment, sc *light.Scene, mt mounting.Way) *pixelMeter {
	leg := s.Legs[m.Leg]
	v := shot.NewView(s.Camera, leg.Mode, leg.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
	var mount *kit.Mount
	if mt.Filter != nil {
		f := mt.Filter.Mount(mt.Ring, mt.Setting)
		mount = &f
	}
	p := picture.Draw(sc, v, mount, 160, 90)
	toSun := m.Sun[0].Direction()
	image := r3.Vec{X: toSun.X, Y: toSun.Y, Z: -toSun.Z}
	near := math.Cos(5 * math.Pi / 180)
	x := &pixelMeter{}
	for k, lum := range p.Bare {
		d := v.Ray((2*float64(k%p.W)+1)/float64(p.W)-1, 1-(2*float64(k/p.W)+1)/float64(p.H))
		if r3.Dot(d, toSun) > near || sc.SunSeen && sc.GlintsApart && r3.Dot(d, image) > near {
			continue
		}
		if p.Sky[k] {
			x.sky = append(x.sky, lum)
		}
		if mount != nil {
			lum *= math.Exp2(-p.Loss[k])
		}
		x.lum = append(x.lum, max(lum, 1e-6))
	}
	air := light.AirAt(s, 0, leg.Ground)
	upright := light.LandEV100(sc.Light, m.HeadingDeg, m.PitchDeg, air.Albedo)
	flat := math.Log2(100 * sc.Light.TotalLx / 250)
	x.land = upright
	if leg.Expose != shot.ExposeLand {
		x.land = max(upright, flat-.5)
	}
	x.land -= mt.Loss()
	slices.SortFunc(x.lum, func(a, b float64) int { return cmp.Compare(b, a) })
	slices.Sort(x.sky)
	return x
}

// frameEV returns what the frame asks for with that much room over middle grey.
func (x *pixelMeter) frameEV(e shot.Expose, highlights, loss float64) float64 {
	ev := func(lum float64) float64 { return math.Log2(100 * lum / 12.5) }
	if e == shot.ExposeLand {
		return x.land
	}
	key := x.land
	if n := len(x.sky); n > 0 {
		median := (x.sky[(n-1)/2] + x.sky[n/2]) / 2
		key += float64(n) / float64(len(x.lum)) * max(0, ev(median)-1-loss-x.land)
	}
	left := .08 * float64(len(x.lum))
	var sum, of, over float64
	for _, l := range x.lum {
		if part := min(1, left); part > 0 {
			sum, of, left = sum+part*ev(l), of+part, left-part
		}
		if ev(l) > x.land+highlights {
			over++
		}
	}
	high, over := sum/of-highlights, over/float64(len(x.lum))
	if e == shot.ExposeHighlights {
		return max(key, high)
	}
	return max(key, min(high, x.land+4*min(1, over/.2)))
}

// beyond returns the shares of the frame that are white and black at an exposure value.
func (x *pixelMeter) beyond(ev, highlights float64) (clipped, buried float64) {
	middle := 12.5 / 100 * math.Exp2(ev)
	for _, l := range x.lum {
		switch stops := math.Log2(l / middle); {
		case stops > highlights:
			clipped++
		case stops < -5:
			buried++
		}
	}
	return clipped / float64(len(x.lum)), buried / float64(len(x.lum))
}

// meterFrame is one frame that the meter is held to.
type meterFrame struct {
	ground    shot.Ground
	alt       float64 // of the sun
	off       float64 // the heading, clockwise from the sun
	pitch     float64
	cloud, km float64
	aim       shot.Aim
	expose    shot.Expose
	still     bool
	skyline   bool
}

func (c meterFrame) String() string {
	return fmt.Sprintf("%s, sun %g°, heading %+g°, pitch %g°, cloud %g %%, %g km, for %s, expose %s, still %v, skyline %v",
		c.ground, c.alt, c.off, c.pitch, c.cloud, c.km, c.aim, c.expose, c.still, c.skyline)
}

func (c meterFrame) shot(t testing.TB) *shot.Shot {
	s := plantest.SeaShot(c.ground, 0, 0)
	s.Light.CloudPct, s.Light.VisibilityKm = c.cloud, c.km
	l := &s.Legs[0]
	l.Aim, l.Expose, l.Seconds, l.FPS = c.aim, c.expose, 1, 25
	if c.still {
		l.Purpose = shot.Still
	}
	if c.skyline {
		s.Skyline = [][2]float64{{0, 3}, {90, 8}, {180, 5}, {270, 6}, {359, 3}}
	}
	m := plantest.TurnedFromSun(t, s, c.alt, c.off, c.pitch)
	l.Heading = shot.Sweep{From: m.HeadingDeg}
	return s
}

func meterFrames() []meterFrame {
	var list []meterFrame
	for _, ground := range []shot.Ground{shot.Water, shot.Grass, shot.Snow, shot.Town} {
		for _, alt := range []float64{-3, 0, 3, 11, 40} {
			for _, off := range []float64{0, 25, 90, 180} {
				for i, pitch := range []float64{10, 0, -12, -20, -45, -85} {
					c := meterFrame{ground: ground, alt: alt, off: off, pitch: pitch, km: 30, aim: shot.AimSky, expose: shot.ExposeMiddle}
					switch (len(list) + i) % 5 {
					case 1:
						c.cloud, c.km, c.expose = 40, 12, shot.ExposeHighlights
					case 2:
						c.aim, c.still = shot.AimWater, true
					case 3:
						c.cloud, c.km = 80, 20
					case 4:
						c.skyline, c.km = true, 60
					}
					list = append(list, c)
				}
			}
		}
	}
	return list
}

// everyFrame thins the frames out for the time that they take. Of all 480, each through nine filters, 18 readings of
// 4320 are .10 to .18 stop off, all of three frames 20° down with a strip of bright sky: there half a row of the
// picture is .1 stop. A variable at 4 and beyond, whose corners are over a stop apart, can clip .023 more or less than
// the meter says.
const everyFrame = 7

// The meter on its samples agrees with the same definition worked out on every pixel of the drawn frame: what the
// frame asks for to 0.1 stop, and the share of it that is white to 2 % of the frame, level and tilted, over water,
// grass, snow and a town, into the sun and away from it, bare and through densities, a polariser, a hybrid and a
// variable.
func TestMeterAgreesWithThePicture(t *testing.T) {
	bag := kit.Generic()
	named := func(name string) *kit.Filter {
		f, ok := bag.FilterByName(name)
		if !ok {
			t.Fatal(name)
		}
		return &f
	}
	mounts := []mounting.Way{{}, {Filter: named("ND8"), Setting: 0, Ring: 0}, {Filter: named("ND64"), Setting: 0, Ring: 0}, {Filter: named("CPL"), Setting: 0, Ring: 0}, {Filter: named("CPL"), Setting: 0, Ring: 45}, {Filter: named("CPL"), Setting: 0, Ring: 90},
		{Filter: named("ND16/PL"), Setting: 0, Ring: 135}, {Filter: named("variable 1.6-5"), Setting: 2, Ring: 30}, {Filter: named("variable 1.6-5"), Setting: 3, Ring: 120}}
	type worst struct {
		ev, clipped, buried float64
		sumEV               float64
		n                   int
		at, clippedAt       string
	}
	found := map[string]*worst{}
	for i, c := range meterFrames() {
		if i%everyFrame != 0 {
			continue
		}
		s := c.shot(t)
		path := shot.Path(s, 2)
		y := newAnalysis(s, path, turnKeys(roughTurnDeg, roughMost), newShared(s.Legs[0].Height[0]))
		l := y.legs[0]
		sc := light.SceneAt(s, path[0], 0)
		for _, mt := range mounts {
			r := y.meterOf(l, mt)
			pixels := pixelsOf(s, path[0], sc, mt)
			highlights := setting.HighlightStops(y.s.Camera, l.Leg.Leg)
			want := pixels.frameEV(c.expose, highlights, mt.Loss())
			got := r.ev(0, 0) - mt.Loss()
			clipped, buried := pixels.beyond(r.set-mt.Loss()-setting.Compensation(l.Leg.Leg), highlights)
			name := mt.Name()
			if mt.Setting > 0 {
				name += fmt.Sprint(" at ", mt.Setting)
			}
			w := found[name]
			if w == nil {
				w = &worst{}
				found[name] = w
			}
			w.n++
			w.sumEV += math.Abs(got - want)
			if d := math.Abs(got - want); d > w.ev {
				w.ev, w.at = d, fmt.Sprintf("%v: %.3f, on the pixels %.3f", c, got, want)
			}
			if d := math.Abs(r.clipped - clipped); d > w.clipped {
				w.clipped, w.clippedAt = d, fmt.Sprintf("%v: %.3f, on the pixels %.3f", c, r.clipped, clipped)
			}
			w.buried = max(w.buried, math.Abs(r.buried-buried))
		}
	}
	for name, w := range found {
		t.Logf("%-14s %d frames: EV worst %.3f mean %.4f, clipped %.4f, buried %.4f\n   %s\n   %s", name, w.n, w.ev, w.sumEV/float64(w.n), w.clipped, w.buried, w.at, w.clippedAt)
		if w.ev > .1005 { // a tenth of a stop, to the thousandth
			t.Errorf("%s: off by %.3f stop: %s", name, w.ev, w.at)
		}
		if w.clipped > .02 {
			t.Errorf("%s: clipping off by %.3f: %s", name, w.clipped, w.clippedAt)
		}
	}
}
