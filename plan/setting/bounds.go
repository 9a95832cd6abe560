package setting

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// longDefaultS is the exposure of a leg for a long exposure that names none (ours).
const longDefaultS = 1.0

// Bounds are the shutters of one leg, in seconds.
type Bounds struct {
	WantedS   float64 // a marked one
	FastestS  float64 // of the camera
	LowS      float64 // faster than this costs, where blur is wanted
	HighS     float64 // slower than this only light forces
	SlowestS  float64 // slower than this cannot be
	LookS     float64 // that of the shutter angle that looks right, of a film
	BiasStops float64 // the over-exposure that is wanted, stops
}

// BoundsFor returns the shutters of a leg. A video shutter may give as far as the tolerance of the
// shutter angle goes; one that the card names may not, unless light forces it. lampsHz is the mains' frequency of
// lamps that must not flicker, 0 without any.
func (l *Leg) BoundsFor(c *kit.Camera, tol [2]float64, lampsHz float64) Bounds {
	if tol[0] <= 0 || tol[1] <= tol[0] {
		tol = defaultToleranceDeg
	}
	b := Bounds{FastestS: c.FastestS, BiasStops: Compensation(l.Leg)}
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
		b.WantedS = exposure.AngleShutter(l.FPS, angle, c.FastestS, slowest).Value
		b.SlowestS, b.LookS = slowest, b.WantedS
		if l.ShutterSet {
			b.WantedS = l.ShutterS
			b.LowS, b.HighS, b.SlowestS, b.LookS = b.WantedS, b.WantedS, b.WantedS, b.WantedS
			break
		}
		b.LowS = min(b.WantedS, exposure.AngleSeconds(l.FPS, tol[0]))
		b.HighS = max(b.WantedS, min(slowest, exposure.AngleSeconds(l.FPS, tol[1])))
		b.steadied(l.FPS, lampsHz, c)
	case shot.Long:
		b.WantedS = longDefaultS
		if l.ShutterS > 0 {
			b.WantedS = l.ShutterS
		}
		b.LowS, b.HighS = b.WantedS, b.WantedS
		b.SlowestS = max(b.WantedS, c.SlowestS)
	default:
		b.WantedS = l.safeShutter(c.FastestS, c.SlowestS)
		if l.ShutterSet && l.ShutterS > 0 {
			b.WantedS = l.ShutterS
		}
		b.HighS = b.WantedS
		b.SlowestS = max(b.WantedS, c.SlowestS)
		if l.ShutterSet {
			b.SlowestS = b.WantedS
		}
	}
	if b.WantedS <= 0 {
		b.WantedS = 1 / max(2*l.FPS, 1)
		b.LowS, b.HighS = b.WantedS, b.WantedS
	}
	return b
}

// defaultToleranceDeg is the tolerance of a bag that states none.
var defaultToleranceDeg = [2]float64{90, 270}

// safeShutter returns the slowest marked exposure at which a still stays sharp.
func (l *Leg) safeShutter(fastestS, slowestS float64) float64 {
	series := exposure.ShuttersOf(fastestS, slowestS, false)
	if len(series) == 0 {
		return fastestS
	}
	if s, ok := exposure.AtMost(series, l.Still.SafeS); ok {
		return s.Value
	}
	return series[0].Value
}

// steadied keeps a film leg under lamps to a shutter that does not flicker, where the mains are known and
// the card leaves the shutter open.
func (b *Bounds) steadied(fps, hz float64, c *kit.Camera) {
	if hz == 0 {
		return
	}
	s, ok := exposure.SteadyShutter(fps, b.WantedS, hz, c.FastestS, c.SlowestS)
	if !ok || math.Abs(math.Log2(s.Value/b.WantedS)) > 1 {
		return
	}
	b.WantedS = s.Value
	b.LowS, b.HighS = min(b.LowS, s.Value), s.Value
}
