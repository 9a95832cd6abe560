package plan

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/shot"
)

// longDefaultS is the exposure of a leg for a long exposure that names none (ours).
const longDefaultS = 1.0

// StepSlack is half a third of a stop: what a marked setting may miss its limit by.
const StepSlack = 1.0 / 6

// bounds are the shutters of one leg, in seconds.
type bounds struct {
	wanted   float64 // a marked one
	fastest  float64 // of the camera
	low      float64 // faster than this costs, where blur is wanted
	high     float64 // slower than this only light forces
	slowest  float64 // slower than this cannot be
	look     float64 // that of the shutter angle that looks right, of a film
	fullBias float64 // the over-exposure that is wanted, stops
}

// boundsOf returns the shutters of a leg. A video shutter may give as far as the tolerance of the
// shutter angle goes; one that the card names may not, unless light forces it.
func (y *analysis) boundsOf(l *legAnalysis) bounds {
	c, tol := y.s.Camera, y.s.Settings.ShutterToleranceDeg
	if tol[0] <= 0 || tol[1] <= tol[0] {
		tol = defaultToleranceDeg
	}
	b := bounds{fastest: c.FastestS, fullBias: compensation(l.Leg)}
	switch l.Purpose {
	case shot.Video:
		slowest := 1 / l.FPS
		if c.SlowestS > 0 {
			slowest = min(slowest, c.SlowestS)
		}
		angle := exposure.LookDeg
		if l.ShutterS > 0 {
			angle = exposure.AngleDeg(l.FPS, l.ShutterS)
		}
		b.wanted = exposure.AngleShutter(l.FPS, angle, c.FastestS, slowest).Value
		b.slowest, b.look = slowest, b.wanted
		if l.ShutterSet {
			b.wanted = l.ShutterS
			b.low, b.high, b.slowest, b.look = b.wanted, b.wanted, b.wanted, b.wanted
			break
		}
		b.low = min(b.wanted, exposure.AngleSeconds(l.FPS, tol[0]))
		b.high = max(b.wanted, min(slowest, exposure.AngleSeconds(l.FPS, tol[1])))
		y.steadied(l, &b)
	case shot.Long:
		b.wanted = longDefaultS
		if l.ShutterS > 0 {
			b.wanted = l.ShutterS
		}
		b.low, b.high = b.wanted, b.wanted
		b.slowest = max(b.wanted, c.SlowestS)
	default:
		b.wanted = l.safeShutter(c.FastestS, c.SlowestS)
		if l.ShutterSet && l.ShutterS > 0 {
			b.wanted = l.ShutterS
		}
		b.high = b.wanted
		b.slowest = max(b.wanted, c.SlowestS)
		if l.ShutterSet {
			b.slowest = b.wanted
		}
	}
	if b.wanted <= 0 {
		b.wanted = 1 / max(2*l.FPS, 1)
		b.low, b.high = b.wanted, b.wanted
	}
	return b
}

// defaultToleranceDeg is the tolerance of a bag that states none.
var defaultToleranceDeg = [2]float64{90, 270}

// safeShutter returns the slowest marked exposure at which a still stays sharp.
func (l *legAnalysis) safeShutter(fastestS, slowestS float64) float64 {
	series := exposure.ShuttersOf(fastestS, slowestS, false)
	if len(series) == 0 {
		return fastestS
	}
	if s, ok := exposure.AtMost(series, l.still.safeS); ok {
		return s.Value
	}
	return series[0].Value
}

// exposureSetting is one exposure and what is wrong with it, in stops.
type exposureSetting struct {
	shutterS, iso float64 // exact: the shutter lies between marks where light forced it there
	fast          float64 // faster than the tolerance, where blur is wanted
	slow          float64 // slower than it, of a film
	off           float64 // away from the angle that looks right, of a film
	noise         float64 // ISO above clean
	beyond        float64 // darker than the camera can expose for
	bright        float64 // brighter than it can
	blurred       float64 // slower than sharp, a still
	headroom      float64 // stops the light may still fall before ISO leaves clean at the wanted shutter
}

// ExposureSlack is by how much an exposure may miss what a camera can do: a third of a stop, which nobody would
// turn back for (ours).
const ExposureSlack = 1.0 / 3

