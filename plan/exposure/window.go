package exposure

import (
	"math"
	"time"
)

// Settings are the exposure that stays fixed during a flight.
type Settings struct {
	NNumber           float64
	Seconds           float64
	CompensationStops float64 // positive for a brighter picture
}

// LimitEV100 returns the exposure value below which a filter with this loss needs more than the given
// ISO: log2(N²/t) + loss + compensation − log2(ISO/100).
func LimitEV100(s Settings, lossStops, iso float64) float64 {
	return settingEV(s.NNumber, s.Seconds) + lossStops + s.CompensationStops - gain(iso)
}

// scanStep is how finely a run-out is looked for. The sun moves at most one degree of altitude in
// four minutes, so light that dips below a limit and returns within a step is not met with.
const scanStep = 4 * time.Minute

// RunOut returns the first moment from start on, within horizon, when the exposure value ev falls below
// a limit, to 0.1 s. ok is false when it does not. A limit not met at start returns start itself. ev
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

// DiffractionPx returns the diameter of the diffraction disc (Airy 1835: 2.44 λ N, to the first dark
// ring, λ 550 nm) in pixels of the given pitch in micrometres. From about 2 to 3 pixels on, stopping
// down costs more detail than it gains (common practice, no source).
func DiffractionPx(nNumber, pitchUM float64) float64 {
	if pitchUM <= 0 {
		return math.NaN()
	}
	return 2.44 * 0.550 * nNumber / pitchUM
}
