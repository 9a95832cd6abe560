package exposure

import (
	"math"
	"time"
)

// Settings are the exposure that stays fixed during a flight.
type Settings struct {
	NNumber   float64
	Seconds   float64
	ISOBase   float64 // the lowest sensitivity to use
	ISOClean  float64 // the highest that is still clean
	BiasStops float64 // wanted over-exposure
}

// Window is the range of filter loss in stops that serves a whole flight at fixed settings: with
// less than Low the picture is over-exposed at the brightest moment even at the base ISO, with more
// than High the darkest moment needs more than the clean ISO.
type Window struct{ Low, High float64 }

// WindowOf gives the window for light between two exposure values:
//
//	maxEV − EV_set − bias + log2(ISO_base/100) ≤ loss ≤ minEV − EV_set − bias + log2(ISO_clean/100)
func WindowOf(minEV100, maxEV100 float64, s Settings) Window {
	return Window{
		Low:  Loss(maxEV100, s.NNumber, s.Seconds, s.ISOBase, s.BiasStops),
		High: Loss(minEV100, s.NNumber, s.Seconds, s.ISOClean, s.BiasStops),
	}
}

// Empty tells that no one filter serves the whole flight.
func (w Window) Empty() bool { return w.Low > w.High }

// Holds tells whether a loss serves the whole flight.
func (w Window) Holds(lossStops float64) bool { return w.Low <= lossStops && lossStops <= w.High }

// Headroom gives the stops that the light may fall further before a filter with this loss needs
// more than the clean ISO; negative when it already does.
func (w Window) Headroom(lossStops float64) float64 { return w.High - lossStops }

// LimitEV100 gives the exposure value below which a filter with this loss needs more than the given
// ISO: EV_set + loss + bias − log2(ISO/100).
func LimitEV100(s Settings, lossStops, iso float64) float64 {
	return SettingEV(s.NNumber, s.Seconds) + lossStops + s.BiasStops - Gain(iso)
}

// scanStep is how finely a run-out is looked for. The sun moves at most one degree of altitude in
// four minutes, so light that dips below a limit and returns within a step is not met with.
const scanStep = 4 * time.Minute

// RunOut gives the first moment from start on, within horizon, when the exposure value ev falls below
// a limit, to 0.1 s. ok is false when it does not. A limit not met at start gives start itself. ev
// must be finite and continuous, or a step at which the answer is the moment of the step.
func RunOut(start time.Time, horizon time.Duration, limitEV100 float64, ev func(time.Time) float64) (at time.Time, ok bool) {
	if ev(start) < limitEV100 {
		return start, true
	}
	for lo := time.Duration(0); lo < horizon; {
		hi := min(lo+scanStep, horizon)
		if ev(start.Add(hi)) < limitEV100 {
			return start.Add(crossing(lo, hi, func(d time.Duration) bool { return ev(start.Add(d)) < limitEV100 })), true
		}
		lo = hi
	}
	return time.Time{}, false
}

// crossing halves the interval until it is a tenth of a second long; below holds at hi and not at lo.
func crossing(lo, hi time.Duration, below func(time.Duration) bool) time.Duration {
	for hi-lo > 100*time.Millisecond {
		mid := lo + (hi-lo)/2
		if below(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// DiffractionPx gives the diameter of the diffraction disc (Airy 1835: 2.44 λ N, to the first dark
// ring, λ 550 nm) in pixels of the given pitch in micrometres. From about 2 to 3 pixels on, stopping
// down costs more detail than it gains (common practice, no source).
func DiffractionPx(nNumber, pitchUM float64) float64 {
	if pitchUM <= 0 {
		return math.NaN()
	}
	return 2.44 * 0.550 * nNumber / pitchUM
}
