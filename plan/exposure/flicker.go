package exposure

import "math"

// Lamps on the mains pulse at twice its frequency. An exposure of a whole number of pulses collects
// the same light in every frame: n/100 s under 50 Hz, n/120 s under 60 Hz (common practice, no
// source).

// flickerTolerance is how far from a whole number of pulses a time may be: a mark is up to a tenth
// of a stop off its exact value, but 1/50 and 1/60 are what they say.
const flickerTolerance = 0.01

// Steady tells whether an exposure time collects a whole number of pulses of lamps on mains of the
// given frequency (50 or 60 Hz).
func Steady(seconds, mainsHz float64) bool {
	n := seconds * 2 * mainsHz
	return n >= 1-flickerTolerance && math.Abs(n-math.Round(n)) <= flickerTolerance
}

// SteadyShutter returns the settable time nearest to a wanted one, counted in shutter angle, that is
// [Steady] and not longer than a frame; of two as near the shorter. A limit of zero is no limit. ok
// is false when the camera has none: at more than 100 or 120 frames a second lamps always flicker.
func SteadyShutter(fps, wantedS, mainsHz, fastestS, slowestS float64) (s Step, ok bool) {
	best := math.Inf(1)
	for _, c := range withinFrame(ShuttersOf(fastestS, slowestS, true), fps) {
		if !Steady(c.Value, mainsHz) {
			continue
		}
		if d := math.Abs(c.Value - wantedS); d < best-1e-9 {
			s, best, ok = c, d, true
		}
	}
	return s, ok
}
