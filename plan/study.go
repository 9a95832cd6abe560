package plan

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// study is all that is known of a flight before a filter is chosen: the light of every moment, the
// sky in the frame and the motion of the picture at the stations, and a cache of what each ring does
// to them.
type study struct {
	s    *Shot
	path []Moment
	legs []*legStudy
	*lenses
	rough     bool // of the last take every other moment only
	samples   int  // of the sky in a frame, at least
	skyOnly   bool // nothing below the horizon is looked at: no ring to judge it for
	exposures map[exposureKey][]legExposure
}

// lenses keeps what does not depend on the moment.
type lenses struct {
	grids   map[gridKey]*grid
	sheets  map[sheetKey]*sheet
	corners map[cornersKey]float64
	mirrors map[mirrorKey]*water.Table
	buf     []float64
}

func newLenses() *lenses {
	return &lenses{
		grids: map[gridKey]*grid{}, sheets: map[sheetKey]*sheet{},
		corners: map[cornersKey]float64{}, mirrors: map[mirrorKey]*water.Table{},
	}
}

type gridKey struct {
	halfW, halfH float64
	thin         int
}

// legStudy is a study's part for one leg.
type legStudy struct {
	*Leg
	n            int // its place in the flight, from 0
	from, to     int // its moments in the path
	halfW, halfH float64
	bounds       bounds
	lit          [][2]lit // per moment and take
	low, high    float64  // EV100 of the land over the leg, both takes
	stations     []station
	optics       map[opticsKey]*legOptics
	bare         *legOptics // without a ring
	step         float64    // largest image step a frame, arc-minutes, of the ground or the subject
	pace                    // the same apart
	still        stillMotion
	blurWanted   bool
	sunNear      bool // in the frame or within nearSunDeg of it
}

// lit is the light at one moment on one take.
type lit struct{ land, sky float64 }

// station is a moment at which the sky in the frame is worked out.
type station struct {
	moment, take int
	frame
	strength float64 // not for the search of a ring, which does not change it
	speed    float64 // of the picture, px/s: of the video's pixels, or the still's; the fastest there is
	ground   float64 // of the ground alone
	subject  float64 // of the subject alone, where it is in the frame
	seen     bool    // the subject is in the frame
}

// smears is the speed that blurs a leg's picture, px/s: what must be sharp in a still is its subject.
func (st *station) smears(l *legStudy) float64 {
	if l.Purpose != Video && st.seen {
		return st.subject
	}
	return st.speed
}

// newStudy works out the light of every moment of a path, and the sky at its stations. keys picks
// the moments of a leg, by their place in the path, that become stations on both takes. What depends
// on lens, filters and air alone is shared by all studies of a shot.
//
// The last take differs from the first by a sun that has moved a little: it is looked at every other time.
func newStudy(s *Shot, path []Moment, keys func(*legStudy, []Moment) []int, shared *lenses) *study {
	y := &study{s: s, path: path, lenses: shared, rough: true, samples: roughSky, exposures: map[exposureKey][]legExposure{}}
	for i := range s.Legs {
		leg := sound(s.Legs[i], s.Camera)
		l := &legStudy{Leg: &leg, n: i, optics: map[opticsKey]*legOptics{}}
		l.halfW, l.halfH = HalfField(s.Camera, l.Mode, l.Purpose != Video)
		l.from = len(path)
		for j, m := range path {
			if m.Leg == i {
				l.from, l.to = min(l.from, j), j+1
			}
		}
		y.legs = append(y.legs, l)
		if l.from >= l.to {
			continue
		}
		y.light(l)
		at := keys(l, path[l.from:l.to])
		y.motion(l, at)
		l.bounds = y.boundsOf(l)
		y.stand(l, at)
	}
	return y
}

// stand puts the stations of a leg at some of its moments and fills them.
func (y *study) stand(l *legStudy, at []int) {
	l.stations = make([]station, 0, len(at)*y.takes())
	for take := range y.takes() {
		for i, k := range at {
			if y.rough && take == 1 && i%2 == 0 && i != len(at)-1 {
				continue
			}
			st := station{moment: l.from + k, take: take}
			if take == 0 {
				v := y.speedAt(l, &y.path[st.moment], y.camera(l))
				st.speed, st.ground, st.subject, st.seen = v.faster(), v.ground, v.subject, v.seen
			} else {
				f := &l.stations[i]
				st.speed, st.ground, st.subject, st.seen = f.speed, f.ground, f.subject, f.seen
			}
			l.stations = append(l.stations, st)
		}
	}
	y.look(l)
}

// closer gives the same study with stations at other moments and more samples. What lies below the
// horizon is looked at only for a filter with a ring.
func (y *study) closer(keys func(*legStudy, []Moment) []int, samples int, ring bool) *study {
	z := *y
	z.skyOnly, z.rough, z.samples = !ring, false, samples
	z.legs = make([]*legStudy, len(y.legs))
	for i, l := range y.legs {
		m := *l
		m.optics, m.bare = map[opticsKey]*legOptics{}, nil
		if m.from < m.to {
			z.stand(&m, keys(&m, z.path[m.from:m.to]))
		}
		z.legs[i] = &m
	}
	return &z
}

// sound fills in what a leg made by hand may lack.
func sound(l Leg, c kit.Camera) Leg {
	iso := &l.Mode.ISO
	if iso.Base <= 0 {
		iso.Base = max(c.ISO.Base, 1)
	}
	if iso.Clean < iso.Base {
		iso.Clean = max(c.ISO.Clean, iso.Base)
	}
	if iso.Limit < iso.Clean {
		iso.Limit = max(c.ISO.Limit, iso.Clean)
	}
	return l
}

