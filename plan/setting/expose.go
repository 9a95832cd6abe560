package setting

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/once"
	"example.org/skywedge/plan/shot"
)

// StepSlack is half a third of a stop: what a marked setting may miss its limit by.
const StepSlack = 1.0 / 6

// Setting is one exposure and what is wrong with it, in stops.
type Setting struct {
	ShutterS, ISO float64 // exact: the shutter lies between marks where light forced it there
	Fast          float64 // faster than the tolerance, where blur is wanted
	Slow          float64 // slower than it, of a film
	Off           float64 // away from the angle that looks right, of a film
	Noise         float64 // ISO above clean
	Beyond        float64 // darker than the camera can expose for
	Bright        float64 // brighter than it can
	Blurred       float64 // slower than sharp, a still
	Headroom      float64 // stops the light may still fall before ISO leaves clean at the wanted shutter
}

// ExposureSlack is by how much an exposure may miss what a camera can do: a third of a stop, which nobody would
// turn back for (ours).
const ExposureSlack = 1.0 / 3

// SetFor sets shutter and ISO for a light. The wanted shutter comes first. With too much light for it
// the shutter goes faster; with too little it goes as slow as the tolerance allows, then the ISO up to its limit, and
// only then the shutter as slow as it can be.
func (l *Leg) SetFor(b *Bounds, ev, nNumber, loss float64) Setting {
	iso := l.ISORange()
	isoAt := func(seconds float64) float64 { return exposure.ISO(ev, nNumber, seconds, loss, b.BiasStops) }
	secondsAt := func(iso float64) float64 { return exposure.Seconds(ev, nNumber, iso, loss, b.BiasStops) }
	want := isoAt(b.WantedS)
	e := Setting{ShutterS: b.WantedS, ISO: want, Headroom: math.Log2(iso.Clean / want)}
	switch {
	case want < iso.Base:
		e.ISO = iso.Base
		e.ShutterS = secondsAt(iso.Base)
		fastest := b.FastestS
		if l.Purpose == shot.Long { // a long exposure is its length
			fastest = b.WantedS
		}
		if fastest > 0 && e.ShutterS < fastest {
			e.Bright = math.Log2(fastest / e.ShutterS)
			e.ShutterS = fastest
		}
		if b.LowS > 0 {
			e.Fast = l.BlurWish * max(0, math.Log2(b.LowS/e.ShutterS))
		}
	case want > iso.Clean && b.HighS > b.WantedS:
		e.ShutterS = min(b.HighS, secondsAt(iso.Clean))
		e.ISO = isoAt(e.ShutterS)
	}
	if e.ISO > iso.Limit {
		e.ISO = iso.Limit
		e.ShutterS = max(e.ShutterS, secondsAt(iso.Limit))
		if b.SlowestS > 0 && e.ShutterS > b.SlowestS {
			e.Beyond = math.Log2(e.ShutterS / b.SlowestS)
			e.ShutterS = b.SlowestS
		}
		if b.HighS > 0 {
			e.Slow = max(0, math.Log2(e.ShutterS/b.HighS))
		}
	}
	if e.Noise = max(0, math.Log2(e.ISO/iso.Clean)); e.Noise < 1e-9 {
		e.Noise = 0
	}
	switch l.Purpose {
	case shot.Video:
		if b.LookS > 0 {
			e.Off = l.BlurWish * math.Abs(math.Log2(e.ShutterS/b.LookS))
		}
	case shot.Still:
		if safe := l.Still.SafeS; safe > 0 && e.ShutterS > safe {
			e.Blurred = math.Log2(e.ShutterS / safe)
		}
		e.Slow = 0
	}
	return e
}

// Marked returns the marked shutter that a pilot sets for an exposure, and the marked ISO that goes with it. Neither
// lies outside of what the camera has.
func (l *Leg) Marked(c *kit.Camera, e Setting, ev, nNumber, loss float64) (shutterS, iso float64) {
	b := &l.Bounds
	shutterS = e.ShutterS
	if math.Abs(e.ShutterS-b.WantedS) > 1e-12 {
		slowest := orInf(c.SlowestS)
		if l.Purpose == shot.Video {
			slowest = min(1.001/l.FPS, slowest)
		}
		if series := l.Shutters(c.FastestS, slowest); len(series) > 0 {
			shutterS = exposure.Nearest(series, e.ShutterS).Value
		}
	}
	limits := l.ISORange()
	return shutterS, exposure.NearestISO(exposure.ISO(ev, nNumber, shutterS, loss, b.BiasStops), limits.Base, limits.Limit).Value
}

// orInf reads a limit that is not stated as none.
func orInf(x float64) float64 {
	if x <= 0 {
		return math.Inf(1)
	}
	return x
}

// Shutters returns the exposure times that a leg may use: the standard marks, and for video those
// extra ones that are a whole part of its frame (1/48 and 1/96 at 24 a second, 1/120 at 30 or 60).
// A 1/96 at 25 frames a second is on the dial but nobody's choice.
// The slice is the package's own: read it only.
func (l *Leg) Shutters(fastestS, slowestS float64) []exposure.Step {
	if l.Purpose != shot.Video {
		return exposure.ShuttersOf(fastestS, slowestS, false)
	}
	return marks.Get(seriesKey{l.FPS, fastestS, slowestS}, func() []exposure.Step {
		all := exposure.ShuttersOf(fastestS, slowestS, true)
		fit := make([]exposure.Step, 0, len(all))
		for _, s := range all {
			if !exposure.Extra(s) || exposure.FitsFrames(s, l.FPS) {
				fit = append(fit, s)
			}
		}
		return fit
	})
}

type seriesKey struct{ fps, fastestS, slowestS float64 }

// marks are kept for as long as the program runs: a flight asks for the same one a hundred times.
var marks = once.Most[seriesKey, []exposure.Step](64)
