package exposure

// Shutter angles are counted in degrees of a turning disc shutter: 360° exposes for the whole of a
// frame. 180° is the look that viewers are used to (soft edges along the motion); a study of judder
// found no significant effect of the angle on it (Chapiro, Atkins & Daly 2019).

// LookDeg is the shutter angle that video aims at unless the card says otherwise.
const LookDeg = 180.0

// AngleDeg returns the shutter angle of an exposure time: 360·fps·t. Above 360 the time does not fit
// into a frame.
func AngleDeg(fps, seconds float64) float64 { return 360 * fps * seconds }

// AngleSeconds returns the exposure time of a shutter angle.
func AngleSeconds(fps, angleDeg float64) float64 { return angleDeg / (360 * fps) }

// AngleShutter returns the settable exposure time for a shutter angle, between a camera's fastest and
// slowest (zero: no limit) and never longer than a frame; the zero Step when there is none. It chooses
// from the third-stop marks that every camera has (1/50 for 180° at 24 frames a second, 1/125 at 60),
// not from the extras of some video modes: those differ by less than a tenth of a stop.
func AngleShutter(fps, angleDeg, fastestS, slowestS float64) Step {
	return Nearest(withinFrame(ShuttersOf(fastestS, slowestS, false), fps), AngleSeconds(fps, angleDeg))
}