// expose sets shutter and ISO for a light. The wanted shutter comes first. With too much light for it
// the shutter goes faster; with too little it goes as slow as the tolerance allows, then the ISO up to its limit, and
// only then the shutter as slow as it can be.
func (l *legAnalysis) expose(b *bounds, ev, nNumber, loss float64) exposureSetting {
	iso := l.Mode.ISO
	if l.Purpose != shot.Video {
		iso = l.stillISO
	}
	isoAt := func(seconds float64) float64 { return exposure.ISO(ev, nNumber, seconds, loss, b.fullBias) }
	secondsAt := func(iso float64) float64 { return exposure.Seconds(ev, nNumber, iso, loss, b.fullBias) }
	want := isoAt(b.wanted)
	e := exposureSetting{shutterS: b.wanted, iso: want, headroom: math.Log2(iso.Clean / want)}
	switch {
	case want < iso.Base:
		e.iso = iso.Base
		e.shutterS = secondsAt(iso.Base)
		fastest := b.fastest
		if l.Purpose == shot.Long { // a long exposure is its length
			fastest = b.wanted
		}
		if fastest > 0 && e.shutterS < fastest {
			e.bright = math.Log2(fastest / e.shutterS)
			e.shutterS = fastest
		}
		if b.low > 0 {
			e.fast = l.blurWish * max(0, math.Log2(b.low/e.shutterS))
		}
	case want > iso.Clean && b.high > b.wanted:
		e.shutterS = min(b.high, secondsAt(iso.Clean))
		e.iso = isoAt(e.shutterS)
	}
	if e.iso > iso.Limit {
		e.iso = iso.Limit
		e.shutterS = max(e.shutterS, secondsAt(iso.Limit))
		if b.slowest > 0 && e.shutterS > b.slowest {
			e.beyond = math.Log2(e.shutterS / b.slowest)
			e.shutterS = b.slowest
		}
		if b.high > 0 {
			e.slow = max(0, math.Log2(e.shutterS/b.high))
		}
	}
	if e.noise = max(0, math.Log2(e.iso/iso.Clean)); e.noise < 1e-9 {
		e.noise = 0
	}
	switch l.Purpose {
	case shot.Video:
		if b.look > 0 {
			e.off = l.blurWish * math.Abs(math.Log2(e.shutterS/b.look))
		}
	case shot.Still:
		if safe := l.still.safeS; safe > 0 && e.shutterS > safe {
			e.blurred = math.Log2(e.shutterS / safe)
		}
		e.slow = 0
	}
	return e
}

// marked returns the marked shutter that a pilot sets for an exposure, and the marked ISO that goes with it. Neither
// lies outside of what the camera has.
func (y *analysis) marked(l *legAnalysis, b *bounds, e exposureSetting, ev, nNumber, loss float64) (shutterS, iso float64) {
	c := y.s.Camera
	shutterS = e.shutterS
	if math.Abs(e.shutterS-b.wanted) > 1e-12 {
		slowest := orInf(c.SlowestS)
		if l.Purpose == shot.Video {
			slowest = min(1.001/l.FPS, slowest)
		}
		if series := shuttersFor(l.Leg, c.FastestS, slowest); len(series) > 0 {
			shutterS = exposure.Nearest(series, e.shutterS).Value
		}
	}
	limits := l.Mode.ISO
	if l.Purpose != shot.Video {
		limits = l.stillISO
	}
	return shutterS, exposure.NearestISO(exposure.ISO(ev, nNumber, shutterS, loss, b.fullBias), limits.Base, limits.Limit).Value
}

func orInf(x float64) float64 {
	if x <= 0 {
		return math.Inf(1)
	}
	return x
}

// legExposure is a leg's exposure behind one filter.
type legExposure struct {
	meter        *legMeter
	set          exposureSetting // what the pilot locks
	dark, bright exposureSetting // what its darkest and its brightest moment ask for, in the state of the sun set for
	still        exposureSetting // of a still taken on a video leg, at the darkest
	other        *legMeter       // the other state of the sun, nil where there is one state only
	otherSet     exposureSetting // what is set when the sun changes its state
	otherDark    exposureSetting
	otherBright  exposureSetting
	short        float64 // stops that the camera is short of light at the worst moment; negative: it has too much
	headroom     float64 // the least, in both states
}

// feasible tells whether a leg can be exposed at all.
func (x *legExposure) feasible() bool { return x.short == 0 }

type exposureKey struct {
	nNumber, loss float64
	optics        opticsKey
}

