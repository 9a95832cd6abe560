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
	high     float64 // slower than this is not taken
	fullBias float64 // the card's and the mode's over-exposure, stops
}

// boundsOf returns the shutters of a leg. A video shutter may give as far as the tolerance of the
// shutter angle goes; one that the card names may not, unless light forces it.
func (y *analysis) boundsOf(l *legAnalysis) bounds {
	c, tol := y.s.Camera, y.s.Settings.ShutterToleranceDeg
	if tol[0] <= 0 || tol[1] <= tol[0] {
		tol = defaultToleranceDeg
	}
	b := bounds{fastest: c.FastestS, fullBias: l.BiasStops + l.Mode.BiasStops}
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
		if l.ShutterSet {
			b.wanted = l.ShutterS
			b.low, b.high = b.wanted, b.wanted
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
	default:
		b.wanted = l.safeShutter(c.FastestS, c.SlowestS)
		if l.ShutterSet && l.ShutterS > 0 {
			b.wanted = l.ShutterS
		}
		b.high = b.wanted
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
	noise         float64 // ISO above clean
	beyond        float64 // ISO above the limit
	bright        float64 // over-exposed at the camera's fastest shutter and base ISO
	blurred       float64 // slower than sharp, a still
	headroom      float64 // stops the light may still fall before ISO leaves clean at the wanted shutter
}

// expose returns the shutter and the ISO that a leg is taken with in a light, and what is wrong with them. ev
// is the EV100 of the land in bare light, nNumber the aperture, loss the stops that the filter takes.
//
// The shutter that is wanted stays as long as the ISO lies between base and clean. In more light the ISO stays
// at base and the shutter gets faster. In less light the shutter first gets slower, as far as the tolerance
// allows, and only then the ISO goes above clean. A still whose ISO would pass the limit stays at the limit
// and takes a slower shutter yet, at the price of blur.
func (l *legAnalysis) expose(b *bounds, ev, nNumber, loss float64) exposureSetting {
	iso := l.Mode.ISO
	want := exposure.ISO(ev, nNumber, b.wanted, loss, b.fullBias)
	e := exposureSetting{shutterS: b.wanted, iso: want, headroom: math.Log2(iso.Clean / want)}
	switch {
	case want < iso.Base:
		e.iso = iso.Base
		e.shutterS = exposure.Seconds(ev, nNumber, iso.Base, loss, b.fullBias)
		if b.fastest > 0 && e.shutterS < b.fastest {
			e.bright = math.Log2(b.fastest / e.shutterS)
			e.shutterS = b.fastest
		}
		if l.blurWanted && b.low > 0 {
			e.fast = max(0, math.Log2(b.low/e.shutterS))
		}
	case want > iso.Clean && b.high > b.wanted:
		e.shutterS = min(b.high, exposure.Seconds(ev, nNumber, iso.Clean, loss, b.fullBias))
		e.iso = exposure.ISO(ev, nNumber, e.shutterS, loss, b.fullBias)
	}
	e.noise = max(0, math.Log2(e.iso/iso.Clean))
	e.beyond = max(0, math.Log2(e.iso/iso.Limit))
	if l.Purpose == shot.Still && l.ShutterSet {
		if safe := l.still.safeS; safe > 0 && e.shutterS > safe {
			e.blurred = math.Log2(e.shutterS / safe)
		}
	}
	if l.Purpose == shot.Still && e.beyond > 0 {
		// Past the limit of the ISO only a slower shutter makes the picture, and blurs it.
		e.blurred += e.beyond
		e.shutterS *= math.Exp2(e.beyond)
		e.iso, e.beyond = iso.Limit, 0
		e.noise = math.Log2(iso.Limit / iso.Clean)
	}
	if e.noise < 1e-9 {
		e.noise = 0
	}
	return e
}

// marked returns the marked shutter that a pilot sets for an exposure, and the ISO that goes with it.
func (y *analysis) marked(l *legAnalysis, b *bounds, e exposureSetting, ev, nNumber, loss float64) (shutterS, iso float64) {
	c := y.s.Camera
	shutterS = e.shutterS
	if math.Abs(e.shutterS-b.wanted) > 1e-12 {
		slowest := c.SlowestS
		if l.Purpose == shot.Video {
			slowest = min(1/l.FPS, orInf(c.SlowestS))
		}
		if series := shuttersFor(l, c.FastestS, slowest); len(series) > 0 {
			shutterS = exposure.Nearest(series, e.shutterS).Value
		}
	}
	iso = exposure.ISO(ev, nNumber, shutterS, loss, b.fullBias)
	return shutterS, max(iso, l.Mode.ISO.Base)
}

func orInf(x float64) float64 {
	if x <= 0 {
		return math.Inf(1)
	}
	return x
}

// legExposure is a leg's exposure with one filter, over its moments and both takes.
type legExposure struct {
	dark, bright exposureSetting // at the darkest and the brightest moment
	still        exposureSetting // of a still taken on a video leg, at the darkest
}

type exposureKey struct{ nNumber, loss float64 }

// exposuresOf returns the exposures of all legs at an aperture and a loss.
func (y *analysis) exposuresOf(nNumber, loss float64) []legExposure {
	k := exposureKey{nNumber, loss}
	list := y.exposures[k]
	if list == nil {
		for _, l := range y.legs {
			list = append(list, y.exposureOf(l, nNumber, loss))
		}
		y.exposures[k] = list
	}
	return list
}

// exposureOf judges a leg at its darkest and its brightest moment; everything between lies between.
func (y *analysis) exposureOf(l *legAnalysis, nNumber, loss float64) legExposure {
	b := &l.bounds
	x := legExposure{dark: l.expose(b, l.low, nNumber, loss), bright: l.expose(b, l.high, nNumber, loss)}
	if l.StillsToo && l.Purpose == shot.Video {
		photo := *l
		leg := *l.Leg
		leg.Purpose, leg.ShutterSet = shot.Still, false
		leg.Mode = withDefaults(shot.Leg{}, y.s.Camera).Mode // a still is not taken in the film's mode
		photo.Leg = &leg
		photo.blurWanted = false
		sb := y.boundsOf(&photo)
		x.still = photo.expose(&sb, l.low, nNumber, loss)
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
func shuttersFor(l *legAnalysis, fastestS, slowestS float64) []exposure.Step {
	if l.Purpose != shot.Video {
		return exposure.ShuttersOf(fastestS, slowestS, false)
	}
	var fit []exposure.Step
	for _, s := range exposure.ShuttersOf(fastestS, slowestS, true) {
		parts := 1 / (s.Value * l.FPS)
		if !exposure.Extra(s) || math.Abs(parts-math.Round(parts)) < 1e-6 {
			fit = append(fit, s)
		}
	}
	return fit
}
