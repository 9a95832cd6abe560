package plan

import (
	"math"
	"slices"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// analysis is all that is known of a flight before a filter is chosen: the light of every moment; for some
// moments, the samples, also the sky in the frame and the motion of the picture; and, as they are asked for,
// what each way of mounting a filter does to these.
type analysis struct {
	s    *shot.Shot
	path []shot.Moment
	legs []*legAnalysis
	*shared
	memory     *memory
	rough      bool // of the last take every other moment only
	brief      bool // one of many hours: the meter takes fewer samples
	skySamples int  // of the sky in a frame, at least
	single     bool // a frame that is read once
	skyOnly    bool // nothing below the horizon is looked at: no ring to judge it for
	exposures  map[exposureKey][]*legExposure
	other      *analysis // the flight in the other state of the sun, where it was asked for
	apertures  []float64 // that the lens can be set to
	was        known     // of an earlier analysis, what holds in this one too
}

// manyWays is in how many ways the filters of a usual bag can be mounted, rings and all.
const manyWays = 64

// legAnalysis is what an analysis knows of one leg.
type legAnalysis struct {
	setting.Leg
	n            int // its place in the flight, from 0
	from, to     int // its moments in the path
	halfW, halfH float64
	lightEV      [][2]lightEV // per moment and take
	low, high    float64      // EV100 of the land over the leg, both takes
	samples      []sample
	read         []sample // those that the meter has read
	readAt       []int    // their moments on the first take, of the leg
	lastAt       []int    // which of these are read on the last take too
	meters       map[mounting.MeterKey]*legMeter
	optics       map[mounting.Key]*legOptics
	bare         *legOptics   // without a ring
	step         float64      // largest image step a frame, arc-minutes, of the ground or the subject
	pace         setting.Pace // the same apart
	sunNear      bool         // in the frame or within nearSunDeg of it
	own          *legMemory   // what it is laid out in
	reading      *legMemory   // and what the meter reads of it
}

// lightEV is the light at one moment on one take, as EV100: on what faces the camera, on a level receptor, and of the
// sky in the frame.
type lightEV struct{ land, flat, sky float64 }

// sample is a moment at which the sky in the frame is worked out.
type sample struct {
	moment, take int
	frame.Frame
	lit      *frame.Lit // as the meter reads it; nil in an analysis that looks more closely
	strength float64    // not for the search of a ring, which does not change it
	speed    float64    // of the picture, px/s: of the video's pixels, or the still's; the fastest there is
	ground   float64    // of the ground alone
	subject  float64    // of the subject alone, where it is in the frame
	seen     bool       // the subject is in the frame
}

// smears is the speed that blurs a leg's picture, px/s: what must be sharp in a still is its subject.
func (st *sample) smears(l *legAnalysis) float64 {
	if l.Purpose != shot.Video && st.seen {
		return st.subject
	}
	return st.speed
}

// newAnalysis works out the light of every moment of a path, and the sky and the motion at its samples. keys
// returns which moments of a leg become samples, as indices into the leg's own moments. kept is what does
// not depend on the moment, and may serve several analyses of the same shot.
//
// A sample is taken on the first take and on the last. Between the two the sun moves a little only, so of the
// last take every other sample is left out.
func newAnalysis(s *shot.Shot, path []shot.Moment, keys keysOf, kept *shared) *analysis {
	return newAnalysisKnowing(s, path, keys, kept, nil, new(memory))
}

// newAnalysisKnowing does the same and takes over those legs that are known; the others are nil. It works in a memory, which
// lends the legs theirs.
func newAnalysisKnowing(s *shot.Shot, path []shot.Moment, keys keysOf, kept *shared, was []*legAnalysis, mem *memory) *analysis {
	y := &analysis{s: s, path: path, shared: kept, memory: mem, rough: true, skySamples: frame.RoughSky, exposures: map[exposureKey][]*legExposure{}}
	for i := range s.Legs {
		if i < len(was) && was[i] != nil {
			y.legs = append(y.legs, was[i])
			continue
		}
		leg := s.Legs[i].WithDefaults(s.Camera)
		l := &legAnalysis{Leg: setting.Leg{Leg: &leg}, n: i}
		l.laidOutIn(mem.lend())
		l.StillISO = shot.Leg{}.WithDefaults(s.Camera).Mode.ISO
		l.halfW, l.halfH = shot.HalfField(s.Camera, l.Mode, l.Purpose != shot.Video)
		l.from = len(path)
		for j, m := range path {
			if m.Leg == i {
				l.from, l.to = min(l.from, j), j+1
			}
		}
		y.legs = append(y.legs, l)
	}
	at := make([][]int, len(y.legs))
	for i, l := range y.legs {
		if l.from < l.to && (i >= len(was) || l != was[i]) {
			if l.own.keys = keys(l.own.keys[:0], path[l.from:l.to]); l.own.keys == nil {
				l.own.keys = []int{} // its light alone
			}
			at[i] = l.own.keys
		}
	}
	y.eachLeg(at, func(z *analysis, l *legAnalysis, at []int) {
		z.fillLight(l)
		z.motion(l, at)
		l.Bounds = z.boundsOf(l)
		z.placeSamples(l, at)
		z.readLight(l)
	})
	return y
}

// placeSamples puts the samples of a leg at some of its moments and fills them.
func (y *analysis) placeSamples(l *legAnalysis, at []int) {
	l.samples = l.own.samples[:0]
	for take := range y.takes() {
		for i, k := range at {
			if take == 1 && i != len(at)-1 && y.leftOut(i) {
				continue
			}
			v := y.speedOf(l, k)
			l.samples = append(l.samples, sample{
				moment: l.from + k, take: take, speed: v.faster(), ground: v.ground, subject: v.subject, seen: v.seen,
			})
		}
	}
	l.own.samples = l.samples
	y.fillSamples(l)
}

// lastTakeEvery is how many samples the last take takes one of, when a leg is looked at closely: the others follow from what
// changes between the takes, which is little.
const lastTakeEvery = 4

// leftOut tells whether the last take leaves out one of its samples, by its number.
func (y *analysis) leftOut(i int) bool {
	if y.rough {
		return i%2 == 0
	}
	return y.skySamples < frame.GridW*frame.GridH && i%lastTakeEvery != 0
}

// refined returns the same analysis with samples at other moments and more samples. What lies below the
// horizon is looked at only for a filter with a ring.
func (y *analysis) refined(keys keysOf, samples int, ring bool) *analysis {
	z := *y
	z.skyOnly, z.rough, z.skySamples = !ring, false, samples
	z.legs = make([]*legAnalysis, len(y.legs))
	for i, l := range y.legs {
		if known := y.was.nearLeg(l, samples, z.skyOnly); known != nil {
			z.legs[i] = known
			continue
		}
		m := *l
		m.own, m.bare = y.memory.lend(), nil
		m.optics = m.own.opticsOf
		z.legs[i] = &m
	}
	at := make([][]int, len(z.legs))
	for i, m := range z.legs {
		if m.from < m.to && y.was.nearLeg(m, samples, z.skyOnly) != m {
			m.own.keys = keys(m.own.keys[:0], z.path[m.from:m.to])
			at[i] = m.own.keys
		}
	}
	z.eachLeg(at, (*analysis).placeSamples)
	return &z
}

// takes is how many takes of a leg are looked at: the first and the last.
func (y *analysis) takes() int {
	if y.s.Takes > 1 {
		return 2
	}
	return 1
}

// fillLight works out the light of every moment of a leg on both takes, and its least and most.
func (y *analysis) fillLight(l *legAnalysis) {
	air := light.AirAt(y.s, 0, l.Ground)
	l.low, l.high = math.Inf(1), math.Inf(-1)
	l.own.lightEV = slices.Grow(l.own.lightEV[:0], l.to-l.from)[:l.to-l.from]
	l.lightEV = l.own.lightEV
	for take := range y.takes() {
		moon := light.NoMoon()
		if first := y.path[l.from]; first.Sun[take].GeometricDeg < light.MoonFromDeg+2 {
			moon = sun.MoonAt(first.Time[take], y.s.LatDeg, y.s.LonDeg)
		}
		for j := l.from; j < l.to; j++ {
			m := &y.path[j]
			at := light.OnGround(y.s, m.Sun[take], moon, air)
			ev := light.LandEV100(at, m.HeadingDeg, m.PitchDeg, air.Albedo)
			flat := exposure.EV100OfIlluminance(at.TotalLx, exposure.Flat)
			l.lightEV[j-l.from][take] = lightEV{ev, flat, light.SkyEV100(at, m.Sun[take], m.HeadingDeg)}
			l.low, l.high = min(l.low, ev), max(l.high, ev)
		}
	}
	if y.takes() == 1 {
		for j := range l.lightEV {
			l.lightEV[j][1] = l.lightEV[j][0]
		}
	}
}

// nearSunDeg is how close to the frame the sun must stand for stray light to matter.
const nearSunDeg = 15

// fillSamples works out, for each sample of a leg, the sky in the frame, and below the horizon what the ground
// mirrors and the haze in front of it, where the leg is about those.
func (y *analysis) fillSamples(l *legAnalysis) {
	perKm := light.ExtinctionPerKm(y.s.Light.VisibilityKm)
	dulled := light.AirlightUnderCloud(y.s.Light.CloudPct / 100)
	for i := range l.samples {
		st := &l.samples[i]
		m := &y.path[st.moment]
		v := y.view(l, m)
		p := m.Sun[st.take]
		pattern := &y.ownMemory().sky
		*pattern = sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, light.AirAt(y.s, max(0, m.AboveM), l.Ground), light.MeasureNM)
		st.Room = &l.own.room
		st.Fill(l.grid(frame.ThinningFor(frame.SkyRows(v), y.skySamples)), v, pattern)
		if st.Enough() && !y.rough {
			st.strength = st.Frame.Strength(y.scratch())
		}
		if p.AltitudeDeg > 0 && !y.s.SunBehindSkyline(p) && nearFrame(v, p.Direction()) {
			l.sunNear = true
		}
		kind, ground := light.MirrorOf(l.Leg.Ground, l.Leg.Aim), frame.SkyRows(v) < frame.GridH
		st.Mirrors, st.Hazy = ground && kind != light.NoMirror, ground && l.Aim == shot.AimHaze
		if y.skyOnly || !ground {
			st.Room = nil
			continue
		}
		down := l.grid(frame.DownThinningFor(frame.SkyRows(v)))
		if st.Mirrors {
			st.FillMirrored(down, v, y.mirrorFor(l, kind, p))
		}
		if st.Hazy {
			st.FillAirlight(down, v, p.Direction(), max(1, m.AboveM), perKm, dulled)
		}
		st.Room = nil
	}
}

// nearFrame tells whether a direction lies in the frame or within nearSunDeg of it.
func nearFrame(v shot.View, d r3.Vec) bool {
	c := v.Camera(d)
	x := max(-v.HalfWidth, min(v.HalfWidth, c.X/max(c.Z, 1e-9)))
	y := max(-v.HalfHeight, min(v.HalfHeight, c.Y/max(c.Z, 1e-9)))
	nearest := r3.Unit(r3.Vec{X: x, Y: y, Z: 1})
	return r3.Dot(nearest, c) > math.Cos(nearSunDeg*math.Pi/180)
}

func (y *analysis) view(l *legAnalysis, m *shot.Moment) shot.View {
	return shot.NewView(y.s.Camera, l.Mode, l.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
}