// exposuresOf returns the exposures of all legs behind a mounted filter, at an aperture and a loss.
func (y *analysis) exposuresOf(m mounted, nNumber, loss float64) []legExposure {
	k := exposureKey{nNumber, loss, m.meterKey()}
	list := y.exposures[k]
	if list == nil {
		list = make([]legExposure, 0, len(y.legs))
		for i, l := range y.legs {
			list = append(list, y.exposureOf(i, l, m, nNumber, loss))
		}
		y.exposures[k] = list
	}
	return list
}

// exposureOf exposes a leg for what its meter reads, and looks at its darkest and its brightest moment; everything
// between lies between.
func (y *analysis) exposureOf(i int, l *legAnalysis, m mounted, nNumber, loss float64) legExposure {
	b := &l.bounds
	r := y.meterOf(l, m)
	x := legExposure{
		meter: r, set: l.expose(b, r.set, nNumber, loss),
		dark: l.expose(b, r.dark, nNumber, loss), bright: l.expose(b, r.bright, nNumber, loss),
	}
	x.headroom = min(x.dark.headroom, x.bright.headroom)
	beyond, bright := x.dark.beyond, x.bright.bright
	if z := y.otherState(); z != nil {
		k := z.legs[i]
		k.blurWish, k.still, k.bounds = l.blurWish, l.still, l.bounds
		x.other = z.meterOf(k, m)
		x.otherSet = l.expose(b, x.other.set, nNumber, loss)
		x.otherDark, x.otherBright = l.expose(b, x.other.dark, nNumber, loss), l.expose(b, x.other.bright, nNumber, loss)
		x.headroom = min(x.headroom, x.otherDark.headroom)
		beyond, bright = max(beyond, x.otherDark.beyond), max(bright, x.otherBright.bright)
	}
	switch {
	case beyond > ExposureSlack:
		x.short = beyond
	case bright > ExposureSlack:
		x.short = -bright
	}
	if l.StillsToo && l.Purpose == shot.Video {
		photo := *l
		leg := *l.Leg
		leg.Purpose, leg.ShutterSet = shot.Still, false
		photo.Leg = &leg
		photo.blurWish = 0
		sb := y.boundsOf(&photo)
		x.still = photo.expose(&sb, r.dark, nNumber, loss)
	}
	return x
}

// apertures returns the f-numbers to choose from: the lens's own when it has one, else its sharpest,
// then the wider ones and the smaller ones in whole stops.
func (y *analysis) apertures() []float64 {
	c := y.s.Camera
	if c.Aperture[1] <= c.Aperture[0] {
		return []float64{c.Aperture[0]}
	}
	sharp := c.Sharpest
	if sharp[0] <= 0 {
		sharp = [2]float64{c.Aperture[0], min(c.Aperture[1], 2*c.Aperture[0])}
	}
	list := []float64{sharp[0]}
	for n := sharp[0] * math.Sqrt2; n < sharp[1]*0.98; n *= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if sharp[1] > sharp[0] {
		list = append(list, sharp[1])
	}
	for n := sharp[0] / math.Sqrt2; n > c.Aperture[0]*1.02; n /= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if c.Aperture[0] < sharp[0] {
		list = append(list, c.Aperture[0])
	}
	for n := sharp[1] * math.Sqrt2; n < c.Aperture[1]*0.98; n *= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if c.Aperture[1] > sharp[1] {
		list = append(list, c.Aperture[1])
	}
	return list
}

// blurPx returns the blur of a still at an exposure, in pixels.
func (s stillMotion) blurPx(seconds float64) float64 {
	return motion.BlurPx(s.speed, seconds, s.focal, s.depth, s.steady)
}

// shuttersFor returns the exposure times that a leg may use: the standard marks, and for video those
// extra ones that are a whole part of its frame (1/48 and 1/96 at 24 a second, 1/120 at 30 or 60).
// A 1/96 at 25 frames a second is on the dial but nobody's choice.
func shuttersFor(l *shot.Leg, fastestS, slowestS float64) []exposure.Step {
	if l.Purpose != shot.Video {
		return exposure.ShuttersOf(fastestS, slowestS, false)
	}
	var fit []exposure.Step
	for _, s := range exposure.ShuttersOf(fastestS, slowestS, true) {
		if !exposure.Extra(s) || exposure.FitsFrames(s, l.FPS) {
			fit = append(fit, s)
		}
	}
	return fit
}