// takes is how many takes of a leg are looked at: the first and the last.
func (y *study) takes() int {
	if y.s.Takes > 1 {
		return 2
	}
	return 1
}

// moonless is a moon that gives no light.
var moonless = sun.Moon{Position: sun.Position{GeometricDeg: -90, AltitudeDeg: -90}, DistanceKm: 384400}

// moonFromDeg is how low the sun must be for moonlight to count: at −4° the sky is still 200 times
// brighter than a full moon makes it.
const moonFromDeg = -4

// lightAt gives the light on the ground at a time, behind the skyline too.
func (s *Shot) lightAt(p sun.Position, m sun.Moon, air sun.Air) sun.Light {
	if s.SunBehindSkyline(p) {
		air.Sun = sun.Hidden
	}
	return sun.LightAt(p, m, air)
}

// landEV gives the exposure value of what a camera sees on the ground: a subject that faces it, or
// flat ground from straight above.
func landEV(l sun.Light, headingDeg, pitchDeg, albedo float64) float64 {
	dome := exposure.EV100OfIlluminance(l.CardioidLx(headingDeg, pitchDeg, albedo), exposure.Dome)
	if pitchDeg > -60 {
		return dome
	}
	return exposure.MixEV100(dome, exposure.EV100OfIlluminance(l.TotalLx, exposure.Flat), pitchDeg)
}

// skyEV gives the exposure value of the sky in the frame: the mean of the sky, and brighter towards
// the glow around a sun near the horizon.
func skyEV(l sun.Light, p sun.Position, headingDeg float64) float64 {
	near := max(0, 1-math.Abs(p.AltitudeDeg)/6)
	towards := max(0, math.Cos((p.AzimuthDeg-headingDeg)*math.Pi/180))
	return exposure.SkyEV100(l.SkyLx) + exposure.GlowStops*near*towards*towards
}

func (y *study) light(l *legStudy) {
	air := y.s.AirAt(0, l.Ground)
	l.low, l.high = math.Inf(1), math.Inf(-1)
	l.lit = make([][2]lit, l.to-l.from)
	for take := range y.takes() {
		moon := moonless
		if first := y.path[l.from]; first.Sun[take].GeometricDeg < moonFromDeg+2 {
			moon = sun.MoonAt(first.Time[take], y.s.LatDeg, y.s.LonDeg)
		}
		for j := l.from; j < l.to; j++ {
			m := &y.path[j]
			at := y.s.lightAt(m.Sun[take], moon, air)
			ev := landEV(at, m.HeadingDeg, m.PitchDeg, air.Albedo)
			l.lit[j-l.from][take] = lit{ev, skyEV(at, m.Sun[take], m.HeadingDeg)}
			l.low, l.high = min(l.low, ev), max(l.high, ev)
		}
	}
	if y.takes() == 1 {
		for j := range l.lit {
			l.lit[j][1] = l.lit[j][0]
		}
	}
}

// nearSunDeg is how close to the frame the sun must stand for stray light to matter.
const nearSunDeg = 15

// look fills the stations of a leg.
func (y *study) look(l *legStudy) {
	perKm := extinctionPerKm(y.s.Light.VisibilityKm)
	dulled := airlightUnder(y.s.Light.CloudPct / 100)
	for i := range l.stations {
		st := &l.stations[i]
		m := &y.path[st.moment]
		v := y.view(l, m)
		p := m.Sun[st.take]
		pattern := sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, y.s.AirAt(max(0, m.AboveM), l.Ground), measureNM)
		st.look(y.grid(l, thinningFor(skyRows(v), y.samples)), v, &pattern)
		if st.enough() && !y.rough {
			st.strength = st.frame.strength(y.scratch())
		}
		if p.AltitudeDeg > 0 && !y.s.SunBehindSkyline(p) && nearFrame(v, p.Direction()) {
			l.sunNear = true
		}
		kind, ground := mirrorOf(l.Leg.Ground, l.Leg.Aim), skyRows(v) < gridH
		st.mirrors, st.veiled = ground && kind != noMirror, ground && l.Aim == AimHaze
		if y.skyOnly || !ground {
			continue
		}
		down := y.grid(l, downThinningFor(skyRows(v)))
		if st.mirrors {
			st.lookDown(down, v, y.mirrorFor(l, kind, m.AboveM, p))
		}
		if st.veiled {
			st.lookThrough(down, v, p.Direction(), max(1, m.AboveM), perKm, dulled)
		}
	}
}

// measureNM is the wavelength of the measures, in nanometres.
const measureNM = 550

// nearFrame tells whether a direction lies in the frame or within nearSunDeg of it.
func nearFrame(v View, d r3.Vec) bool {
	c := v.Camera(d)
	x := max(-v.HalfWidth, min(v.HalfWidth, c.X/max(c.Z, 1e-9)))
	y := max(-v.HalfHeight, min(v.HalfHeight, c.Y/max(c.Z, 1e-9)))
	nearest := r3.Unit(r3.Vec{X: x, Y: y, Z: 1})
	return r3.Dot(nearest, c) > math.Cos(nearSunDeg*math.Pi/180)
}

func (y *study) view(l *legStudy, m *Moment) View {
	return NewView(y.s.Camera, l.Mode, l.Purpose != Video, m.HeadingDeg, m.PitchDeg)
}

func (y *study) grid(l *legStudy, thin int) *grid {
	k := gridKey{l.halfW, l.halfH, thin}
	g := y.grids[k]
	if g == nil {
		g = newGrid(l.halfW, l.halfH, thin)
		y.grids[k] = g
	}
	return g
}

// scratch lends a buffer that is large enough for any frame three times over.
func (y *study) scratch() []float64 {
	if y.buf == nil {
		y.buf = make([]float64, 0, 3*gridW*gridH)
	}
	return y.buf
}
